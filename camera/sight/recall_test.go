package sight

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// scene is a picture of 100 places: grey, with a club over some of them.
func scene(club ...int) []float32 {
	p := make([]float32, 100)
	for i := range p {
		p[i] = 100
	}
	for _, i := range club {
		p[i] = 200
	}
	return p
}

func upTo(n int) (out []int) {
	for i := range n {
		out = append(out, i)
	}
	return out
}

func TestRecallKnowsAddressAgain(t *testing.T) {
	var r recall
	assert.True(t, math.IsNaN(r.like(scene())), "nothing was learnt")
	r.learn(scene(upTo(50)...), scene(), 1, 1, 10)
	require.True(t, r.fresh(12))
	assert.Equal(t, 1.0, r.like(scene(upTo(50)...)))
	assert.Equal(t, 0.0, r.like(scene()))
	assert.Equal(t, 0.0, r.like(scene(60, 61, 62)), "a club elsewhere is none at address")
	assert.InDelta(t, 0.6, r.like(scene(upTo(30)...)), 1e-9, "a part of it in part")

	// What is seen again is confirmed, not learnt anew.
	r.learn(scene(upTo(45)...), scene(), 1, 1, 25)
	assert.Len(t, r.where, 50)
	assert.True(t, r.fresh(40))
	assert.False(t, r.fresh(25+stale))

	// Too small a difference is no lesson.
	var s recall
	s.learn(scene(upTo(10)...), scene(), 1, 1, 0)
	assert.False(t, s.ok)
}

// Somebody walked by behind a part of the first address: what agrees with the
// next one stays.
func TestRecallForgetsWhoWalkedBy(t *testing.T) {
	var r recall
	r.learn(scene(upTo(80)...), scene(), 1, 1, 0)
	r.learn(scene(upTo(48)...), scene(), 1, 1, 5)
	assert.Len(t, r.where, 48)
	assert.Equal(t, 1.0, r.like(scene(upTo(48)...)))
}

func TestRecallDoubtsAfterCallsThatWereNoRep(t *testing.T) {
	var r recall
	r.learn(scene(upTo(50)...), scene(), 1, 1, 0)
	for range mostVoids - 1 {
		r.doubt()
	}
	require.True(t, r.fresh(1))
	r.doubt()
	assert.False(t, r.fresh(1))
}

// A reading that comes back as no rep is about the stillness that was told:
// the next one is not held back by it.
func TestAVoidReadingForgetsOnlyWhatWasTold(t *testing.T) {
	w := NewWatcher(Setting{})
	w.caught, w.peak = true, 500
	w.take(lesson{math.NaN(), math.NaN()}, 1)
	assert.False(t, w.caught)
	assert.Zero(t, w.peak)

	w.caught, w.peak = false, 500
	w.take(lesson{math.NaN(), math.NaN()}, 2)
	assert.Equal(t, 500.0, w.peak, "a new stillness can still be a catch")
}
