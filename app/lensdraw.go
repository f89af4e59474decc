package app

import (
	"math"

	"drillbay/camera/frame"
	"drillbay/drills"
	"drillbay/drills/bay"
)

// speak leads the player at the mat by voice: what has changed after a
// moment, what has not after a while, and what is good once.
func (s *lensScreen) speak(a *App, o bay.Offset) {
	if a.d.Say == nil || !a.setup.Voice {
		return
	}
	o.UpCm, o.NearCm = 2*math.Round(o.UpCm/2), 2*math.Round(o.NearCm/2)
	words, good := spokenMove(o), o.Good()
	since := a.now - s.saidAt
	if s.said != "" && (since < 5 || words == s.said && (good || since < 12)) {
		return
	}
	s.said, s.saidAt = words, a.now
	a.d.Say(o)
}

func (s *lensScreen) draw(a *App, c *canvas) {
	p := s.picture(a)
	if p != nil {
		s.offer(a, p.Width, p.Height)
	}
	o, hands, seen := s.offset(a)
	if seen && s.step == standBy {
		s.speak(a, o)
	}
	column := c.px(400)
	if s.step == standBy {
		// The words are read from the mat: they get what they need at the
		// least size, and the picture the rest.
		longest := "nearer"
		if s.bay(a).FaceOn {
			longest = "from target"
		}
		need := c.ruler.Width(longest, max(min(c.floor, c.mat), c.mat*0.86), Bold)
		column = min(max(need+c.px(4), c.px(416)), c.Width*0.62)
	}
	face, faced := bay.FaceOffset{}, false
	if s.bay(a).FaceOn {
		face, faced = s.faceOffset(a)
	}
	view := "face-on"
	if s.bay(a).FaceOn {
		view = "down the line"
	}
	keys := []button{{do: Go, word: "next"}, {do: Back, word: "back"}}
	other := []button{{do: Against, word: view}}
	if _, two := a.otherView(); two {
		other = nil // there are both
	}
	if s.step == drawLines && s.bay(a).FaceOn {
		keys = append(other, keys...)
		if len(s.level) > 0 {
			keys = append([]button{{do: TakeBack, word: "not level"}}, keys...)
		} else if s.view(a).Lens.Level != nil {
			keys = append([]button{{do: SayAgain, word: "find lines"}}, keys...)
		}
	} else if s.step == drawLines {
		keys = append(append(other, button{do: Next, word: "next end"}), keys...)
		if s.view(a).Lens.Find != nil {
			keys = append([]button{{do: SayAgain, word: "find lines"}}, keys...)
		}
	} else {
		word := "move lines"
		if s.bay(a).FaceOn {
			word = "place it"
		}
		keys = append([]button{{do: Lines, word: word}}, keys...)
	}
	cue := [...]string{"Mark two lines", "Hang the club", "Stand at address"}[s.step]
	if s.bay(a).FaceOn && s.step == drawLines {
		cue = "Place the camera"
	}
	if s.step == standBy {
		keys[1].word = "good enough"
		if seen && o.Good() || faced && face.Good() {
			cue = "Good, leave the camera there"
		}
	}
	facts := []string{a.d.Snapshot().Player.Name, s.bay(a).Name}
	if s.second {
		camera, _ := a.otherView()
		facts[1] = "other view: " + camera
	}
	c.head("Lens", facts, keys...)
	bar := c.bar(cue)
	top := c.headHeight() + c.px(12)
	foot := bar - c.px(96)
	box := Rect{c.margin, top, c.Width - 2*c.margin - c.px(32) - column, foot - top}
	at := box
	if p != nil {
		at = c.show(0, p, box, Rect{})
		at.X, at.Y = c.margin, top
		c.Items[len(c.Items)-1].X, c.Items[len(c.Items)-1].Y = at.X, at.Y
		s.over = over{at, Rect{0, 0, float64(p.Width), float64(p.Height)}}
		through := s.bay(a).TargetIn(p.Width, p.Height)
		if seen {
			through = drills.Pixel{X: math.NaN(), Y: math.NaN()} // the way of the lens is drawn there
		}
		c.seen(s.view(a).Seen, s.over, p.Seconds(), through, c.px(10))
		s.drawLines(a, c, hands, seen)
		if s.view(a).Lens.Shifted != nil && s.view(a).Lens.Shifted() {
			c.tag(at.X+c.px(12), at.Bottom()-c.small*1.6-c.px(6), "the picture has shifted: check that the lines still fit")
		}
		if seen && s.step == standBy {
			s.closer(a, c, p, hands, o)
		}
		if s.second && a.d.Other.Tied != nil {
			lines := c.ruler.Wrap(a.d.Other.Tied(), c.small, Medium, at.W-c.px(24)-c.small)
			for i, line := range lines {
				c.tag(at.X+c.px(12), at.Bottom()-c.small*(1.1+1.7*float64(len(lines)-i)), line)
			}
		}
	} else {
		c.fill(box, Plate, 0)
		c.middle(box.X+box.W/2, box.Y+box.H/2, "no picture from the camera", c.heading, Regular, Quiet)
	}
	x := at.Right() + c.px(32)
	right := Rect{x, top, c.Width - c.margin - x, foot - top}
	if s.step == standBy && s.bay(a).FaceOn {
		s.faceWords(c, right, face, faced)
	} else if s.step == standBy {
		s.words(c, right, o, seen)
	} else {
		s.explain(a, c, right)
	}
	s.below(a, c, Rect{c.margin, foot, c.Width - 2*c.margin, bar - foot}, o, seen)
}

