package lens_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drillbay/camera/lens"
	"drillbay/camera/virtual"
)

// bays are drawn bays with cameras of every kind.
func bays(r *rand.Rand, n int) []virtual.Setup {
	out := make([]virtual.Setup, n)
	even := func(most float64) float64 { return most * (2*r.Float64() - 1) }
	for i := range out {
		s := virtual.Default()
		s.Width, s.Height = 960, 540
		if i%3 == 0 {
			s.Width, s.Height = 1280, 720
		}
		if i%2 == 1 {
			s.Player.Hand = virtual.LeftHand
		}
		s.Camera = virtual.Camera{Distance: 3 + even(1), Height: 0.85 + even(0.25), Lateral: 0.42 + even(0.3),
			HFOVDeg: 68 + even(10), YawDeg: even(3), PitchDeg: even(6) - 6, RollDeg: even(3)}
		out[i] = s
	}
	return out
}

// laid is a stick on the ground of a drawn bay, by the bay's own projection,
// with the camera that looks at it, and where the ball lies.
type laid struct {
	camera      lens.Camera
	stick       lens.Ground
	ball        lens.Point
	height, far float64 // m: the lens above the ground, the ball ahead of it
}

func layIn(t *testing.T, s virtual.Setup, r *rand.Rand) laid {
	t.Helper()
	b, err := virtual.New(s)
	require.NoError(t, err)
	at := func(x, y float64) lens.Point {
		px, _ := b.See([3]float64{x, y, 0})
		return lens.Point{U: px[0], V: px[1]}
	}
	u, v := b.TargetPoint()
	long, from, aside := 1.2+0.8*r.Float64(), -0.6+0.3*r.Float64(), 0.8*(r.Float64()-0.5)
	return laid{
		camera: lens.Camera{Width: s.Width, Height: s.Height, Focal: b.Focal(), Target: lens.Point{U: u, V: v}, Roll: s.Camera.RollDeg, Left: s.Player.Hand == virtual.LeftHand},
		stick:  lens.Ground{Length: long, Stretch: lens.Stretch{From: at(from, aside), To: at(from+long, aside)}},
		ball:   at(0, 0), height: b.Lens()[2], far: -b.Lens()[0],
	}
}

// A stick of known length in drawn bays of every kind, its ends pointed at to a
// pixel and all else known as a user knows it: what follows is as sure as it
// says, and a stick that is seen as it is gives the bay itself.
func TestAKnownLengthInDrawnBays(t *testing.T) {
	s := lens.GroundSigmas{End: 1, Target: 2, Roll: 0.3, Length: 0.01, Height: 0.02, Focal: 0.06}
	r := rand.New(rand.NewPCG(15, 4))
	n := func(x float64) float64 { return x * r.NormFloat64() }
	var focal, far tally
	for _, setup := range bays(r, 24) {
		l := layIn(t, setup, r)
		f, _, err := l.stick.Focal(l.camera, l.height, lens.GroundSigmas{})
		require.NoError(t, err)
		require.InEpsilon(t, l.camera.Focal, f, 1e-6)
		d, _, err := l.stick.Distance(l.camera, l.ball, lens.GroundSigmas{})
		require.NoError(t, err)
		require.InEpsilon(t, l.far, d, 1e-6)
		for range 50 {
			cam, g, ball := l.camera, l.stick, l.ball
			for _, p := range []*lens.Point{&g.From, &g.To, &ball} {
				p.U, p.V = p.U+n(s.End), p.V+n(s.End)
			}
			cam.Target.U, cam.Target.V = cam.Target.U+n(s.Target), cam.Target.V+n(s.Target)
			cam.Roll += n(s.Roll)
			cam.Focal *= 1 + n(s.Focal)
			g.Length += n(s.Length)
			f, sigma, err := g.Focal(cam, l.height+n(s.Height), s)
			require.NoError(t, err)
			focal.add(f-l.camera.Focal, sigma, l.camera.Focal)
			d, sigma, err = g.Distance(cam, ball, s)
			require.NoError(t, err)
			far.add(d-l.far, sigma, l.far)
		}
	}
	t.Logf("focal length: %s", focal)
	t.Logf("distance: %s", far)
	for _, x := range []tally{focal, far} {
		assert.InDelta(t, 0.68, float64(x.one)/float64(x.n), 0.08)
		assert.GreaterOrEqual(t, float64(x.two)/float64(x.n), 0.93)
		assert.Less(t, math.Sqrt(x.square/float64(x.n)), 0.08)
	}
}

// tally counts errors by how sure they were said to be.
type tally struct {
	n, one, two   int
	square, share float64
}

func (c *tally) add(off, sigma, of float64) {
	c.n++
	if math.Abs(off) <= sigma {
		c.one++
	}
	if math.Abs(off) <= 2*sigma {
		c.two++
	}
	c.square += off * off / of / of
	c.share += sigma / of
}

func (c tally) String() string {
	n := float64(c.n)
	return fmt.Sprintf("%d answers, off by %.1f %% rms, sure to %.1f %%; %.0f %% within 1 sigma, %.0f %% within 2",
		c.n, 100*math.Sqrt(c.square/n), 100*c.share/n, 100*float64(c.one)/n, 100*float64(c.two)/n)
}
