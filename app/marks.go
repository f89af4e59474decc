package app

import (
	"math"

	"drillbay/drills"
)

// tint are the roles of a mark.
type tint struct{ ink, quiet, inside, outside Role }

func onPage() tint { return tint{Ink, Quiet, Inside, Outside} }

// of is the colour of a verdict.
func (t tint) of(v drills.Verdict) Role {
	switch v {
	case drills.Inside:
		return t.inside
	case drills.Outside:
		return t.outside
	case drills.InLine:
		return t.ink
	}
	return t.quiet
}

// mark draws a rep's mark of height h with its post, or its middle, at x. The
// shape says everything; the colour only repeats the side. For a
// left-hander inside lies on the right.
func (c *canvas) mark(x, y, h float64, r drills.Rep, hand drills.Hand, t tint) {
	left := hand == drills.Right // inside lies on the left
	hollow := 0.0                // of what does not count because nobody is sure
	if r.Manner == drills.Unsure {
		hollow = max(2, math.Round(0.11*h))
	}
	post := max(2, math.Round(0.10*h))
	bar := func(role Role) {
		c.fill(Rect{math.Round(x - post/2), math.Round(y - h/2), post, math.Round(h)}, role, 0)
	}
	switch {
	case r.Verdict == drills.NoReading:
		for _, d := range []float64{-0.33, 0, 0.33} {
			c.disc(x+d*h, y, 0.11*h, t.quiet)
		}
	case r.Verdict == drills.Short:
		thick := max(2, math.Round(0.10*h))
		c.fill(Rect{math.Round(x - 0.46*h), math.Round(y - 0.25*h), math.Round(0.92 * h), thick}, t.quiet, 0)
		c.add(Item{Shape: HalfDown, Role: t.quiet, X: x, Y: y - 0.25*h + thick + 0.05*h, R: 0.34 * h})
	case r.Manner == drills.Placed:
		side := math.Round(0.66 * h)
		c.frame(Rect{math.Round(x - side/2), math.Round(y - side/2), side, side}, t.ink, max(2, math.Round(0.13*h)), 0)
	case r.Verdict == drills.InLine:
		if hollow > 0 {
			arm := math.Round(0.19 * h)
			c.fill(Rect{math.Round(x - post/2), math.Round(y - h/2), post, arm}, t.ink, 0)
			c.fill(Rect{math.Round(x - post/2), math.Round(y+h/2) - arm, post, arm}, t.ink, 0)
			c.add(Item{Shape: Ring, Role: t.ink, X: x, Y: y, R: 0.31 * h, Thick: hollow})
			break
		}
		bar(t.ink)
		c.disc(x, y, 0.31*h, t.ink)
	default:
		bar(t.ink)
		shape, away := HalfLeft, -1.0
		if (r.Verdict == drills.Inside) != left {
			shape, away = HalfRight, 1
		}
		c.add(Item{Shape: shape, Role: t.of(r.Verdict), X: x + away*(post/2+0.05*h), Y: y, R: 0.40 * h, Thick: hollow})
	}
}

// reach draws how far a reading reaches that is just on its side: 95 % of what
// it may be lies on the line.
func (c *canvas) reach(a axis, y, h float64, r drills.Rep) {
	if !r.Just || degrees(r) == "" {
		return
	}
	const sure = 1.96
	from, to := a.at(r.ShaftLine.Value-sure*r.ShaftLine.Sigma), a.at(r.ShaftLine.Value+sure*r.ShaftLine.Sigma)
	c.whisker(min(from, to), max(from, to), y, h)
}

// whisker is a line between two short posts.
func (c *canvas) whisker(from, to, y, h float64) {
	thick, tall := max(2, math.Round(0.06*h)), max(5, math.Round(0.3*h))
	c.fill(Rect{math.Round(from), math.Round(y - thick/2), math.Round(to - from), thick}, Ink, 0)
	for _, x := range []float64{from, to - thick} {
		c.fill(Rect{math.Round(x), math.Round(y - tall/2), thick, tall}, Ink, 0)
	}
}

// legend says what the marks of a set mean, as many as fit, the usual ones
// first.
func (c *canvas) legend(r Rect, hand drills.Hand) {
	h, x, y := math.Round(c.small*1.3), r.X, r.Y+math.Round(r.H/2)
	for _, l := range []struct {
		word string
		rep  drills.Rep
	}{
		{"counts", drills.Rep{Verdict: drills.InLine, Manner: drills.Swung}},
		{"swung?", drills.Rep{Verdict: drills.InLine, Manner: drills.Unsure}},
		{"placed", drills.Rep{Verdict: drills.InLine, Manner: drills.Placed}},
		{"just", drills.Rep{Verdict: drills.InLine, Manner: drills.Swung, Just: true}},
		{"short", drills.Rep{Verdict: drills.Short}},
		{"no reading", drills.Rep{Verdict: drills.NoReading}},
	} {
		before, after := markSides(l.rep, hand)
		if l.rep.Just {
			before, after = 0.8, 0.8
		}
		end := x + h*(before+after) + c.small*0.4 + c.ruler.Width(l.word, c.small, Regular)
		if end > r.Right() {
			return
		}
		if l.rep.Just {
			c.whisker(x, x+h*(before+after), y, h)
		}
		c.mark(x+h*before, y, h, l.rep, hand, onPage())
		c.text(end-c.ruler.Width(l.word, c.small, Regular), y+math.Round(c.small*CapHeight/2), l.word, c.small, Regular, Quiet)
		x = end + c.px(18)
	}
}

// markSides returns how far a mark of height 1 reaches to the left and to the right of its
// place.
func markSides(r drills.Rep, hand drills.Hand) (left, right float64) {
	switch {
	case r.Verdict == drills.NoReading:
		return 0.44, 0.44
	case r.Verdict == drills.Short:
		return 0.46, 0.46
	case r.Manner == drills.Placed:
		return 0.33, 0.33
	case r.Verdict == drills.InLine:
		return 0.31, 0.31
	case (r.Verdict == drills.Inside) == (hand == drills.Right):
		return 0.50, 0.05
	}
	return 0.05, 0.50
}
