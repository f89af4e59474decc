package app

import (
	"fmt"
	"math"

	"drillbay/drills/bay"
)

// faceMoveWords say how to move the camera, a word and a length each, "" where it
// is good.
func faceMoveWords(o bay.FaceOffset) (back, backCm, along, alongCm string) {
	away, aside := o.Moves()
	if away > 0 {
		back, backCm = "farther away", fmt.Sprintf("%.0f cm", 5*math.Ceil(away/5))
	}
	if aside != 0 {
		along, alongCm = "toward the target", fmt.Sprintf("%.0f cm", 5*math.Round(math.Abs(aside)/5))
		if aside < 0 {
			along = "away from the target"
		}
	}
	return back, backCm, along, alongCm
}

// faceOffset says how to move the camera before the chest, from what was last seen of a
// player at address; ok is false when that is not known.
func (s *lensScreen) faceOffset(a *App) (o bay.FaceOffset, ok bool) {
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
func (s *lensScreen) faceWords(c *canvas, r Rect, o bay.FaceOffset, seen bool) {
	if !seen || o.Good() {
		s.words(c, r, bay.Offset{}, seen)
		return
	}
	back, backCm, along, alongCm := faceMoveWords(o)
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
		"Give the distance to your hands. Head, hips and arms are read from here, along the target line; the shaft line is not.",
	}
}
