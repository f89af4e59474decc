package app

import (
	"math"

	"drillbay/camera/frame"
	"drillbay/drills/book"
)

// canvas collects a view.
type canvas struct {
	*View
	scales
	ruler  *Ruler
	setup  book.Setup
	now    float64
	margin float64
	told   float64 // height of the notices under the head
	// keyless leaves out the keys of the head: on a screen that has none.
	keyless bool
	covers  bool    // notices stand in the place that the screen keeps for them
	free    float64 // where the head ends for them
	// lasting are the marks of conditions that last, "no sound" say; markAt is where they
	// were drawn.
	lasting []string
	markAt  []Rect
}

func (c *canvas) add(i Item) { c.Items = append(c.Items, i) }

// px is a length at 1280×720 in px of this window, whole.
func (c *canvas) px(v float64) float64 { return math.Round(v * c.k) }

// stroke is how thick a line is that must be seen, px: never thinner than on a small window.
func (c *canvas) stroke(v float64) float64 { return max(v, c.px(v)) }

func (c *canvas) fill(r Rect, role Role, corner float64) {
	c.add(Item{Shape: Fill, Role: role, X: r.X, Y: r.Y, W: r.W, H: r.H, R: corner})
}

func (c *canvas) frame(r Rect, role Role, thick, corner float64) {
	c.add(Item{Shape: Frame, Role: role, X: r.X, Y: r.Y, W: r.W, H: r.H, Thick: thick, R: corner})
}

func (c *canvas) line(x1, y1, x2, y2, thick float64, role Role) {
	c.add(Item{Shape: Line, Role: role, X: x1, Y: y1, W: x2, H: y2, Thick: thick})
}

func (c *canvas) dashed(x1, y1, x2, y2, thick, dash float64, role Role) {
	c.add(Item{Shape: Line, Role: role, X: x1, Y: y1, W: x2, H: y2, Thick: thick, Dash: dash})
}

func (c *canvas) disc(x, y, r float64, role Role) {
	c.add(Item{Shape: Disc, Role: role, X: x, Y: y, R: r})
}

// rule is a thin level line.
func (c *canvas) rule(x1, x2, y float64) {
	c.fill(Rect{x1, math.Round(y), x2 - x1, max(1, math.Round(c.k))}, Edge, 0)
}

// text writes from x on and returns where it ends.
func (c *canvas) text(x, y float64, s string, size float64, w Weight, role Role) float64 {
	return c.letters(x, y, c.units().text(s), size, w, role)
}

// letters writes a text as it stands, what somebody types say.
func (c *canvas) letters(x, y float64, s string, size float64, w Weight, role Role) float64 {
	if s == "" {
		return x
	}
	c.add(Item{Shape: Text, Role: role, X: math.Round(x), Y: math.Round(y), Text: s, Size: size, Weight: w})
	return x + c.ruler.Width(s, size, w)
}

// fitted writes a text in a room of its own: smaller where it must be, down to
// least, and cut only where that is not enough.
func (c *canvas) fitted(x, y, room float64, s string, size, least float64, w Weight, role Role) float64 {
	s = c.units().text(s)
	size, _ = c.ruler.Fit(s, size, min(least, size), w, room)
	return c.letters(x, y, c.ruler.Cut(s, size, w, room), size, w, role)
}

// before writes so that the text ends at x and returns where it begins.
func (c *canvas) before(x, y float64, s string, size float64, w Weight, role Role) float64 {
	s = c.units().text(s)
	x -= c.ruler.Width(s, size, w)
	c.letters(x, y, s, size, w, role)
	return x
}

// middle writes around x.
func (c *canvas) middle(x, y float64, s string, size float64, w Weight, role Role) {
	s = c.units().text(s)
	c.letters(x-c.ruler.Width(s, size, w)/2, y, s, size, w, role)
}

// paragraph writes wrapped lines and returns the baseline below the last.
func (c *canvas) paragraph(x, y, width float64, s string, size float64, w Weight, role Role) float64 {
	for _, l := range c.ruler.Wrap(c.units().text(s), size, w, width) {
		c.letters(x, y, l, size, w, role)
		y += math.Round(size * 1.32)
	}
	return y
}

// press makes a rectangle mean an action.
func (c *canvas) press(r Rect, d Do, n int) { c.Hits = append(c.Hits, Hit{r, d, n}) }

// key draws a key cap, at its left upper corner, and returns its right edge.
func (c *canvas) key(x, y, size float64, cap string, role Role) float64 {
	pad := math.Round(size * 0.42)
	w := max(math.Round(c.ruler.Width(cap, size, Medium))+2*pad, math.Round(size*1.7))
	h := c.keyHeight(size)
	r := Rect{math.Round(x), math.Round(y), w, h}
	c.frame(r, role, max(2, math.Round(size*0.1)), math.Round(size*0.18))
	c.middle(r.X+w/2, r.Y+math.Round(h/2+size*CapHeight/2), cap, size, Medium, role)
	return r.Right()
}

func (c *canvas) keyHeight(size float64) float64 { return math.Round(size * 1.5) }

// keyWidth returns the width that key draws a cap in.
func (c *canvas) keyWidth(cap string, size float64) float64 {
	return max(math.Round(c.ruler.Width(cap, size, Medium))+2*math.Round(size*0.42), math.Round(size*1.7))
}

