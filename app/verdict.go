package app

import (
	"math"
	"strings"

	"drillbay/drills"
)

// verdict writes a rep's verdict as large as r lets it: the word, then mark
// and number, then how it was swung when that does not go without saying. Of a
// rep without a reading it writes why. All of it is read from the mat.
func (c *canvas) verdict(r Rect, rep drills.Rep, hand drills.Hand) {
	t := tellingOf(rep).short()
	role := onPage().of(rep.Verdict)
	floor := min(c.floor, c.mat)
	most := math.Round(1.4 * c.mat)
	words := []string{t.word}
	if _, ok := c.ruler.Fit(t.word, most, floor, Bold, r.W); !ok {
		words = strings.SplitN(t.word, " ", 2)
	}
	if t.why != "" {
		c.unread(r, words, t.why, floor)
		return
	}
	lines := len(words) + 1
	if t.how != "" {
		lines++
	}
	row := r.H / float64(lines)
	size := min(most, math.Floor(row/0.98))
	// Lines never cross: in a window too low for the mat the settings say how
	// near to stand.
	floor = min(floor, size)
	lift := 0.0
	if t.how != "" {
		lift = math.Round(0.07 * row) // what hangs from the last line stays inside
	}
	at := 0
	base := func() float64 {
		at++
		return r.Y + row*(float64(at)-0.5) + math.Round(size*CapHeight/2) - lift
	}
	for _, w := range words {
		big, _ := c.ruler.Fit(w, size, floor, Bold, r.W)
		c.text(r.X, base(), w, big, Bold, role)
	}
	h := size * 0.9
	y := base()
	before, after := markSides(rep, hand)
	x := r.X + h*before
	c.mark(x, y-math.Round(size*CapHeight/2), h, rep, hand, onPage())
	x += h * (after + 0.30)
	if number, side, _ := strings.Cut(t.angle, " "); number != "" {
		c.angle(x, y, r.Right(), size, floor, number, side, role)
	}
	if t.how != "" {
		s, _ := c.ruler.Fit(t.how, size, floor, Bold, r.W)
		c.text(r.X, base(), t.how, s, Bold, Ink)
	}
}

// verdictOver writes a verdict above something else of a given height. Where the verdict
// could not be read from the mat otherwise, the other thing gives way: first down to its
// least height, then altogether. It returns the height that is left of it, 0 for none.
func (c *canvas) verdictOver(r Rect, tall, least float64, rep drills.Rep, hand drills.Hand) float64 {
	need := math.Ceil(verdictLines(c, rep, r.W) * min(c.floor, c.mat) * 1.02)
	if tellingOf(rep).why == "" {
		tall = min(tall, max(r.H-c.px(8)-need, least))
	}
	words := Rect{r.X, r.Y, r.W, r.H - tall - c.px(8)}
	if need > words.H {
		words, tall = r, 0
	}
	c.verdict(words, rep, hand)
	return tall
}

// verdictLines returns how many lines a verdict takes in the smallest letters that can be
// read from the mat.
func verdictLines(c *canvas, rep drills.Rep, wide float64) float64 {
	t, floor := tellingOf(rep).short(), min(c.floor, c.mat)
	n := 1
	if c.ruler.Width(t.word, floor, Bold) > wide {
		n = 2
	}
	if t.why != "" {
		return float64(n + len(c.ruler.Wrap(t.why, floor, Bold, wide)))
	}
	if n++; t.how != "" {
		n++
	}
	return float64(n)
}

// angle writes degrees and the word with them on one line, the word smaller
// where there is little room.
func (c *canvas) angle(x, base, right, size, floor float64, number, word string, role Role) {
	if word == "" {
		fits, _ := c.ruler.Fit(number, size, floor, Bold, right-x)
		c.text(x, base, number, fits, Bold, role)
		return
	}
	gap := size * 0.25
	for big := size; ; big-- {
		small := min(big, max(floor, min(c.mat, big*0.75)))
		if c.ruler.Width(number, big, Bold)+gap+c.ruler.Width(word, small, Bold) <= right-x || big <= min(floor, size) {
			x = c.text(x, base, number, big, Bold, role) + gap
			small, _ = c.ruler.Fit(word, small, 1, Bold, right-x)
			c.text(x, base, word, small, Bold, role)
			return
		}
	}
}

// unread writes that a rep was not read, and why: both as large as the mat needs
// where they fit, and whole in any case.
func (c *canvas) unread(r Rect, words []string, why string, floor float64) {
	y, size := r.Y, min(c.mat, math.Floor(r.H/4))
	for _, w := range words {
		fits, _ := c.ruler.Fit(w, size, min(floor, size), Bold, r.W)
		y += math.Round(size * 1.05)
		c.text(r.X, y-math.Round(size*0.2), w, fits, Bold, Quiet)
	}
	// A word is as wide as it is: the longest sets the size.
	longest := ""
	for _, w := range strings.Fields(why) {
		if c.ruler.Width(w, 1, Bold) > c.ruler.Width(longest, 1, Bold) {
			longest = w
		}
	}
	size, _ = c.ruler.Fit(longest, size, 1, Bold, r.W)
	for size > c.small && float64(len(c.ruler.Wrap(why, size, Bold, r.W)))*math.Round(size*1.1) > r.Bottom()-y {
		size--
	}
	for _, l := range c.ruler.Wrap(why, size, Bold, r.W) {
		y += math.Round(size * 1.1)
		c.text(r.X, y-math.Round(size*0.22), l, size, Bold, Ink)
	}
}
