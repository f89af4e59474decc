package stage

import (
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/drills/runner"
)

func TestTheDrawnPlayerRestsAfterASet(t *testing.T) {
	rests := false
	s := Practice(1, 320, 180, 30)
	r, err := newResting(s, func() bool { return rests })
	require.NoError(t, err)
	require.Len(t, r.stills, len(s.Reps), "before each rep")
	next := 0
	draw := func() int {
		i := r.at(next)
		require.Equal(t, i, r.at(next), "another camera sees the same")
		next++
		return i
	}
	for i := range r.stills[3][0] + 5 {
		require.Equal(t, i, draw(), "who does not rest goes on")
	}
	rests = true
	for range 900 {
		i := draw()
		require.GreaterOrEqual(t, i, r.stills[3][0])
		require.LessOrEqual(t, i, r.stills[3][1])
	}
	rests = false
	last := draw()
	for range 100 {
		require.Equal(t, last+1, draw())
		last++
	}

	var w Rest
	require.False(t, w.Wanted(&runner.Snapshot{Set: 1}, 1))
	done := &runner.Snapshot{Set: 1, SetDone: true}
	require.True(t, w.Wanted(done, 2))
	require.True(t, w.Wanted(done, 2+restFor-0.1))
	require.False(t, w.Wanted(done, 2+restFor))
	require.False(t, w.Wanted(&runner.Snapshot{Set: 2}, 13))
	full := &runner.Snapshot{Set: 2, Drill: runner.Drill{Reps: 10}, Reps: make([]runner.Done, 8), Waiting: 1}
	require.False(t, w.Wanted(full, 50))
	full.Waiting = 2
	require.True(t, w.Wanted(full, 55), "the last ones are being read")
	require.True(t, w.Wanted(&runner.Snapshot{Set: 2, SetDone: true}, 60))
	require.True(t, w.Wanted(&runner.Snapshot{Set: 2, SetDone: true}, 60+restFor-0.1), "and then it can be looked at")
}
