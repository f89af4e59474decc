package sight

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

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

func TestFollowerKeepsToTheCheapWay(t *testing.T) {
	f := follower{nu: 5, nv: 3}
	sum := make([]float64, 15)
	cost := make([]float64, 15)
	for i := range cost {
		cost[i] = 1
	}
	cost[1*5+2] = 0
	for range 4 {
		sum, _ = f.advance(sum, cost, reach{1, 1, 1}, 0.1, 0.1)
	}
	assert.Equal(t, 1*5+2, least(sum))
	assert.InDelta(t, 0, sum[7], 1e-12)
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

func TestLivePassAllocatesNothing(t *testing.T) {
	v, err := lens.NewView(lens.Camera{Width: 640, Height: 360, Focal: 450, Target: lens.Point{U: 320, V: 180}})
	require.NoError(t, err)
	w := NewWatcher(Setting{View: v, Distance: 3, Reach: 0.85})
	p := frame.New(640, 360, frame.Sub420)
	n := 0
	step := func() {
		p.At = time.Duration(n) * time.Second / 60
		for i := n % 7; i < len(p.Y); i += 7 {
			p.Y[i] += 31
		}
		n++
		w.Step(p)
	}
	for range 100 {
		step()
	}
	assert.Zero(t, testing.AllocsPerRun(200, step))
}

func TestStillnessIsAddressAndMotionIsNot(t *testing.T) {
	v, err := lens.NewView(lens.Camera{Width: 640, Height: 360, Focal: 450, Target: lens.Point{U: 320, V: 180}})
	require.NoError(t, err)
	w := NewWatcher(Setting{View: v, Distance: 3, Reach: 0.85})
	p := frame.New(640, 360, frame.Sub420)
	var last Glance
	for i := range 60 {
		p.At = time.Duration(i) * time.Second / 30
		last = w.Step(p)
	}
	assert.Equal(t, Address, last.Phase)
	for i := 60; i < 70; i++ {
		p.At = time.Duration(i) * time.Second / 30
		for y := 120; y < 240; y++ {
			for x := 250; x < 400; x++ {
				p.Y[y*p.YStride+x] = byte(x*i + y)
			}
		}
		last = w.Step(p)
	}
	assert.Equal(t, Forward, last.Phase)
	assert.Greater(t, last.Motion, 0.1)
}
