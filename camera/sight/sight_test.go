package sight

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drillbay/camera/frame"
	"drillbay/camera/lens"
)

// bar draws a straight bar of 6 px, blurred with sigma 1, 60 to 200 levels,
// noise 5, in a picture of 640 × 480: the synthetic bar of the goals for
// lines. It passes p at the angle.
func bar(p lens.Point, angle float64, seed uint64) *gray {
	g := newGray(region{0, 0, 640, 480}, 1)
	r := rand.New(rand.NewPCG(seed, 1))
	s, c := math.Sincos(angle)
	edge := func(x float64) float64 { return 0.5 * math.Erfc(-x/math.Sqrt2) }
	for y := range g.H {
		for x := range g.W {
			d := -(float64(x)+0.5-p.U)*s + (float64(y)+0.5-p.V)*c
			g.Pix[y*g.W+x] = float32(60 + 140*(edge(d+3)-edge(d-3)) + 5*r.NormFloat64())
		}
	}
	return g
}

func TestLineIsFoundWhereItIs(t *testing.T) {
	for i, deg := range []float64{48, 55, 62.3, 70} {
		p := lens.Point{U: 300 + 7.3*float64(i), V: 240}
		angle := deg * math.Pi / 180
		e := ridge(bar(p, angle, uint64(i)), 6)
		found := longest(halve(e), 220, 40*math.Pi/180, 80*math.Pi/180, 3)
		require.NotEmpty(t, found)
		l := refine(e, found[0], 6)
		assert.InDelta(t, deg, l.Angle*180/math.Pi, 0.35, "angle, degrees")
		assert.InDelta(t, 0, l.across(p), 0.8, "offset, px")
	}
}

func TestEdgeIsNotThin(t *testing.T) {
	g := newGray(region{0, 0, 64, 64}, 1)
	for i := range g.Pix {
		if i%64 >= 32 {
			g.Pix[i] = 100
		}
	}
	assert.Zero(t, thinness(g, 32, 32, 0, 1, 4), "an edge")
	for y := range 64 {
		g.Pix[y*64+10] = 100
	}
	assert.Greater(t, thinness(g, 10.5, 32, 0, 1, 4), 50.0, "a line")
}

func TestMirroredPictureIsReadFromTheOtherSide(t *testing.T) {
	p := frame.New(64, 32, frame.Sub420)
	for i := range p.Y {
		p.Y[i] = byte(i % 64)
	}
	for _, k := range []int{1, 2, 4} {
		a, b := newGray(region{8, 0, 32, 32}, k), newGray(region{24, 0, 32, 32}, k)
		a.load(p, true)
		b.load(p, false)
		for x := range a.W {
			assert.InDelta(t, b.Pix[b.W-1-x], a.Pix[x], 1e-4, "column %d at 1/%d", x, k)
		}
	}
}
