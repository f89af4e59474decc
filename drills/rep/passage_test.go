package rep

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"drillbay/drills"
)

// A club whose end was not seen may have stopped at once: it is not said to be
// placed, but for a pause on the way or for its length. Spreads and limits were
// measured on drawn and rendered reps.
func TestWhatIsNotSeenToEndIsNotCalledPlaced(t *testing.T) {
	usual := passage{long: 0.6, last: 0.28} // the last share of a movement of least jerk
	for _, c := range []struct {
		name    string
		p       passage
		score   float64
		endSeen bool
		want    drills.Manner
	}{
		{"like a placement", usual, 2.2, true, drills.Placed},
		{"like one, its end not seen", usual, 2.2, false, drills.Unsure},
		{"like one, but for the last part of its way", passage{long: 0.6, last: 0.15}, 2.2, true, drills.Unsure},
		{"like a swing", usual, -2.2, true, drills.Swung},
		{"like a swing, its end not seen", usual, -2.2, false, drills.Swung},
		{"between", usual, 0.5, true, drills.Unsure},
		{"long, between", passage{long: 1.5}, 0.5, false, drills.Placed},
		{"long, like a swing", passage{long: 1.5}, -2.2, true, drills.Unsure},
		{"with a pause", passage{long: 0.6, dwell: 0.2}, -2.2, false, drills.Placed},
		{"not told", usual, math.NaN(), true, drills.Unsure},
	} {
		assert.Equal(t, c.want, c.p.manner(c.score, c.endSeen), c.name)
	}
}

// Each of the three features counts in its own spread: one spread nearer to a
// placement is one more.
func TestTheScoreIsASumOfSpreads(t *testing.T) {
	p := passage{last: 0.215, peak: 0.58}
	assert.InDelta(t, 0, p.score(0.495), 1e-9)
	assert.InDelta(t, 1, p.score(0.545), 1e-9)
	p.last += 0.035
	assert.InDelta(t, 1, p.score(0.495), 1e-9)
	p.peak -= 0.21
	assert.InDelta(t, 2, p.score(0.495), 1e-9)
	assert.True(t, math.IsNaN(p.score(math.NaN())))
}

// A swing's way through level is known from looks on both sides of it, on a plane
// that a swing may have.
func TestLooksOnBothSidesOfLevelAreNeeded(t *testing.T) {
	for _, c := range []struct {
		near, before, after int
		flat                float64
		want                bool
	}{{2, 2, 2, 0.6, true}, {1, 1, 2, 0.6, true}, {0, 3, 3, 0.6, false}, {2, 1, 1, 0.6, false}, {2, 4, 0, 0.6, false}, {2, 0, 4, 0.6, false}, {3, 3, 3, 1.1, false}} {
		assert.Equal(t, c.want, enough(c.near, c.before, c.after, c.flat), "%+v", c)
	}
}
