// Package lens is the geometry between picture and bay, and its uncertainty.
//
// The camera is a pinhole, u = cx + f·x/z (Hartley & Zisserman, Multiple View
// Geometry, 2nd ed., §6.1). Its turn and tilt are not asked for: they follow
// from the target point, the picture of the target direction (the vanishing
// point K·R·(1,0,0), ibid. §8.6), and the roll.
package lens

import (
	"errors"
	"fmt"
	"math"
)

// Camera describes one camera set-up.
type Camera struct {
	Width, Height int     // px
	Focal         float64 // px
	Target        Point   // target point, px as seen
	Roll          float64 // degrees, the camera turned clockwise as it sees
	Left          bool    // a left-hander: analysed in the mirrored picture
}

// FocalFromField returns the focal length in px of a picture of width px whose
// horizontal field of view is degrees wide.
func FocalFromField(width int, field float64) float64 {
	return float64(width) / 2 / math.Tan(radians(field)/2)
}

// FocalFromLength returns the focal length in px when a known length in metres,
// seen square on at a distance in metres, spans pixels (px = f·L/Z).
func FocalFromLength(pixels, length, distance float64) float64 {
	return pixels * distance / length
}

// View turns pixels into directions in the bay and back. For a left-hander it
// works in the mirrored picture: Mirror goes from one to the other.
type View struct {
	Camera
	cx, cy float64
	right  Vec // camera axes in the bay frame
	down   Vec
	ahead  Vec
}

// ErrCamera is wrapped by errors about impossible camera set-ups.
var ErrCamera = errors.New("the camera set-up is not possible")

// Focal lengths between these shares of the picture's width are possible.
const leastFocal, mostFocal = 0.2, 20.0

// NewView checks c and works out the camera's turn and tilt.
func NewView(c Camera) (View, error) {
	switch {
	case c.Width < 1 || c.Height < 1:
		return View{}, fmt.Errorf("%w: picture of %d × %d pixels", ErrCamera, c.Width, c.Height)
	case !(c.Focal > leastFocal*float64(c.Width) && c.Focal < mostFocal*float64(c.Width)):
		return View{}, fmt.Errorf("%w: focal length of %.4g pixels for a picture %d wide", ErrCamera, c.Focal, c.Width)
	case !(math.Abs(c.Roll) <= 45):
		return View{}, fmt.Errorf("%w: roll of %.4g° (at most 45° either way)", ErrCamera, c.Roll)
	case !(math.Abs(c.Target.U-float64(c.Width)/2) < 3*float64(c.Width) && math.Abs(c.Target.V-float64(c.Height)/2) < 3*float64(c.Width)):
		return View{}, fmt.Errorf("%w: target point (%.4g, %.4g) far outside the picture", ErrCamera, c.Target.U, c.Target.V)
	}
	v := View{Camera: c, cx: float64(c.Width) / 2, cy: float64(c.Height) / 2}
	target, roll := v.mirrored(c.Target), radians(c.Roll)
	if c.Left {
		roll = -roll
	}
	// The target direction in a camera without the roll (x stays level).
	sin, cos := math.Sincos(roll)
	x, y := (target.U-v.cx)/c.Focal, (target.V-v.cy)/c.Focal
	d := Vec{x*cos - y*sin, x*sin + y*cos, 1}.Unit()
	// Bay axes in that camera: X is d, Z is up and has no part along x.
	up := Vec{0, -d.Z, d.Y}.Unit()
	in := cross(up, d)
	// Camera axes in the bay frame, then rolled.
	right := Vec{d.X, in.X, up.X}
	down := Vec{d.Y, in.Y, up.Y}
	v.ahead = Vec{d.Z, in.Z, up.Z}
	v.right = right.Mul(cos).Add(down.Mul(sin))
	v.down = down.Mul(cos).Sub(right.Mul(sin))
	return v, nil
}

func cross(a, b Vec) Vec {
	return Vec{a.Y*b.Z - a.Z*b.Y, a.Z*b.X - a.X*b.Z, a.X*b.Y - a.Y*b.X}
}

// Mirror turns a point of the picture as seen into one of the picture that is
// analysed, and back: the one place where a left-hander's picture is turned.
func (v View) Mirror(p Point) Point { return v.mirrored(p) }

func (v View) mirrored(p Point) Point {
	if v.Left {
		p.U = float64(v.Width) - p.U
	}
	return p
}

// Ray is the unit direction in the bay of a point in the analysed picture.
func (v View) Ray(p Point) Vec {
	return v.ahead.Add(v.right.Mul((p.U - v.cx) / v.Focal)).Add(v.down.Mul((p.V - v.cy) / v.Focal)).Unit()
}

// Project is the point in the analysed picture of a place given from the lens,
// in bay axes; ok is false behind the lens.
func (v View) Project(q Vec) (p Point, ok bool) {
	z := q.Dot(v.ahead)
	if z < 0.05 {
		return Point{}, false
	}
	return Point{v.cx + v.Focal*q.Dot(v.right)/z, v.cy + v.Focal*q.Dot(v.down)/z}, true
}

// At is the place on the ray of p that is forward metres from the lens along
// the target line.
func (v View) At(p Point, forward float64) Vec {
	r := v.Ray(p)
	return r.Mul(forward / r.X)
}

// TargetPoint is the target point in the analysed picture.
func (v View) TargetPoint() Point { return v.mirrored(v.Target) }

// Slope returns how the point of the analysed picture that shows the place q moves with
// that place, px a metre of each axis; q is given from the lens in bay axes.
func (v View) Slope(q Vec) (du, dv Vec) {
	k := v.Focal / q.Dot(v.ahead)
	x, y := q.Dot(v.right)*k, q.Dot(v.down)*k
	return v.right.Sub(v.ahead.Mul(x / v.Focal)).Mul(k), v.down.Sub(v.ahead.Mul(y / v.Focal)).Mul(k)
}

// Cross returns the outer product.
func (a Vec) Cross(b Vec) Vec { return cross(a, b) }
