package lens

import (
	"errors"
	"fmt"
	"math"
)

// Stretch is a part of a straight line in the picture, px as seen: the edge of
// a mat, a stick on the ground.
type Stretch struct{ From, To Point }

// ErrParallel says that lines do not meet anywhere near.
var ErrParallel = errors.New("the lines run side by side in the picture: they do not meet")

// MeetingPoint returns the point where two or more lines meet, by least squares of the
// distances from them, each weighted by how surely the line is known there. Lines along the
// target line meet in the target point (Hartley & Zisserman, Multiple View Geometry, 2nd
// ed., §8.6). end is the 1-sigma uncertainty of each end, px; across and down are those of
// the point, px. More than two lines that do not agree make them larger.
func MeetingPoint(lines []Stretch, end float64) (p Point, across, down float64, err error) {
	if len(lines) < 2 {
		return p, 0, 0, errors.New("two lines are needed, to see where they meet")
	}
	for i, l := range lines {
		if !(math.Hypot(l.To.U-l.From.U, l.To.V-l.From.V) >= 4) {
			return p, 0, 0, fmt.Errorf("line %d is too short to have a direction: draw it longer", i+1)
		}
	}
	weights := make([]float64, len(lines))
	for i := range weights {
		weights[i] = 1
	}
	var a, b, c float64 // the normal matrix, rows (a b) and (b c)
	for range 12 {
		var u, v float64
		a, b, c = 0, 0, 0
		for i, l := range lines {
			n := l.normal()
			w := weights[i]
			off := n.U*l.From.U + n.V*l.From.V
			a, b, c = a+w*n.U*n.U, b+w*n.U*n.V, c+w*n.V*n.V
			u, v = u+w*n.U*off, v+w*n.V*off
		}
		det := a*c - b*b
		if !(det > 1e-5*(a+c)*(a+c)) {
			return p, 0, 0, ErrParallel
		}
		next := Point{(c*u - b*v) / det, (a*v - b*u) / det}
		moved := math.Hypot(next.U-p.U, next.V-p.V)
		p = next
		for i, l := range lines {
			weights[i] = 1 / l.variance(p)
		}
		if moved < 1e-9 {
			break
		}
	}
	spread := end * end
	if dof := len(lines) - 2; dof > 0 {
		misfit := 0.0
		for i, l := range lines {
			d := l.distance(p)
			misfit += weights[i] * d * d
		}
		spread = max(spread, misfit/float64(dof))
	}
	det := a*c - b*b
	return p, math.Sqrt(spread * c / det), math.Sqrt(spread * a / det), nil
}

// normal is the unit normal of the line.
func (l Stretch) normal() Point {
	du, dv := l.To.U-l.From.U, l.To.V-l.From.V
	n := math.Hypot(du, dv)
	return Point{-dv / n, du / n}
}

// distance returns the distance of p from the line, px, with a sign.
func (l Stretch) distance(p Point) float64 {
	n := l.normal()
	return n.U*(p.U-l.From.U) + n.V*(p.V-l.From.V)
}

// variance returns the variance of the line's place at p, across it, when each end is known
// to 1 px: between the ends it is less, far beyond them it grows.
func (l Stretch) variance(p Point) float64 {
	du, dv := l.To.U-l.From.U, l.To.V-l.From.V
	t := ((p.U-l.From.U)*du + (p.V-l.From.V)*dv) / (du*du + dv*dv)
	return (1-t)*(1-t) + t*t
}
