package app

import (
	"math"

	"drillbay/drills"
)

// lost writes below a verdict what the rep lost of the body, in a few words to
// be read from the mat, and returns the room that is left above.
func (c *canvas) lost(r Rect, l drills.Loss) Rect {
	words := l.String()
	if words == "" {
		return r
	}
	size, _ := c.ruler.Fit(words, c.mat, min(c.floor, c.mat), Regular, r.W)
	lines := c.ruler.Wrap(words, size, Regular, r.W)
	for size > c.small && size*float64(len(lines)) > 0.45*r.H { // the verdict comes first
		size--
		lines = c.ruler.Wrap(words, size, Regular, r.W)
	}
	for w := r.W * 0.97; ; w *= 0.97 { // lines of like length read quicker
		even := c.ruler.Wrap(words, size, Regular, w)
		if len(even) > len(lines) || c.ruler.Width(longest(even), size, Regular) > w {
			break
		}
		lines = even
	}
	if len(lines) > 2 {
		lines = append(lines[:1], c.ruler.Cut(lines[1]+" …", size, Regular, r.W))
	}
	tall := math.Round(size)
	y := r.Bottom() - tall*float64(len(lines))
	for i, line := range lines {
		c.text(r.X, y+tall*float64(i)+math.Round(size*0.8), line, size, Regular, Quiet)
	}
	return Rect{r.X, r.Y, r.W, y - r.Y}
}

// longest is the line of most letters.
func longest(lines []string) (out string) {
	for _, l := range lines {
		if len(l) > len(out) {
			out = l
		}
	}
	return out
}
