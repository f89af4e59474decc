package rep

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// Published check: v = exp(−5t²), t = −1 + 0.01 i, 200 points at 100 Hz
// (Balasubramanian et al., J NeuroEng Rehab 2015, 12:112).
func TestSmoothnessOfTheBellAsPublished(t *testing.T) {
	v := make([]float64, 200)
	for i := range v {
		x := -1 + 0.01*float64(i)
		v[i] = math.Exp(-5 * x * x)
	}
	assert.InDelta(t, -1.41403, SPARC(v, 100), 1e-5)
}

// minimumJerk is the speed of a minimum-jerk movement over d in time T
// (Flash & Hogan 1985).
func minimumJerk(t, d, long float64) float64 {
	x := t / long
	if x < 0 || x > 1 {
		return 0
	}
	return d / long * 30 * x * x * (1 - x) * (1 - x)
}

// Sums of minimum-jerk movements: values computed with numpy and scipy by the
// formulas of the paper.
func TestSmoothnessOfMinimumJerkMovements(t *testing.T) {
	cases := []struct {
		name    string
		d, long float64
		onsets  []float64
		fs      float64
		n       int
		sparc   float64
	}{
		{"one, 30", 1, .5, []float64{0}, 30, 16, -1.400495},
		{"one, 60", 1, .5, []float64{0}, 60, 31, -1.400413},
		{"one, 100", 1, .5, []float64{0}, 100, 51, -1.405830},
		{"long, 30", 1, 1, []float64{0}, 30, 31, -1.400413},
		{"long, 60", 1, 1, []float64{0}, 60, 61, -1.400408},
		{"long, 100", 1, 1, []float64{0}, 100, 101, -1.405829},
		{"two overlapping", .5, .5, []float64{0, .25}, 60, 46, -1.629366},
		{"two touching, 30", .5, .5, []float64{0, .5}, 30, 31, -2.292602},
		{"two touching, 60", .5, .5, []float64{0, .5}, 60, 61, -2.292511},
		{"two touching, 100", .5, .5, []float64{0, .5}, 100, 101, -2.244546},
		{"two apart", .5, .5, []float64{0, .75}, 60, 76, -3.158311},
		{"three", 1. / 3, .5, []float64{0, .375, .75}, 60, 76, -2.284498},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			v := make([]float64, c.n)
			for i := range v {
				for _, o := range c.onsets {
					v[i] += minimumJerk(float64(i)/c.fs-o, c.d, c.long)
				}
			}
			assert.InDelta(t, c.sparc, SPARC(v, c.fs), 2e-6)
			for i := range v {
				v[i] *= 7
			}
			assert.InDelta(t, c.sparc, SPARC(v, c.fs), 2e-6, "unchanged by scale")
		})
	}
	assert.True(t, math.IsNaN(SPARC(make([]float64, 30), 30)))
}
