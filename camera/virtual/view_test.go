package virtual

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// rodrigues turns p by the rotation vector r (radians).
func rodrigues(r, p vec) vec {
	angle := r.len()
	if angle == 0 {
		return p
	}
	k := r.mul(1 / angle)
	s, c := math.Sincos(angle)
	return p.mul(c).add(k.cross(p).mul(s)).add(k.mul(k.dot(p) * (1 - c)))
}

// Values computed with OpenCV 4.6 projectPoints, distortion k1, k2, p1, p2, k3.
func TestProjectionAgreesWithOpenCV(t *testing.T) {
	ten := rad(10)
	plain := lens{fx: 500, fy: 500, cx: 320, cy: 240}
	tilted := lens{fx: 1000, fy: 1000, cx: 640, cy: 360}
	wide := lens{fx: 950, fy: 955, cx: 645, cy: 355, k1: -0.30, k2: 0.10}
	curved := lens{fx: 420, fy: 420, cx: 322, cy: 236, k1: -0.35, k2: 0.15, k3: -0.03}
	for _, c := range []struct {
		name string
		l    lens
		r, t vec
		p    vec
		u, v float64
	}{
		{"plain, near", plain, vec{}, vec{}, vec{.5, -.2, 2}, 445, 190},
		{"plain, far", plain, vec{}, vec{}, vec{-.8, .4, 3.5}, 205.714286, 297.142857},
		{"tilted, right", tilted, vec{ten, 0, 0}, vec{0, .1, 3}, vec{.5, -.2, 0}, 808.618689, 327.300941},
		{"tilted, middle", tilted, vec{ten, 0, 0}, vec{0, .1, 3}, vec{0, 0, 0}, 640, 393.333333},
		{"tilted, left", tilted, vec{ten, 0, 0}, vec{0, .1, 3}, vec{-.6, .5, .8}, 485.148115, 477.038432},
		{"wide, right", wide, vec{.1, -.2, .05}, vec{.1, -.1, 3.2}, vec{.9, -.4, 0}, 921.498459, 227.232102},
		{"wide, left", wide, vec{.1, -.2, .05}, vec{.1, -.1, 3.2}, vec{-1.1, .6, .3}, 349.781306, 471.769385},
		{"curved, edge", curved, vec{0, .25, 0}, vec{0, 0, 2.8}, vec{1.2, .8, 0}, 498.152096, 357.202627},
		{"curved, middle", curved, vec{0, .25, 0}, vec{0, 0, 2.8}, vec{.1, .05, 1}, 360.504806, 241.591830},
	} {
		u, v := c.l.pixel(rodrigues(c.r, c.p).add(c.t))
		assert.InDelta(t, c.u, u, 1e-5, c.name)
		assert.InDelta(t, c.v, v, 1e-5, c.name)
	}
}

// The horizon of a camera that looks 5° up, K(1000, 1000, 640, 360): points at
// the camera's height fall on v = 447.488664 (computed with OpenCV 4.6).
func TestPointsAtLensHeightFallOnTheHorizon(t *testing.T) {
	s := Default()
	s.Camera = Camera{Distance: 3, Height: 1, Lateral: 0, HFOVDeg: deg(2 * math.Atan(0.64)), PitchDeg: 5}
	v := newView(&s, vec{})
	for _, x := range []float64{2, 3, 5, 10} {
		_, y, _ := v.see(vec{x - 3, 0.7, 1})
		assert.InDelta(t, 447.488664, y, 1e-5)
	}
}

func TestTurnsOfTheCamera(t *testing.T) {
	// A camera turned left sees the target to the right of the middle; tilted
	// up, below it; rolled clockwise, what was left of the middle is lower.
	target := func(c Camera, h Hand) (float64, float64) {
		s := Default()
		s.Player.Hand = h
		c.Distance, c.HFOVDeg, c.Height = 3, 70, 0.8
		s.Camera = c
		v := newView(&s, vec{0, 0.4, 0.8})
		x, y := v.pixel(v.turn(vec{1, 0, 0}))
		return x - 640, y - 360
	}
	f := 640 / math.Tan(rad(35))
	for _, h := range []Hand{RightHand, LeftHand} {
		x, y := target(Camera{YawDeg: 2}, h)
		assert.InDelta(t, f*math.Tan(rad(2)), x, 1e-6, h)
		assert.InDelta(t, 0, y, 1e-6, h)
		_, y = target(Camera{PitchDeg: 3}, h)
		assert.InDelta(t, f*math.Tan(rad(3)), y, 1e-6, h)
		x, y = target(Camera{YawDeg: -2, RollDeg: 1.5}, h)
		assert.Less(t, x, 0.0, h)
		assert.InDelta(t, f*math.Tan(rad(2))*math.Sin(rad(1.5)), y, 1e-6, h)
	}
}