// button is a key cap with its word; it can be pressed.
type button struct {
	do   Do
	word string
	n    int
}

// cap returns the text on the button's key.
func (b button) cap() string {
	if b.do == Number || b.do == Choose {
		return string(rune('0' + b.n))
	}
	return b.do.Cap()
}

// button draws one from x on, its middle at height y, and returns its end.
func (c *canvas) button(x, y, size float64, b button, role Role) float64 {
	h := c.keyHeight(size)
	end := c.key(x, y-h/2, size, b.cap(), Ink)
	end = c.text(end+math.Round(size*0.45), y+math.Round(size*CapHeight/2), b.word, size, Regular, role)
	c.press(Rect{x - 4, y - h/2 - 4, end - x + 8, h + 8}, b.do, b.n)
	return end
}

func (c *canvas) buttonWidth(b button, size float64) float64 {
	return c.keyWidth(b.cap(), size) + math.Round(size*0.45) + c.ruler.Width(b.word, size, Regular)
}

// headHeight returns the height of the thin head of a screen and the notices under it.
func (c *canvas) headHeight() float64 { return c.thinHead() + c.told }

func (c *canvas) thinHead() float64 { return math.Round(c.body * 2) }

// head draws where the user is, and the keys, last ones first to give way.
func (c *canvas) head(name string, facts []string, keys ...button) {
	if c.keyless {
		keys = nil
	}
	y := c.thinHead() / 2
	base := y + math.Round(c.body*CapHeight/2)
	if c.covers { // a notice is told there; the last key stays
		if n := len(keys); n > 0 {
			w := c.buttonWidth(keys[n-1], c.small)
			c.button(c.Width-c.margin-w, y, c.small, keys[n-1], Quiet)
			c.free = c.Width - w - 2*c.margin
		}
		return
	}
	x := c.text(c.margin, base, name, c.body, Bold, Ink)
	gap := math.Round(c.body)
	// The keys come first: they are what the user cannot guess. But who it is
	// about is said as well.
	right := c.Width - c.margin
	limit := x + gap + c.marksWidth()
	if len(facts) > 0 {
		limit += min(c.ruler.Width(facts[0], c.body, Regular), math.Round(c.Width*0.3))
	}
	for i := len(keys) - 1; i >= 0; i-- {
		b := keys[i]
		w := c.buttonWidth(b, c.small)
		if right-w-c.px(20) < limit+gap {
			continue
		}
		c.button(right-w, y, c.small, b, Quiet)
		right -= w + c.px(20)
	}
	x += gap
	for i, f := range facts {
		if i == 1 {
			x = c.marks(x, base)
		}
		if f == "" {
			continue
		}
		room := right - gap - x
		if c.ruler.Width(f, c.body, Regular) > room {
			// The first one, a name, may be cut; the others stand whole or not.
			if f = c.ruler.Cut(f, c.body, Regular, room); i > 0 || len([]rune(f)) < 6 {
				break
			}
		}
		x = c.text(x, base, f, c.body, Regular, Quiet) + gap
	}
	if len(facts) < 2 {
		c.marks(x, base)
	}
}

// bar draws the cue bar at the foot and returns its upper edge.
func (c *canvas) bar(cue string) float64 {
	h := c.barHeight()
	top := c.Height - h
	c.fill(Rect{0, top, c.Width, h}, Ink, 0)
	size, _ := c.ruler.Fit(cue, c.mat, min(c.floor, c.mat), Bold, c.Width-2*c.margin)
	cue = c.ruler.Cut(cue, size, Bold, c.Width-2*c.margin)
	c.middle(c.Width/2, top+math.Round(h/2+size*(CapHeight/2-0.06)), cue, size, Bold, Page)
	return top
}

func (c *canvas) barHeight() float64 { return math.Round(c.mat * 1.14) }

// show puts a picture, which the view takes over, into a slot, as large as
// fits r, and returns where it lies. Crop is the part of it that is seen.
func (c *canvas) show(slot int, p *frame.Picture, r Rect, crop Rect) Rect {
	if crop.W == 0 {
		crop = Rect{0, 0, float64(p.Width), float64(p.Height)}
	}
	scale := min(r.W/crop.W, r.H/crop.H)
	w, h := math.Round(crop.W*scale), math.Round(crop.H*scale)
	if r.W-w <= 2 && r.H-h <= 2 { // a crop is of whole px
		w, h = math.Round(r.W), math.Round(r.H)
	}
	out := Rect{math.Round(r.X + (r.W-w)/2), math.Round(r.Y + (r.H-h)/2), w, h}
	c.Pictures[slot] = p
	c.add(Item{Shape: Picture, X: out.X, Y: out.Y, W: w, H: h, Slot: slot, Crop: crop})
	return out
}

// tag writes words on the picture, on a plate of their own.
func (c *canvas) tag(x, y float64, s string) Rect {
	s = c.units().text(s)
	w := c.ruler.Width(s, c.small, Medium)
	r := Rect{math.Round(x), math.Round(y), math.Round(w + c.small), math.Round(c.small * 1.6)}
	c.fill(r, Casing, math.Round(4*max(c.k, 1)))
	c.text(r.X+math.Round(c.small/2), r.Y+math.Round(r.H/2+c.small*CapHeight/2), s, c.small, Medium, Core)
	return r
}
