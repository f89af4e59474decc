package lens

import (
	"errors"
	"fmt"
	"math"
)

// Ground is a straight thing of known length that lies on level ground along
// the target line, a stick or the edge of a mat: its length in metres, and its
// ends, px as seen, in either order.
//
// The target point tells the ground's horizon, and so how many lens heights
// ahead of the lens each end lies (Hartley & Zisserman, Multiple View
// Geometry, 2nd ed., §8.6). The length turns that into metres: how far ahead
// anything on the ground is then hardly asks for the focal length, and the
// focal length asks for the height of the lens besides.
type Ground struct {
	Length float64
	Stretch
}

// GroundSigmas are the 1-sigma uncertainties of what a known length is used with.
type GroundSigmas struct {
	End    float64 // px, of a point on the ground, each way
	Target float64 // px, each way
	Roll   float64 // degrees
	Length float64 // m
	Height float64 // m, of the lens above the ground
	Focal  float64 // share
}

// ErrGround is wrapped by errors about a known length that tells nothing.
var ErrGround = errors.New("the known length on the ground tells nothing")

const (
	leastLength, mostLength = 0.3, 20.0 // m
	leastHeight, mostHeight = 0.1, 3.0  // m, of a lens
	// The ground is seen at least so far under its horizon, as a slope.
	leastDown = 0.01
	// The line through the ends may pass the target point by so many sigmas,
	// and this many px.
	runsBy, runsByPx = 4.0, 0.5
	// An answer whose uncertainty is a larger share of it than this is none.
	leastSureGround = 0.12
)

// Focal is the focal length, px, of a camera height metres above the ground,
// and its 1-sigma uncertainty; c.Focal is not used.
func (g Ground) Focal(c Camera, height float64, s GroundSigmas) (focal, sigma float64, err error) {
	if !(height >= leastHeight && height <= mostHeight) {
		return 0, 0, fmt.Errorf("%w: a lens %.4g m above the ground; %.4g to %.4g m are taken", ErrGround, height, leastHeight, mostHeight)
	}
	if err := g.check(c.Target, s); err != nil {
		return 0, 0, err
	}
	return g.sure(c, Point{}, height, s, func(c Camera, g Ground, _ Point, height float64) (float64, error) {
		return g.focal(c, height)
	})
}

// Distance returns how far ahead of the lens, m along the target line, a place on the
// ground lies that is seen at a point, px as seen, with its 1-sigma uncertainty. It depends
// on c.Focal only a little.
func (g Ground) Distance(c Camera, at Point, s GroundSigmas) (forward, sigma float64, err error) {
	if err := g.check(c.Target, s); err != nil {
		return 0, 0, err
	}
	return g.sure(c, at, 0, s, func(c Camera, g Ground, at Point, _ float64) (float64, error) {
		return g.distance(c, at)
	})
}

// check returns an error for a line that cannot be a known length along the target line.
func (g Ground) check(target Point, s GroundSigmas) error {
	for _, x := range [...]float64{g.From.U, g.From.V, g.To.U, g.To.V} {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return fmt.Errorf("%w: its ends must be points of the picture", ErrGround)
		}
	}
	switch long := g.Stretch.Length(); {
	case !(g.Length >= leastLength && g.Length <= mostLength):
		return fmt.Errorf("%w: a length of %.4g m; %.4g to %.4g m are taken", ErrGround, g.Length, leastLength, mostLength)
	case !(long >= 4):
		return fmt.Errorf("%w: its ends are %.3g pixels apart, too near each other", ErrGround, long)
	}
	off := math.Abs(g.Stretch.distance(target))
	if may := runsByPx + runsBy*math.Sqrt(g.variance(target)*s.End*s.End+s.Target*s.Target); !(off <= may) {
		return fmt.Errorf("%w: its line passes the target point (%.4g, %.4g) by %.3g pixels, so one of them is not where it is said to be, or it does not lie along the target line",
			ErrGround, target.U, target.V, off)
	}
	return nil
}

