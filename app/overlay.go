package app

import (
	"math"

	"drillbay/camera/lookback"
	"drillbay/drills"
	"drillbay/drills/runner"
)

// over turns places of the picture into places of the window.
type over struct{ at, crop Rect }

func (o over) x(px float64) float64 { return o.at.X + (px-o.crop.X)*o.at.W/o.crop.W }
func (o over) y(px float64) float64 { return o.at.Y + (px-o.crop.Y)*o.at.H/o.crop.H }

// back turns a place of the window into one of the picture.
func (o over) back(x, y float64) drills.Pixel {
	return drills.Pixel{X: o.crop.X + (x-o.at.X)*o.crop.W/o.at.W, Y: o.crop.Y + (y-o.at.Y)*o.crop.H/o.at.H}
}

// holds reports whether a place of the picture is in view.
func (o over) holds(x, y float64) bool {
	return x >= o.crop.X && x <= o.crop.Right() && y >= o.crop.Y && y <= o.crop.Bottom()
}

// cased draws a line over the picture: a core in a casing.
func (c *canvas) cased(x1, y1, x2, y2, thick float64, role Role) {
	c.line(x1, y1, x2, y2, thick+2*c.casing(), Casing)
	c.line(x1, y1, x2, y2, thick, role)
}

func (c *canvas) casedDashes(x1, y1, x2, y2, thick, dash float64) {
	c.dashed(x1, y1, x2, y2, thick+2*c.casing(), dash, Casing)
	c.dashed(x1, y1, x2, y2, thick, dash, Core)
}

func (c *canvas) casing() float64 { return max(2, c.px(2)) }

// dot draws a disc over the picture.
func (c *canvas) dot(x, y, r float64, role Role) {
	c.disc(x, y, r+c.casing(), Casing)
	c.disc(x, y, r, role)
}

// targetMark draws the target point: a ring around a dark middle.
func (c *canvas) targetMark(x, y, r float64) {
	c.disc(x, y, r+c.casing(), Casing)
	c.disc(x, y, r, Core)
	c.disc(x, y, r-max(3, c.px(4)), Casing)
}

// overlay draws a rep over its picture: the head's trace as dots equally
// spaced in time up to now, the target point and the line from it through the
// hands, and the shaft at the level moment once it is reached.
func (c *canvas) overlay(at, crop Rect, rep runner.Done, pos lookback.Position) {
	o := over{at, crop}
	ov := rep.Overlay
	for _, d := range ov.Trace {
		if d.At > pos.At+1e-3 || !o.holds(d.X, d.Y) {
			continue
		}
		c.dot(o.x(d.X), o.y(d.Y), c.px(6), Core)
	}
	level := rep.Rep.Moments.Level
	if math.IsNaN(level) {
		level = rep.Rep.Moments.Catch
	}
	reached := pos.At >= level-0.02
	seen := func(d runner.Dot) bool { return o.holds(d.X, d.Y) }
	if seen(ov.Target) && seen(ov.Hands) && reached {
		// From the target point through the hands and on, as far as a club.
		dx, dy := ov.Hands.X-ov.Target.X, ov.Hands.Y-ov.Target.Y
		if n := math.Hypot(dx, dy); n > 4 {
			reach := 0.25 * crop.H
			x, y := ov.Hands.X+dx/n*reach, ov.Hands.Y+dy/n*reach
			x, y = min(max(x, crop.X), crop.Right()), min(max(y, crop.Y), crop.Bottom())
			c.casedDashes(o.x(ov.Target.X), o.y(ov.Target.Y), o.x(x), o.y(y), c.px(5), c.px(18))
		}
	}
	if seen(ov.Target) {
		x, y := o.x(ov.Target.X), o.y(ov.Target.Y)
		c.targetMark(x, y, c.px(15))
		c.tagClear(at, x, y, c.px(20), "target point")
	}
	if seen(ov.Hands) && seen(ov.Head) && reached {
		role := Core
		switch rep.Rep.Verdict {
		case drills.Inside:
			role = CoreInside
		case drills.Outside:
			role = CoreOutside
		}
		hx, hy, x, y := o.x(ov.Hands.X), o.y(ov.Hands.Y), o.x(ov.Head.X), o.y(ov.Head.Y)
		c.cased(hx, hy, x, y, c.px(10), role)
		c.dot(hx, hy, c.px(11), Core)
		c.dot(x, y, c.px(14), role)
	}
}

// tagClear writes a tag beside a place, on the side with more room.
func (c *canvas) tagClear(at Rect, x, y, away float64, s string) {
	w := c.ruler.Width(s, c.small, Medium) + c.small
	left := x + away
	if left+w > at.Right() {
		left = max(x-away-w, at.X)
	}
	if left+w > at.Right() {
		return // there is no room for it
	}
	top := min(max(y+away*0.4, at.Y), at.Bottom()-c.small*1.6)
	c.tag(left, top, s)
}