// drawLines draws lines, horizon, target point and hands over the picture.
func (s *lensScreen) drawLines(a *App, c *canvas, hands drills.Pixel, seen bool) {
	o, b := s.over, *s.bay(a)
	if b.HasTarget() {
		slope := math.Tan(b.Roll * math.Pi / 180)
		// The horizon runs through the target point, tilted by the roll.
		l, r := b.Target.Y-slope*b.Target.X, b.Target.Y+slope*(o.crop.W-b.Target.X)
		if l > 0 && r > 0 && l < o.crop.H && r < o.crop.H {
			c.casedDashes(o.x(0), o.y(l), o.x(o.crop.W), o.y(r), max(2, c.px(3)), c.px(14))
			c.tag(o.at.X+c.px(12), o.y(l)+c.px(10), "horizon")
		}
	}
	if b.FaceOn {
		if s.step == drawLines {
			for _, line := range s.level {
				c.cased(o.x(line.A.X), o.y(line.A.Y), o.x(line.B.X), o.y(line.B.Y), c.px(5), Core)
			}
		}
		return
	}
	for i, line := range b.Lines {
		ax, ay, bx, by := o.x(line.A.X), o.y(line.A.Y), o.x(line.B.X), o.y(line.B.Y)
		if b.HasTarget() && o.holds(b.Target.X, b.Target.Y) {
			c.cased(bx, by, o.x(b.Target.X), o.y(b.Target.Y), max(1, c.px(2)), Core)
		}
		c.cased(ax, ay, bx, by, c.px(5), Core)
		if s.step == drawLines {
			for e, p := range []drills.Pixel{line.A, line.B} {
				r := c.px(10)
				if 2*i+e == s.end {
					r = c.px(14)
				}
				c.targetMark(o.x(p.X), o.y(p.Y), r)
			}
		}
	}
	if b.HasTarget() && o.holds(b.Target.X, b.Target.Y) {
		x, y := o.x(b.Target.X), o.y(b.Target.Y)
		if seen {
			c.path(x, y, o.x(hands.X), o.y(hands.Y))
		}
		c.targetMark(x, y, c.px(15))
		c.tagClear(o.at, x, y-c.px(44), c.px(18), "target point")
	}
	if seen {
		c.dot(o.x(hands.X), o.y(hands.Y), c.px(11), Core)
		c.tagClear(o.at, o.x(hands.X), o.y(hands.Y), c.px(18), "hands at address")
	}
	if math.Abs(b.Roll) >= 0.5 {
		word := rollWords(b) + ": level the camera"
		c.tag(o.at.Right()-c.ruler.Width(word, c.small, Medium)-c.small-c.px(10), o.at.Y+c.px(10), word)
	}
}

// path draws the way of the lens, from the target point to the hands: across
// first, then up or down.
func (c *canvas) path(x1, y1, x2, y2 float64) {
	thick := c.px(5)
	c.line(x1, y1, x2, y1, thick+2*c.casing(), Casing)
	c.line(x2, y1, x2, y2, thick+2*c.casing(), Casing)
	c.line(x1, y1, x2, y1, thick, Core)
	c.line(x2, y1, x2, y2, thick, Core)
}

// closer magnifies the place of hands and target point in a corner, the path
// notched by 5 cm, when they are too close together to be told apart.
func (s *lensScreen) closer(a *App, c *canvas, p *frame.Picture, hands drills.Pixel, o bay.Offset) {
	b := *s.bay(a)
	across, down := math.Abs(hands.X-b.Target.X), math.Abs(hands.Y-b.Target.Y)
	side := math.Round(0.42 * s.over.at.H)
	see := max(1.7*max(across, down), 60)
	if see > side/s.over.at.H*s.over.crop.H*0.8 || a.view.Pictures[1] != nil {
		return
	}
	mid := drills.Pixel{X: (hands.X + b.Target.X) / 2, Y: (hands.Y + b.Target.Y) / 2}
	crop := Rect{mid.X - see/2, mid.Y - see/2, see, see}
	crop.X = min(max(crop.X, 0), s.over.crop.W-see)
	crop.Y = min(max(crop.Y, 0), s.over.crop.H-see)
	r := Rect{s.over.at.Right() - side - c.px(8), s.over.at.Bottom() - side - c.px(8), side, side}
	c.fill(r.Inset(-c.px(4)), Casing, 0)
	in := over{c.show(1, p.Retain(), r, crop), crop}
	tx, ty, hx, hy := in.x(b.Target.X), in.y(b.Target.Y), in.x(hands.X), in.y(hands.Y)
	c.path(tx, ty, hx, hy)
	notch := c.px(12)
	if n := math.Abs(o.NearCm) / 5; n >= 1 && n <= 12 {
		for k := 1.0; k <= n; k++ {
			x := tx + (hx-tx)*k/n
			c.cased(x, ty-notch, x, ty+notch, c.px(4), Core)
		}
	}
	if n := math.Abs(o.UpCm) / 5; n >= 1 && n <= 12 {
		for k := 1.0; k <= n; k++ {
			y := ty + (hy-ty)*k/n
			c.cased(hx-notch, y, hx+notch, y, c.px(4), Core)
		}
	}
	c.targetMark(tx, ty, c.px(15))
	c.dot(hx, hy, c.px(13), Core)
	if math.Abs(o.UpCm) >= 5 || math.Abs(o.NearCm) >= 5 {
		c.tag(r.X+c.px(6), r.Bottom()-c.small*1.6-c.px(6), "notch "+c.units().short(5))
	}
}