// aheadOf returns how far ahead of the lens a point of the ground lies, in heights of the
// lens.
func (v View) aheadOf(p Point) (float64, error) {
	r := v.Ray(v.Mirror(p))
	if !(-r.Z > leastDown*r.X) || !(r.X > 0) {
		return 0, fmt.Errorf("%w: (%.4g, %.4g) is not on the ground: it is not below the level of the target point", ErrGround, p.U, p.V)
	}
	return r.X / -r.Z, nil
}

// stretch returns how far apart the two ends of the known length are and how far ahead of
// the lens the nearer one lies, both in heights of the lens.
func (g Ground) stretch(c Camera) (v View, apart, near float64, err error) {
	if v, err = NewView(c); err != nil {
		return v, 0, 0, err
	}
	a, err := v.aheadOf(g.From)
	if err != nil {
		return v, 0, 0, err
	}
	b, err := v.aheadOf(g.To)
	if err != nil {
		return v, 0, 0, err
	}
	if apart = math.Abs(a - b); !(apart > 0) {
		return v, 0, 0, fmt.Errorf("%w: its ends are equally far away", ErrGround)
	}
	return v, apart, min(a, b), nil
}

func (g Ground) distance(c Camera, at Point) (float64, error) {
	v, apart, _, err := g.stretch(c)
	if err != nil {
		return 0, err
	}
	ahead, err := v.aheadOf(at)
	return g.Length * ahead / apart, err
}

func (g Ground) focal(c Camera, height float64) (float64, error) {
	c.Focal = float64(c.Width)
	for range 60 {
		_, apart, near, err := g.stretch(c)
		if err != nil {
			return 0, err
		}
		// A lens height spans so many pixels where the nearer end lies, which
		// the length says is so far away.
		f := FocalFromLength(c.Focal/near, height, g.Length*near/apart)
		if math.Abs(f-c.Focal) < 1e-9*f {
			return f, nil
		}
		if w := float64(c.Width); !(f > leastFocal*w && f < mostFocal*w) {
			return 0, fmt.Errorf("%w: to see %.4g m so, a lens %.4g m above the ground would need a focal length of %.3g of the picture's width; check the two measures and the ends",
				ErrGround, g.Length, height, f/w)
		}
		c.Focal = f
	}
	return 0, fmt.Errorf("%w: no focal length shows it so", ErrGround)
}

// sure returns an answer with its 1-sigma uncertainty, found by moving each input to either
// side (first-order propagation).
func (g Ground) sure(c Camera, at Point, height float64, s GroundSigmas, answer func(Camera, Ground, Point, float64) (float64, error)) (x, sigma float64, err error) {
	if x, err = answer(c, g, at, height); err != nil {
		return 0, 0, err
	}
	sum := 0.0
	move := func(what *float64, by float64) {
		was := *what
		*what = was + by
		more, err1 := answer(c, g, at, height)
		*what = was - by
		less, err2 := answer(c, g, at, height)
		if err1 != nil || err2 != nil {
			sum = math.Inf(1)
		}
		sum += (more - less) * (more - less) / 4
		*what = was
	}
	for _, p := range [...]*Point{&g.From, &g.To, &at} {
		move(&p.U, s.End)
		move(&p.V, s.End)
	}
	move(&c.Target.U, s.Target)
	move(&c.Target.V, s.Target)
	move(&c.Roll, s.Roll)
	move(&g.Length, s.Length)
	move(&height, s.Height)
	move(&c.Focal, s.Focal*c.Focal)
	if sigma = math.Sqrt(sum); !(sigma <= leastSureGround*x) {
		return 0, 0, fmt.Errorf("%w: what follows from it is only sure to %.0f %%: take something longer, or nearer to the camera", ErrGround, 100*sigma/x)
	}
	return x, sigma, nil
}
