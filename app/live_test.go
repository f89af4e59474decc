package app

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// An idle form costs next to nothing: the small picture slows down while
// nobody touches anything.
func TestTheSmallPictureSlowsDownWhenNobodyIsThere(t *testing.T) {
	a := newTrial()
	require.InDelta(t, liveSmall, a.step().Again, 1e-9)
	a.now += idleAfter + 1
	v := a.step(Action{Kind: Size, X: 1280, Y: 720, N: 1469})
	require.InDelta(t, liveIdle, v.Again, 1e-9)
	require.True(t, v.Calm, "what the drawn or real player does there wakes nothing")
	v = a.step(Action{Kind: Move, X: 5, Y: 5})
	require.InDelta(t, liveSmall, v.Again, 1e-9)
	require.False(t, v.Calm)
}
