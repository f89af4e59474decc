package lens

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat"
)

// stick is 1 m of ground from 2.5 m to 3.5 m ahead of a straight camera of
// 800 px, 0.8 m up and 0.1 m to the left of it: it is seen 800·0.8/2.5 = 256 px
// and 800·0.8/3.5 = 182.857 px under the horizon, 32 and 22.857 px to the right.
func stick() (Camera, Ground) {
	c := Camera{Width: 960, Height: 540, Focal: 800, Target: Point{480, 270}}
	return c, Ground{1, Stretch{Point{512, 526}, Point{480 + 160/7.0, 270 + 1280/7.0}}}
}

func TestAKnownLengthTellsFocalLengthAndDistance(t *testing.T) {
	c, g := stick()
	for range 2 {
		f, sigma, err := g.Focal(Camera{Width: 960, Height: 540, Target: c.Target}, 0.8, GroundSigmas{})
		require.NoError(t, err)
		assert.InDelta(t, 800, f, 1e-6)
		assert.Zero(t, sigma)
		// What is seen 640/3 px under the horizon is 3 m ahead, whatever the lens.
		for _, focal := range []float64{500, 800, 1300} {
			c.Focal = focal
			d, _, err := g.Distance(c, Point{300, 270 + 640/3.0}, GroundSigmas{})
			require.NoError(t, err)
			assert.InDelta(t, 3, d, 1e-9)
		}
		g.From, g.To = g.To, g.From // either way round
	}
}

// A camera tilted 6° down, turned 2° left and rolled 3° clockwise, 1.1 m up:
// its picture was computed by turning its axes one after the other, outside
// this package.
func TestAKnownLengthBeforeATurnedCamera(t *testing.T) {
	c := Camera{Width: 1280, Height: 720, Focal: 900, Target: Point{666.607844, 263.881915}, Roll: 3}
	g := Ground{1.2, Stretch{Point{794.426260, 657.517521}, Point{753.029916, 530.031395}}}
	ball := Point{811.350369, 574.686857}
	for _, left := range []bool{false, true} {
		if left { // the same bay in the mirror
			c.Left, c.Roll = true, -3
			for _, p := range []*Point{&c.Target, &g.From, &g.To, &ball} {
				p.U = 1280 - p.U
			}
		}
		f, _, err := g.Focal(c, 1.1, GroundSigmas{})
		require.NoError(t, err)
		assert.InDelta(t, 900, f, 1e-3)
		d, _, err := g.Distance(c, ball, GroundSigmas{})
		require.NoError(t, err)
		assert.InDelta(t, 3.05, d, 1e-5)
	}
}

// The uncertainty is that of many draws, whatever it comes from.
func TestAKnownLengthIsAsSureAsItSays(t *testing.T) {
	straight, ahead := stick()
	turned := Camera{Width: 1280, Height: 720, Focal: 900, Target: Point{666.607844, 263.881915}, Roll: 3}
	aside := Ground{1.2, Stretch{Point{794.426260, 657.517521}, Point{753.029916, 530.031395}}}
	for _, c := range []struct {
		name   string
		camera Camera
		ground Ground
		ball   Point
		height float64
		sigmas GroundSigmas
	}{
		{"all", straight, ahead, Point{300, 270 + 640/3.0}, 0.8, GroundSigmas{End: 0.8, Target: 1.2, Roll: 0.3, Length: 0.01, Height: 0.02, Focal: 0.1}},
		{"roll", turned, aside, Point{300, 560}, 1.1, GroundSigmas{Roll: 1}},
		{"focal length", turned, aside, Point{811.35, 574.69}, 1.1, GroundSigmas{Focal: 0.05}},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := c.sigmas
			_, sf, err := c.ground.Focal(c.camera, c.height, s)
			require.NoError(t, err)
			_, sd, err := c.ground.Distance(c.camera, c.ball, s)
			require.NoError(t, err)
			r := rand.New(rand.NewPCG(7, 11))
			n := func(x float64) float64 { return x * r.NormFloat64() }
			var focal, far []float64
			for range 4000 {
				cam, g, ball := c.camera, c.ground, c.ball
				for _, p := range []*Point{&g.From, &g.To, &ball} {
					p.U, p.V = p.U+n(s.End), p.V+n(s.End)
				}
				cam.Target.U, cam.Target.V = cam.Target.U+n(s.Target), cam.Target.V+n(s.Target)
				cam.Roll, g.Length, cam.Focal = cam.Roll+n(s.Roll), g.Length+n(s.Length), cam.Focal*(1+n(s.Focal))
				f, err := g.focal(cam, c.height+n(s.Height))
				require.NoError(t, err)
				d, err := g.distance(cam, ball)
				require.NoError(t, err)
				focal, far = append(focal, f), append(far, d)
			}
			// The sd of 4000 draws is known to 1.1 %; what is not linear comes besides.
			assert.InDelta(t, stat.StdDev(focal, nil), sf, 0.05*sf+1e-6)
			assert.InDelta(t, stat.StdDev(far, nil), sd, 0.05*sd)
			assert.Greater(t, sd, 0.001)
		})
	}
}

func TestAKnownLengthThatTellsNothingIsRefused(t *testing.T) {
	s := GroundSigmas{End: 1, Target: 2, Roll: 0.3, Length: 0.01, Height: 0.02}
	for _, c := range []struct {
		says   string
		height float64
		change func(*Camera, *Ground)
	}{
		{"length of 0 m", 0.8, func(_ *Camera, g *Ground) { g.Length = 0 }},
		{"length of NaN m", 0.8, func(_ *Camera, g *Ground) { g.Length = math.NaN() }},
		{"length of -1 m", 0.8, func(_ *Camera, g *Ground) { g.Length = -1 }},
		{"lens 0 m above", 0, func(*Camera, *Ground) {}},
		{"points of the picture", 0.8, func(_ *Camera, g *Ground) { g.To.V = math.Inf(1) }},
		{"too near each other", 0.8, func(_ *Camera, g *Ground) { g.To = g.From }},
		{"passes the target point", 0.8, func(_ *Camera, g *Ground) { g.To.U += 60 }},
		{"passes the target point", 0.8, func(c *Camera, _ *Ground) { c.Target.U += 40 }},
		{"not on the ground", 0.8, func(c *Camera, g *Ground) { g.To = Point{460, 110} }},
		{"something longer", 0.8, func(_ *Camera, g *Ground) { g.From = Point{g.To.U + 1.25, g.To.V + 10} }},
	} {
		t.Run(c.says, func(t *testing.T) {
			cam, g := stick()
			c.change(&cam, &g)
			_, _, err := g.Focal(cam, c.height, s)
			require.ErrorIs(t, err, ErrGround)
			require.ErrorContains(t, err, c.says)
			if c.height > 0 {
				_, _, err = g.Distance(cam, Point{300, 480}, s)
				require.ErrorIs(t, err, ErrGround)
			}
		})
	}
	cam, g := stick()
	_, _, err := g.Distance(cam, Point{300, 200}, s)
	require.ErrorContains(t, err, "(300, 200) is not on the ground")
}
