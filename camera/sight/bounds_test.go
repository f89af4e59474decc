package sight

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat"

	"drillbay/camera/lens"
)

// Total least squares through (0, 0), (1, 2.1), (2, 3.9), (3, 6.2), (4, 7.8):
// 63.130071° (computed with numpy from the larger eigenvector of the scatter).
// Steep lines and level ones are fitted alike.
func TestAStraightLineIsFittedByTotalLeastSquares(t *testing.T) {
	points := [][2]float64{{0, 0}, {1, 2.1}, {2, 3.9}, {3, 6.2}, {4, 7.8}}
	for name, c := range map[string]struct {
		turned func(x, y float64) (float64, float64)
		want   float64
	}{
		"as it is":   {func(x, y float64) (float64, float64) { return x, y }, 63.130071},
		"on its end": {func(x, y float64) (float64, float64) { return y, x }, 90 - 63.130071},
		"falling":    {func(x, y float64) (float64, float64) { return -y, x }, -(90 - 63.130071)},
	} {
		var r run
		for _, p := range points {
			x, y := c.turned(p[0], p[1])
			r.add(x, y, 0)
		}
		_, _, dx, dy, rms := r.line()
		assert.InDelta(t, c.want, math.Atan(dy/dx)*180/math.Pi, 1e-6, name)
		// What is left is the smaller eigenvalue of the scatter: the distances from
		// the line itself.
		var sum float64
		mx, my, _, _, _ := r.line()
		for _, p := range points {
			x, y := c.turned(p[0], p[1])
			sum += math.Pow((y-my)*dx-(x-mx)*dy, 2)
		}
		assert.InDelta(t, math.Sqrt(sum/5), rms, 1e-9, name)
	}
}

// No line can be placed more surely than the Cramér–Rao bound of its picture: for
// a straight Gaussian ridge of contrast A and width σ in noise of σn over N rows
// (σn/A)·√(2σ/(√π·N)) px, 0.0065 px for 100, 1.5 px, 5 and 100 rows (own derivation,
// within 5 % of a Monte Carlo), and √12/N of that in slope. The lean of a hung
// club comes near it, and is no more sure than it says.
func TestAThinLineIsSeenNearTheCramerRaoBound(t *testing.T) {
	const contrast, width, noise, rows = 100.0, 1.5, 5.0, 100.0
	bound := noise / contrast * math.Sqrt(2*width/(math.Sqrt(math.Pi)*0.9*rows)) // of the 90 rows that are looked at
	require.InDelta(t, 0.0065, bound*math.Sqrt(0.9), 1e-4)
	leanBound := bound * math.Sqrt(12) / (0.9 * rows) * 180 / math.Pi
	var off, turn, said []float64
	for seed := range 60 {
		dice := rand.New(rand.NewPCG(uint64(seed), 3))
		g := newGray(region{0, 0, 64, 128}, 1)
		at, lean := 32+dice.Float64(), 2*(dice.Float64()-0.5)
		slope := math.Tan(lean * math.Pi / 180)
		for y := range g.H {
			for x := range g.W {
				d := float64(x) + 0.5 - at - slope*(float64(y)+0.5-64)
				g.Pix[y*g.W+x] = float32(60 + contrast*math.Exp(-d*d/2/width/width) + noise*dice.NormFloat64())
			}
		}
		gotLean, side, sd, ok := leanOf(g, Line{From: lens.Point{U: 32.5, V: 14}, Angle: math.Pi / 2, Length: rows}, 5)
		require.True(t, ok)
		// Looking down along the line its right is to the left.
		off = append(off, -side-(at-32.5))
		turn = append(turn, gotLean-lean)
		said = append(said, sd)
	}
	rms := func(x []float64) float64 { return math.Hypot(stat.Mean(x, nil), stat.StdDev(x, nil)) }
	t.Logf("place %.4f px, bound %.4f; lean %.4f°, bound %.4f°, said %.4f°", rms(off), bound, rms(turn), leanBound, stat.Mean(said, nil))
	assert.Greater(t, rms(off), 0.8*bound, "better than can be")
	assert.Less(t, rms(off), 5*bound)
	assert.Greater(t, rms(turn), 0.8*leanBound, "better than can be")
	assert.Less(t, rms(turn), 5*leanBound)
	assert.Less(t, rms(turn), stat.Mean(said, nil), "as sure as it says")
}
