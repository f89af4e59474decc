package lens

import (
	"errors"
	"math"
)

// Hung is a plumb line seen in the picture, as a club that hangs by its grip:
// its middle, px as seen, and how far its lower end leans to the right of the
// picture's vertical, degrees, with the 1-sigma uncertainty of that.
type Hung struct {
	At       Point
	Lean, Sd float64
}

// ErrHung says that a line is no plumb line for any camera that stands up.
var ErrHung = errors.New("the club hangs too far from upright in the picture to tell the roll: level the camera first")

const (
	mostRoll  = 30.0 // degrees
	hangsTrue = 0.3  // degrees (1 sigma) that a club hangs off the vertical, toe to or from the lens (common practice)
)

// RollFromHung returns the roll, degrees clockwise as the camera sees, at which a plumb
// line looks as it does, and its 1-sigma uncertainty. The pictures of plumb lines run to
// the vanishing point of the vertical (Hartley & Zisserman, Multiple View Geometry, 2nd
// ed., §8.6): away from the middle they lean when the camera is tilted. The tilt follows
// from the target point. target is the 1-sigma uncertainty of that, px, and focal the one
// of the focal length, a share. The hand of c does not matter: all is as seen.
func RollFromHung(c Camera, h Hung, target, focal float64) (roll, sigma float64, err error) {
	c.Left = false
	roll, err = c.rollOf(h)
	if err != nil {
		return 0, 0, err
	}
	sum := h.Sd*h.Sd + hangsTrue*hangsTrue
	for _, move := range []func(*Camera){
		func(c *Camera) { c.Target.U += target },
		func(c *Camera) { c.Target.V += target },
		func(c *Camera) { c.Focal *= 1 + focal },
	} {
		d := c
		move(&d)
		if r, err := d.rollOf(h); err == nil {
			sum += (r - roll) * (r - roll)
		}
	}
	return roll, math.Sqrt(sum), nil
}

// rollOf is the roll at which a plumb line there leans as h does.
func (c Camera) rollOf(h Hung) (float64, error) {
	off := func(roll float64) (float64, error) {
		c.Roll = roll
		v, err := NewView(c)
		if err != nil {
			return 0, err
		}
		return v.plumb(h.At) - h.Lean, nil
	}
	lo, hi := -mostRoll, mostRoll
	a, err := off(lo)
	if err != nil {
		return 0, err
	}
	b, err := off(hi)
	if err != nil {
		return 0, err
	}
	if a*b > 0 {
		return 0, ErrHung
	}
	for range 50 {
		mid := (lo + hi) / 2
		m, err := off(mid)
		if err != nil {
			return 0, err
		}
		if (m > 0) == (a > 0) {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2, nil
}

// plumb returns how far a plumb line leans at a point of the analysed picture, degrees, +
// when its lower end is to the right of the picture's vertical.
func (v View) plumb(p Point) float64 {
	// Straight down in the camera's axes, projected at p.
	x, y, z := -v.right.Z, -v.down.Z, -v.ahead.Z
	du, dv := x-z*(p.U-v.cx)/v.Focal, y-z*(p.V-v.cy)/v.Focal
	return degrees(math.Atan2(du, dv))
}
