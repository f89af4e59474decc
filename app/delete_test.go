package app

import (
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/drills/book"
	"drillbay/drills/runner"
)

func TestAPlayerIsDeletedByNameOnly(t *testing.T) {
	a := newTrial()
	a.players = []book.PlayerLine{{Player: runner.Player{ID: "m", Name: "Marta  Q"}}, {Player: runner.Player{ID: "b", Name: "Ben"}}}
	a.key(Progress)
	for range 80 { // as a key that is held repeats
		require.Equal(t, "delete", a.key(EraseOn).Screen)
	}
	for _, d := range []Do{Go, PageOn, EraseOn, Next, Number} {
		require.Equal(t, "delete", a.key(d).Screen, d)
	}
	require.True(t, a.step().Says("That is not the name yet. Nothing is deleted."))
	require.Empty(t, a.jobs)
	require.Equal(t, "progress", a.key(Back).Screen)

	remove := func() {
		a.key(EraseOn)
		a.typed("marta q")
		require.Empty(t, a.jobs, "letters alone delete nothing")
		require.Equal(t, "progress", a.key(Go).Screen)
	}
	a.snap.Session, a.snap.Player.ID = "s", "m"
	remove()
	require.True(t, a.step().Says("Marta  Q practises now."))
	require.Empty(t, a.jobs)
	a.snap.Session = ""
	remove()
	a.worked()
	require.Equal(t, []Job{{Do: EraseOn, Player: "m"}}, a.jobs)
}

func TestADeletedPlayerIsBroughtBackByKey(t *testing.T) {
	a := newTrial()
	a.key(Progress)
	a.key(TakeBack)
	require.Empty(t, a.jobs, "nobody was deleted")
	a.deleted = []book.PlayerLine{{Player: runner.Player{ID: "b", Name: "Ben"}}, {Player: runner.Player{ID: "m", Name: "Marta"}}}
	require.True(t, a.step().Says("bring Marta back"), "with nobody else there")
	a.players = []book.PlayerLine{{Player: runner.Player{ID: "c", Name: "Cleo"}}}
	require.True(t, a.step().Says("bring Marta back"))
	a.typed("z")
	a.worked()
	require.Equal(t, []Job{{Do: TakeBack, Player: "m"}}, a.jobs, "the last one first")
}

// A value's − and + change it whatever has the focus.
func TestAClubIsMadeShorterByThePointer(t *testing.T) {
	a := newTrial()
	a.key(NewPlayer)
	a.typed("Ada")
	_, ok := a.click(Less)
	require.True(t, ok)
	require.True(t, a.step().Says("93 cm"))
}

// Enter goes from the name to the hand, and begins there; without a name it says what is
// missing. The head says where it goes all the while.
func TestEnterInTheNewPlayersForm(t *testing.T) {
	a := newTrial()
	a.key(NewPlayer)
	require.True(t, a.step().Says("next"))
	require.False(t, a.step().Says("begin"))
	require.True(t, a.key(Go).Says("Type a name first, so that the reps are the right player's."))
	a.typed("Ada")
	require.False(t, a.step().Says("begin"))
	require.True(t, a.key(Go).Says("begin"), "on the hand")
	require.NotEqual(t, "new player", a.key(Go).Screen)
}

// A player who is gone since the list was drawn is not asked for.
func TestAKeyRightAfterTheLastOfTheListIsGone(t *testing.T) {
	for _, d := range []Do{Report, Export, Pencil, Club, EraseOn, Agree, Go, Up, Down} {
		a := marta()
		a.players = append(a.players, book.PlayerLine{Player: runner.Player{ID: "b", Name: "Ben"}})
		a.key(Progress)
		a.key(Down)
		a.players = a.players[:1]
		require.NotPanics(t, func() { a.key(d) }, "%v", d)
	}
}
