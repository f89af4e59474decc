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
		back, backCm = "farther away", fmt.Sprintf("%.0f cm", 5*math.Ceil(o.BackCm/5))
	}
	if math.Abs(o.AlongCm) >= alongGood {
		along, alongCm = "toward the target", fmt.Sprintf("%.0f cm", 5*math.Round(math.Abs(o.AlongCm)/5))
		if o.AlongCm < 0 {
			along = "away from the target"
		}
	}
	return back, backCm, along, alongCm
}

// faceOffset is how the camera before the chest must be moved, by what was seen
// last of a player at address; ok is false when that is not known.
func (s *lensScreen) faceOffset(a *App) (o FaceOffset, ok bool) {
	if s.view(a).Lens.Face == nil || s.view(a).Seen == nil || s.view(a).Hands == nil {
		return o, false
	}
	if x, y := s.view(a).Hands(); math.IsNaN(x) || math.IsNaN(y) {
		return o, false // nobody stands at address
	}
	p := s.picture(a)
	if p == nil {
		return o, false
	}
	defer p.Release()
	seen, there := s.view(a).Seen(p.Seconds())
	if !there || !seen.Player || !seen.Hands.Sure() || !seen.Hips.Sure() {
		return o, false
	}
	b := *s.bay(a)
	b.Width, b.Height = p.Width, p.Height
	o, err := s.view(a).Lens.Face(b, seen, s.hand)
	if err != nil {
		s.why = err.Error()
		return o, false
	}
	return o, true
}

// faceWords writes the one correction that matters most now, read from the mat;
// what comes after it is told small.
func (s *lensScreen) faceWords(c *canvas, r Rect, o FaceOffset, seen bool) {
	if !seen || o.Good() {
		s.words(c, r, Offset{}, seen)
		return
	}
	back, backCm, along, alongCm := o.words()
	first, after := correction{back, backCm, -1}, ""
	switch {
	case back == "":
		first = correction{along, alongCm, -1}
	case along != "":
		after = "Then move the camera " + alongCm + " " + along + "."
	}
	c.correct(r, first, after)
}

// faceLines say at the laptop how a camera before the chest is put up.
func faceLines() []string {
	return []string{
		"Put the camera in front of you, across the target line: belly, ball and lens in one line.",
		"At the height of your hands, level, and so far away that the club stays in the picture: 3 to 4 m.",
		"Tell it how far it is from your hands. From here head, hips and arms are read along the target line; the shaft line cannot be read from here.",
	}
}
