package hearing

import (
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/camera/sight"
	"drillbay/drills/runner"
)

func TestADownswingIsWhereAStrikeMayBe(t *testing.T) {
	ordinary, catching := runner.Drill{Kind: runner.Ordinary, Ball: true}, runner.Drill{Kind: runner.Catch}
	turning := runner.Drill{Kind: runner.CatchTurnStrike, Ball: true}
	go1 := func(d runner.Drill, phases ...sight.Glance) *Hearing {
		h := &Hearing{}
		for _, g := range phases {
			h.Follow(g, d)
		}
		return h
	}
	swing := []sight.Glance{{At: 1, Phase: sight.Address}, {At: 5, Phase: sight.Forward, Since: 5}, {At: 5.45, Phase: sight.Back, Since: 5}, {At: 7, Phase: sight.Hold, Since: 6.8}}
	h := go1(ordinary, swing...)
	for at, want := range map[float64]bool{2: false, 5.2: false, 5.5: true, 6: true, 7.3: false, 20: false} {
		require.Equal(t, want, h.downswing(at), "ordinary, %v s", at)
	}
	require.True(t, go1(ordinary, swing[:3]...).downswing(6.5), "it goes on")
	require.False(t, go1(ordinary, swing[:3]...).downswing(8), "no swing is that long")
	require.False(t, go1(catching, swing...).downswing(6), "no ball is struck")
	h = go1(turning, append(swing, sight.Glance{At: 8.5, Phase: sight.Settling, Since: 8.4})...)
	for at, want := range map[float64]bool{8: false, 8.6: true, 9.2: true, 10.8: true, 12: false} {
		require.Equal(t, want, h.downswing(at), "turn and strike, %v s", at)
	}
	require.False(t, (&Hearing{}).downswing(0))
}

func TestTwoTapsAskForTheVerdictOrTheNextSet(t *testing.T) {
	require.Equal(t, runner.Say, tapped(&runner.Snapshot{}))
	require.Equal(t, runner.NewSet, tapped(&runner.Snapshot{SetDone: true}))
}
