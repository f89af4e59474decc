package app

import (
	"math"

	"drillbay/drills"
)

// verdict writes a rep's verdict as large as r lets it: the word, then mark
// and number, then how it was swung when that does not go without saying.
func (c *canvas) verdict(r Rect, rep drills.Rep, hand drills.Hand) {
	role := onPage().of(rep.Verdict)
	word, number, how := rep.Verdict.String(), shown(rep), manner(rep)
	if rep.Why == drills.SeenFaceOn {
		word, how = rep.Manner.String(), "" // there is no shaft line to judge
	}
	lines := 2.0
	if how != "" {
		lines = 3
	}
	floor := min(c.floor, c.mat)
	size := min(math.Round(1.4*c.mat), math.Floor(r.H/lines/0.98))
	// Lines never cross: in a window too low for the mat the settings say how
	// near to stand.
	floor = min(floor, size)
	row := r.H / lines
	lift := 0.0
	if how != "" {
		lift = math.Round(0.07 * row) // what hangs from the last line stays inside
	}
	base := func(i float64) float64 { return r.Y + row*i + row/2 + math.Round(size*CapHeight/2) - lift }
	big, _ := c.ruler.Fit(word, size, floor, Bold, r.W)
	c.text(r.X, base(0), word, big, Bold, role)
	h := size * 0.9
	before, after := markSides(rep, hand)
	x := r.X + h*before
	c.mark(x, base(1)-math.Round(size*CapHeight/2), h, rep, hand, onPage())
	x += h * (after + 0.30)
	if number != "" {
		fits, _ := c.ruler.Fit(number, size, floor, Bold, r.Right()-x)
		x = c.text(x, base(1), number, fits, Bold, role)
		if rep.Just {
			x += size * 0.22
			if s, ok := c.ruler.Fit("just", min(size, c.mat), floor, Bold, r.Right()-x); ok {
				c.text(x, base(1), "just", s, Bold, role)
			}
		}
	} else if rep.Why != "" {
		y := base(1) - math.Round(size*CapHeight/2) - c.px(6)
		c.paragraph(x, y, r.Right()-x, rep.Why, c.title, Regular, Quiet)
	}
	if how != "" {
		s, _ := c.ruler.Fit(how, size, floor, Bold, r.W)
		c.text(r.X, base(2), c.ruler.Cut(how, s, Bold, r.W), s, Bold, Ink)
	}
}
