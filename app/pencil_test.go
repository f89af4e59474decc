package app

import (
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/drills/runner"
)

func TestTheNextRepLeavesThePencilToTheCoach(t *testing.T) {
	a := martaPractises()
	a.tell(done("a", 20))
	a.step()
	a.key(Pencil)
	a.key(Go)
	a.typed("hands ")
	for _, id := range []string{"b", "c", "d"} {
		a.next(id)
		require.Equal(t, "pencil", a.step().Screen)
	}
	require.Len(t, a.snap.All, 4, "reps go on being counted")
	a.snap.Lookback.On = false // and the next address ends their lookback
	a.snap.Player = runner.Player{ID: "x", Name: "Xenia"}
	v := a.typed("low")
	require.Equal(t, "pencil", v.Screen, "letters stay letters")
	require.True(t, v.Says("Marta"), "whose rep it is")
	require.NotNil(t, v.Pictures[0], "on its picture")
	a.key(Go)
	a.key(Back)
	require.Equal(t, runner.Command{Do: runner.Mark, ID: "a", Note: "hands low"}, a.did())
	require.Equal(t, "practice", a.step().Screen)
}

func TestLettersLeadNowhereWhileThePencilDraws(t *testing.T) {
	a := martaPractises()
	a.tell(done("a", 20))
	a.step()
	a.key(Pencil)
	orders := len(a.orders)
	for r := rune('a'); r <= 'z'; r++ {
		if r == 'i' { // the pencil itself
			continue
		}
		require.Equal(t, "pencil", a.typed(string(r)).Screen, string(r))
	}
	for _, d := range []Do{Hold, PageOn, PageBack, Number, NextPlayer} {
		require.Equal(t, "pencil", a.key(d).Screen, d.String())
	}
	require.Len(t, a.orders, orders)
	require.Empty(t, a.turns)
}

func TestAHalfWrittenRemarkIsStoredWhenTheWindowCloses(t *testing.T) {
	a := martaPractises()
	a.tell(done("a", 20))
	a.step()
	a.key(Pencil)
	a.key(Go)
	a.typed("elbow")
	require.True(t, a.step(Action{Kind: Close}).Quit)
	require.Equal(t, runner.Command{Do: runner.Mark, ID: "a", Note: "elbow"}, a.did())
}
