package app

import (
	"math"

	"drillbay/drills"
	"drillbay/drills/watch"
)

// lostAfter is the time for which a spot is not seen until the screen says so, s.
const lostAfter = 0.7

// missing says in a sentence what of a player is not seen, "" when nothing is
// amiss.
func missing(s watch.Seen) string {
	switch {
	case !s.Player:
		return ""
	case s.Hands.Lost > lostAfter:
		return "Hands not seen"
	case s.Head.Lost > lostAfter:
		return "Clubhead not seen"
	}
	return ""
}

// seen draws over a live picture what the eye saw in it: the shaft from hands
// to head, a ring at either where it is surely seen, and, faint, the line from
// a target point through the hands; NaN: none. What is missing is written
// into the upper left corner, line down.
func (a *App) seen(c *canvas, o over, at float64, target drills.Pixel, line float64) {
	c.seen(a.d.Seen, o, at, target, line)
}

// seen draws what an eye saw; nil: there is none.
func (c *canvas) seen(by func(at float64) (watch.Seen, bool), o over, at float64, target drills.Pixel, line float64) {
	if by == nil {
		return
	}
	s, ok := by(at)
	if !ok {
		return
	}
	if say := missing(s); say != "" {
		c.tag(o.at.X+c.px(12), o.at.Y+line, say)
	}
	hands, head := s.Hands.Sure() && o.holds(s.Hands.X, s.Hands.Y), s.Head.Sure() && o.holds(s.Head.X, s.Head.Y)
	if hands && o.holds(target.X, target.Y) {
		// On from the hands as far as a club.
		dx, dy := s.Hands.X-target.X, s.Hands.Y-target.Y
		if n := math.Hypot(dx, dy); n > max(4, 2*math.Hypot(s.Hands.SdX, s.Hands.SdY)) { // else it points anywhere
			reach := 0.25 * o.crop.H
			x, y := s.Hands.X+dx/n*reach, s.Hands.Y+dy/n*reach
			x, y = min(max(x, o.crop.X), o.crop.Right()), min(max(y, o.crop.Y), o.crop.Bottom())
			c.dashed(o.x(target.X), o.y(target.Y), o.x(x), o.y(y), max(1, c.px(2)), c.px(8), Core)
		}
	}
	if hands && head {
		c.cased(o.x(s.Hands.X), o.y(s.Hands.Y), o.x(s.Head.X), o.y(s.Head.Y), max(1, c.px(2)), Core)
	}
	if hands {
		c.ring(o.x(s.Hands.X), o.y(s.Hands.Y), c.px(11))
	}
	if head {
		c.ring(o.x(s.Head.X), o.y(s.Head.Y), c.px(11))
	}
}

// ring draws a ring over the picture.
func (c *canvas) ring(x, y, r float64) {
	thick := max(2, c.px(3))
	c.add(Item{Shape: Ring, Role: Casing, X: x, Y: y, R: r + c.casing(), Thick: thick + 2*c.casing()})
	c.add(Item{Shape: Ring, Role: Core, X: x, Y: y, R: r, Thick: thick})
}
