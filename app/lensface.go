package app

import (
	"fmt"
	"math"
)

// FaceOffset is how a camera before the player's chest must be moved: AlongCm
// along the target line, + toward the target, to ± Cm; BackCm farther away from
// the player, − where there is room to spare.
type FaceOffset struct{ AlongCm, Cm, BackCm float64 }

// Under these the camera stands well, cm.
const (
	alongGood = 15.0
	backGood  = 5.0
)

// Good reports whether the camera stands well.
func (o FaceOffset) Good() bool { return math.Abs(o.AlongCm) < alongGood && o.BackCm < backGood }

// words say how to move the camera, a word and a length each, "" where it is
// good.
func (o FaceOffset) words() (back, backCm, along, alongCm string) {
	if o.BackCm >= backGood {
		back, backCm = "farther", fmt.Sprintf("%.0f cm", 5*math.Ceil(o.BackCm/5))
	}
	if math.Abs(o.AlongCm) >= alongGood {
		along, alongCm = "to target", fmt.Sprintf("%.0f cm", 5*math.Round(math.Abs(o.AlongCm)/5))
		if o.AlongCm < 0 {
			along = "from target"
		}
	}
	return back, backCm, along, alongCm
}

// faceOffset is how the camera before the chest must be moved, by what was seen
// last of a player at address; ok is false when that is not known.
func (s *lensScreen) faceOffset(a *App) (o FaceOffset, ok bool) {
	if a.d.Lens.Face == nil || a.d.Seen == nil || a.d.Hands == nil {
		return o, false
	}
	if x, y := a.d.Hands(); math.IsNaN(x) || math.IsNaN(y) {
		return o, false // nobody stands at address
	}
	p := a.live(0, liveLens)
	if p == nil {
		return o, false
	}
	seen, there := a.d.Seen(p.Seconds())
	if !there || !seen.Player || !seen.Hands.Sure() || !seen.Hips.Sure() {
		return o, false
	}
	b := a.bay
	b.Width, b.Height = p.Width, p.Height
	o, err := a.d.Lens.Face(b, seen, s.hand)
	if err != nil {
		s.why = err.Error()
		return o, false
	}
	return o, true
}

// faceWords writes the two corrections, read from the mat.
func (s *lensScreen) faceWords(c *canvas, r Rect, o FaceOffset, seen bool) {
	back, backCm, along, alongCm := o.words()
	if !seen {
		s.words(c, r, Offset{}, false)
		return
	}
	floor := min(c.floor, c.mat)
	row := math.Min(math.Round(c.mat*1.1), r.H/4)
	size := min(c.mat, math.Floor(row/1.05))
	put := func(y float64, word, cm string) {
		s1, _ := c.ruler.Fit(word, size, min(floor, size), Bold, r.W)
		base := y + math.Round(size*CapHeight)
		c.text(r.X, base, c.ruler.Cut(word, s1, Bold, r.W), s1, Bold, Ink)
		if cm != "" {
			c.text(r.X, base+row, cm, size, Bold, Ink)
		}
	}
	if back == "" {
		back = "far enough"
	}
	if along == "" {
		along = "in one line"
	}
	put(r.Y, back, backCm)
	y := r.Y + 2*row
	if backCm == "" {
		y = r.Y + row + c.px(8)
	}
	c.rule(r.X, r.Right(), y)
	put(y+c.px(14), along, alongCm)
}

// faceLines say at the laptop how a camera before the chest is put up.
func faceLines() []string {
	return []string{
		"Put the camera before your chest, across the target line: belly, ball and lens in one line.",
		"At the height of your hands, level, and so far away that the club stays in the picture: 3 to 4 m.",
		"Tell it how far it is from your hands. From here head, hips and arms are read along the target line; the shaft line cannot be read from here.",
	}
}
