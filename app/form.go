package app

import (
	"math"

	"drillbay/app/widget"
)

// field draws a text field, its cursor when it has the focus.
func (c *canvas) field(r Rect, f *widget.Field, focus bool) {
	c.fill(r, Plate, 4)
	thick := c.stroke(1)
	if focus {
		thick = c.stroke(3)
	}
	c.frame(r, Ink, thick, 4)
	pad := c.px(12)
	size := min(math.Round(r.H*0.5), c.title)
	runes := []rune(f.Text())
	// The text slides so that the cursor stays in view.
	from := 0
	for from < f.Cursor() && c.ruler.Width(string(runes[from:f.Cursor()]), size, Regular) > r.W-2*pad {
		from++
	}
	shown := string(runes[from:])
	for len(shown) > 0 && c.ruler.Width(shown, size, Regular) > r.W-2*pad {
		_, n := lastRune(shown)
		shown = shown[:len(shown)-n]
	}
	base := r.Y + math.Round(r.H/2+size*CapHeight/2)
	c.letters(r.X+pad, base, shown, size, Regular, Ink)
	if focus {
		x := r.X + pad + c.ruler.Width(string(runes[from:f.Cursor()]), size, Regular)
		c.fill(Rect{math.Round(x), base - size, max(2, c.px(2)), math.Round(size * 1.25)}, Ink, 0)
	}
}

func lastRune(s string) (r rune, size int) {
	runes := []rune(s)
	r = runes[len(runes)-1]
	return r, len(string(r))
}

// options draws choices side by side, the chosen one inverted, and returns
// the right edge. Pressing one sends Choose with base plus its place.
func (c *canvas) options(x, y, height float64, choice *widget.Choice, focus bool, base int) float64 {
	from := x
	for i, o := range choice.Options {
		w := math.Round(c.ruler.Width(o, c.body, Medium) + 2*c.px(16))
		r := Rect{math.Round(x), y, w, height}
		role := Ink
		if i == choice.Chosen() {
			c.fill(r, Ink, 4)
			role = Page
		} else {
			c.frame(r, Edge, c.stroke(1), 4)
		}
		c.middle(r.X+w/2, y+math.Round(height/2+c.body*CapHeight/2), o, c.body, Medium, role)
		c.press(r, Choose, base+i)
		x = r.Right() + c.px(8)
	}
	if focus {
		c.frame(Rect{from, y, x - from - c.px(8), height}.Inset(-c.stroke(6)), Ink, c.stroke(3), 7)
	}
	return x
}
