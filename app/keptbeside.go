package app

import (
	"fmt"
	"slices"
	"strings"

	"drillbay/drills/book"
)

// beside lays two kept clips on one time: what is first and second of each is what is
// added to it for their own times, s.
type beside struct {
	with          book.ClipLine // the first one
	times         []float64     // of both together
	first, second float64
	words         string // by what they were laid so
}

// layBeside lays the level moments of two clips on each other, or where one of them has
// none their beginnings. The times are those of their pictures.
func layBeside(one, two book.ClipLine, first, second []float64) beside {
	b := beside{with: one, first: first[0], second: second[0]}
	var lacking []string
	for _, c := range []book.ClipLine{one, two} {
		if c.Level == 0 && !strings.HasSuffix(c.File, ".jpg") {
			lacking = append(lacking, c.File)
		}
	}
	switch {
	case strings.HasSuffix(one.File, ".jpg") || strings.HasSuffix(two.File, ".jpg"):
		b.words = "A picture stands still."
	case len(lacking) == 2:
		b.words = "Both run from their start: the level moment of neither is kept."
	case len(lacking) == 1:
		b.words = fmt.Sprintf("Both run from their start: the level moment of %s is not kept.", lacking[0])
	default:
		b.first, b.second, b.words = one.Level, two.Level, "Both are level at the same moment."
	}
	// The steps are those of the first clip, and beyond it those of the second.
	from, to := first[0]-b.first, first[len(first)-1]-b.first
	for _, t := range first {
		b.times = append(b.times, t-b.first)
	}
	for _, t := range second {
		if t -= b.second; t < from || t > to {
			b.times = append(b.times, t)
		}
	}
	slices.Sort(b.times)
	return b
}

// during is a time of a clip that is nearest to another: before it begins it stands at its
// first picture, and at its last when it is over.
func during(times []float64, t float64) float64 {
	return min(max(t, times[0]), times[len(times)-1])
}

// named writes on a picture which clip it is, and whose where the file does not say that.
func (c *canvas) named(at Rect, clip book.ClipLine) {
	word := clip.File
	if !strings.HasPrefix(word, clip.Who) {
		word = clip.Who + ", " + word
	}
	c.tag(at.X+c.px(10), at.Y+c.px(10), c.ruler.Cut(word, c.small, Medium, at.W-c.px(40)))
}
