package app

import (
	"fmt"
	"math"

	"drillbay/drills"
)

// scaleEnd is the shaft line at the scale's ends, degrees; what lies beyond
// stands at the end.
const scaleEnd = 30.0

// axis turns shaft lines into places across the window: inside lies where
// the player stands in the picture.
type axis struct {
	left, right float64
	hand        drills.Hand
}

// at is the place of a shaft line in degrees.
func (a axis) at(degrees float64) float64 {
	d := min(max(degrees, -scaleEnd), scaleEnd)
	if a.hand == drills.Right {
		d = -d
	}
	return (a.left+a.right)/2 + d/scaleEnd*(a.right-a.left)/2
}

// sides writes inside, in line and outside over an axis, as large as it goes.
func (c *canvas) sides(a axis, baseline, size float64) {
	left, right := "inside", "outside"
	lrole, rrole := Inside, Outside
	if a.hand == drills.Left {
		left, right, lrole, rrole = right, left, rrole, lrole
	}
	c.text(a.left, baseline, left, size, Bold, lrole)
	c.before(a.right, baseline, right, size, Bold, rrole)
	free := a.right - a.left - c.ruler.Width("insideoutside", size, Bold)
	if w := c.ruler.Width("in line", size, Bold); w+size < free {
		mid := (a.left + c.ruler.Width(left, size, Bold) + a.right - c.ruler.Width(right, size, Bold)) / 2
		if want := (a.left + a.right) / 2; math.Abs(mid-want) < free/2-w/2-size/2 {
			mid = want
		}
		c.middle(mid, baseline, "in line", size, Bold, Ink)
	}
}

// band draws the band that counts, between its posts, and the target line.
func (c *canvas) band(a axis, top, bottom, width float64) {
	l, r := a.at(width), a.at(-width)
	if l > r {
		l, r = r, l
	}
	l, r = math.Round(l), math.Round(r)
	post := max(2, math.Round(2*c.k))
	c.fill(Rect{l, top, r - l, bottom - top}, BandInk, 0)
	c.fill(Rect{l - post/2, top, post, bottom - top}, Ink, 0)
	c.fill(Rect{r - post/2, top, post, bottom - top}, Ink, 0)
	c.dashed(a.at(0), top, a.at(0), bottom, post, math.Round(6*max(c.k, 1)), Quiet)
}

// foot draws the axis with a tick every ten degrees.
func (c *canvas) foot(a axis, y float64) {
	thick := max(2, math.Round(2*c.k))
	c.fill(Rect{math.Round(a.left), y - thick, math.Round(a.right - a.left), thick}, Edge, 0)
	for d := -scaleEnd; d <= scaleEnd; d += 10 {
		c.fill(Rect{math.Round(a.at(d) - thick/2), y - math.Round(6*c.k) - thick, thick, math.Round(6 * c.k)}, Edge, 0)
	}
}

// degrees writes the degrees of an axis at the foot of r.
func (c *canvas) degrees(a axis, r Rect) {
	for d := -scaleEnd; d <= scaleEnd; d += 10 {
		word := fmt.Sprintf("%.0f", math.Abs(d))
		if d == 0 {
			word = "0°"
		}
		w := c.ruler.Width(word, c.small, Regular)
		x := min(max(a.at(d)-w/2, r.X), r.Right()-w)
		c.text(x, r.Bottom()-math.Round(c.small*0.15), word, c.small, Regular, Quiet)
	}
}

// degreesHeight is the height that degrees takes, px.
func (c *canvas) degreesHeight() float64 { return math.Round(c.small * 1.2) }

// set draws the reps of a set on one scale in r, the newest at the bottom.
// goal is the number of reps that the set should have, 0 when it has no end.
func (c *canvas) set(r Rect, reps []drills.Rep, goal int, band float64, hand drills.Hand) {
	numbers := math.Round(c.small * 1.6)
	gutter := math.Round(56 * c.k)
	a := axis{left: r.X + numbers + gutter, right: r.Right() - c.px(4), hand: hand}
	label := math.Round(min(0.36*c.mat, r.H*0.11))
	c.sides(a, r.Y+math.Round(label*CapHeight)+math.Round(label*0.25), label)
	top := r.Y + math.Round(label*1.35)
	c.degrees(a, r)
	r.H -= c.degreesHeight()
	c.band(a, top, r.Bottom(), band)
	c.foot(a, r.Bottom())
	top += math.Round(8 * c.k)
	height := r.Bottom() - math.Round(8*c.k) - top
	rows := max(goal, len(reps), 5)
	least := math.Round(c.small * 1.15)
	rows = max(min(rows, int(height/least)), 1)
	row := min(height/float64(rows), c.px(56))
	from := max(len(reps)-rows, 0)
	if goal > 0 {
		// A long set shows its newest rows and what is still to come.
		from = max(min(from, goal-rows), len(reps)-rows, 0)
	}
	for i := range rows {
		n := from + i
		y := top + (float64(i)+0.5)*row
		newest := n == len(reps)-1
		weight, role := Regular, Quiet
		if newest {
			weight, role = Bold, Ink
		}
		if goal == 0 && n >= len(reps) {
			break
		}
		c.before(r.X+numbers, y+math.Round(c.small*CapHeight/2), fmt.Sprint(n+1), c.small, weight, role)
		if n >= len(reps) {
			continue
		}
		h := row * 0.84
		if newest {
			h *= 1.6
		}
		h = min(h, math.Round(66*c.k))
		if degrees(reps[n]) == "" {
			h = min(h, gutter*0.9)
			c.mark(r.X+numbers+gutter/2, y, h, reps[n], hand, onPage())
			continue
		}
		c.reach(a, y, h, reps[n])
		c.mark(a.at(reps[n].ShaftLine.Value), y, h, reps[n], hand, onPage())
	}
}
