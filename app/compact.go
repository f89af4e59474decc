package app

import (
	"math"

	"drillbay/drills"
)

// compact draws the reps of a set on one small scale with its degrees: marks at
// their readings, where two would cross one above the other, the newest larger.
// What has no angle stands in a gutter at the left.
func (c *canvas) compact(r Rect, reps []drills.Rep, band float64, hand drills.Hand) {
	h := math.Round(30 * c.k)
	gutter := math.Round(h * 1.4)
	a := axis{left: r.X + gutter, right: r.Right() - c.px(4), hand: hand}
	label := min(c.title, math.Round(r.H*0.2))
	c.sides(a, r.Y+math.Round(label*CapHeight), label)
	top := r.Y + math.Round(label*1.1)
	foot := r.Bottom() - c.degreesHeight()
	c.band(a, top, foot, band)
	c.foot(a, foot)
	c.degrees(a, r)
	newest := math.Round(h * 1.7)
	base := foot - c.px(9)
	var there []Rect
	for i, rep := range reps {
		tall := h
		if i == len(reps)-1 {
			tall = newest
		}
		x := r.X + gutter/2
		if degrees(rep) != "" {
			x = a.at(rep.ShaftLine.Value)
		}
		before, after := markSides(rep, hand)
		tall = min(tall, base-top)
		var box Rect
		for ; ; tall -= 2 { // where there is little room the newest is no larger than the others
			box = Rect{x - tall*before - 1, base - tall, tall*(before+after) + 2, tall}
			for box.Y > top && meets(there, box) {
				box.Y = max(box.Y-c.px(4), top)
			}
			if tall-2 < h || !meets(there, box) {
				break
			}
		}
		there = append(there, box)
		y := box.Y + tall/2
		if i == len(reps)-1 {
			c.reach(a, y, tall, rep)
		}
		c.mark(x, y, tall, rep, hand, onPage())
	}
}

// meets reports whether a rectangle crosses one of others.
func meets(others []Rect, r Rect) bool {
	for _, o := range others {
		if r.X < o.Right() && o.X < r.Right() && r.Y < o.Bottom() && o.Y < r.Bottom() {
			return true
		}
	}
	return false
}
