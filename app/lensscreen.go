package app

import (
	"math"

	"drillbay/app/widget"
	"drillbay/drills"
	"drillbay/drills/bay"
)

// lensStep is one of the three steps of setting the lens.
type lensStep int

const (
	drawLines lensStep = iota // at the laptop
	hangClub                  // at the mat
	standBy                   // at the mat
)

var lensSteps = [...]string{"Lines on the ground", "Hang the club", "Stand at address"}

// lensScreen says which way to move the lens, and how far, so that the hands
// at address sit on the target point.
type lensScreen struct {
	step   lensStep
	end    int // which end of a line the arrows nudge, two a line
	drag   int // the end being dragged, -1 none
	over   over
	value  int // 0 distance, 1 club, 2 field of view
	hand   drills.Hand
	why    string
	moved  int // the lines that were moved by hand, a bit each
	rolled bool
	usual  bool // the lines are only somewhere to drag them from
	found  bool // the lines were found in the picture
	seek   bool // they are to be found anew
	said   string
	saidAt float64
	second bool          // the second camera's lens is set
	level  []bay.Segment // the lines that the roll was taken from, face-on
	unlike bool          // the user says that they are not level
}

func (*lensScreen) name() string { return "lens" }

func newLensScreen(a *App) *lensScreen {
	s := &lensScreen{drag: -1, hand: a.d.Snapshot().Player.Hand}
	s.begin(a)
	return s
}

// offer puts lines where they were found, or somewhere to drag them from
// until some are.
func (s *lensScreen) offer(a *App, width, height int) {
	b := s.bay(a)
	if b.FaceOn {
		s.offerLevel(a)
		return
	}
	have := len(b.Lines) >= 2 && b.Width == width && b.Height == height
	if have && !s.usual && !s.seek {
		return
	}
	if s.view(a).Lens.Find != nil {
		if found := s.view(a).Lens.Find(); len(found) >= 2 {
			b.Lines, b.Width, b.Height = found, width, height
			s.usual, s.seek, s.found, s.end = false, false, true, 0
			s.solve(a)
			return
		}
	}
	if have {
		return
	}
	s.usual = true
	w, h := float64(width), float64(height)
	b.Lines = []bay.Segment{
		{A: drills.Pixel{X: 0.40 * w, Y: 0.92 * h}, B: drills.Pixel{X: 0.46 * w, Y: 0.70 * h}},
		{A: drills.Pixel{X: 0.70 * w, Y: 0.92 * h}, B: drills.Pixel{X: 0.60 * w, Y: 0.70 * h}},
	}
	b.Width, b.Height = width, height
	s.solve(a)
}

// offerLevel takes the roll of a camera before the chest from lines on the ground,
// where it was not measured before or is to be found anew.
func (s *lensScreen) offerLevel(a *App) {
	b, find := s.bay(a), s.view(a).Lens.Level
	if find == nil || s.step != drawLines || s.unlike || !s.seek && (len(s.level) > 0 || b.RollSd > 0) {
		return
	}
	if l, ok := find(); ok {
		s.level, s.seek = l.Lines, false
		b.Roll, b.RollSd = l.Roll, l.Sd
		s.mark(a)
	}
}

// askAnew has lines found anew.
func (s *lensScreen) askAnew(a *App) {
	w := s.view(a).Lens
	s.seek = s.step == drawLines && (w.Find != nil || w.Level != nil)
	s.unlike = false
}

// takeBack takes the roll back that lines gave which are not level.
func (s *lensScreen) takeBack(a *App) {
	if len(s.level) == 0 {
		return
	}
	s.level, s.unlike = nil, true
	b := s.bay(a)
	b.Roll, b.RollSd = 0, 0
}

// byHand notes that the user has put a line's end in its place.
func (s *lensScreen) byHand(a *App, end int) {
	s.usual, s.seek = false, false
	if i := end / 2; i >= 0 && i < len(s.bay(a).Lines) {
		s.moved |= 1 << i
		s.bay(a).Lines[i].Sd = 0
	}
}

// solve finds the target point of the lines.
func (s *lensScreen) solve(a *App) {
	b := s.bay(a)
	s.why = ""
	if s.view(a).Lens.Meet == nil {
		b.Target, s.why = drills.Pixel{X: math.NaN(), Y: math.NaN()}, "there is no geometry here"
		return
	}
	t, err := s.view(a).Lens.Meet(b.Lines, b.Width, b.Height)
	if err != nil {
		b.Target, s.why = drills.Pixel{X: math.NaN(), Y: math.NaN()}, err.Error()
		return
	}
	b.Target, b.TargetSd = t.Pixel, t.Sd
	s.mark(a)
}

// mark says that the lines fit the picture as it is now.
func (s *lensScreen) mark(a *App) {
	s.bay(a).Scenery = nil
	if s.view(a).Lens.Mark != nil {
		s.view(a).Lens.Mark()
	}
}

func (s *lensScreen) act(a *App, d Do, n int) {
	b := s.bay(a)
	switch d {
	case Back:
		s.keep(a)
		a.back()
	case Go:
		if s.step < standBy {
			s.to(a, s.step+1)
			return
		}
		b.Set = b.FaceOn || b.HasTarget() && !s.usual
		s.mark(a)
		s.keep(a)
		a.back()
	case PageOn:
		s.to(a, min(s.step+1, standBy))
	case PageBack:
		s.to(a, max(s.step-1, drawLines))
	case Join:
		a.work("Looking for a second camera", Job{Do: Join})
	case LookUp:
		s.turn(a)
	case Against: // the other view
		if _, two := a.otherView(); two {
			a.tell("two views", "Two cameras show both views.", "Choose another second camera with J.")
			return
		}
		b.FaceOn, b.Set, s.said = !b.FaceOn, false, ""
		s.level = nil
		s.why = ""
		s.mark(a)
		s.step = drawLines
	case Lines:
		s.to(a, drawLines)
	case SayAgain:
		s.askAnew(a)
	case TakeBack:
		s.takeBack(a)
	case Next:
		s.end = (s.end + 1) % max(2*len(b.Lines), 1)
	case Left, Right, Up, Down:
		if s.step == drawLines && !b.FaceOn {
			s.nudge(a, d)
		}
	case Distance:
		s.value = 0
	case Club:
		s.value = 1
	case Field:
		s.value = 2
	case More:
		s.change(b, 1)
	case Less:
		s.change(b, -1)
	case Choose:
		s.to(a, lensStep(min(max(n, 0), int(standBy))))
	}
}

// to goes to a step; what was set until then is kept: the next looks by it.
func (s *lensScreen) to(a *App, step lensStep) {
	if step == s.step {
		return
	}
	s.step = step
	if !s.usual {
		s.keep(a)
	}
}

// change moves the chosen value a step; distance and field of view exclude
// each other, for either gives the scale.
func (s *lensScreen) change(b *bay.Bay, n int) {
	move := func(v, least, most, step, begin float64) float64 {
		if v == 0 {
			return begin
		}
		num := widget.Number{Least: least, Most: most, Step: step}
		num.Set(v)
		num.Move(n)
		return num.Value()
	}
	switch s.value {
	case 0:
		b.Distance = move(b.Distance, 1.5, 5, 0.05, 3)
	case 1:
		b.Club = move(b.Club, 0.46, 1.21, 0.01, 0.94)
	case 2:
		b.Field = move(b.Field, 30, 120, 1, 70)
	}
}

// nudge moves the chosen end by a pixel of the picture.
func (s *lensScreen) nudge(a *App, d Do) {
	p := s.endAt(s.bay(a), s.end)
	if p == nil {
		return
	}
	switch d {
	case Left:
		p.X--
	case Right:
		p.X++
	case Up:
		p.Y--
	case Down:
		p.Y++
	}
	s.byHand(a, s.end)
	s.solve(a)
}

// endAt is the i-th end of the lines, nil when there is none.
func (s *lensScreen) endAt(b *bay.Bay, i int) *drills.Pixel {
	if i < 0 || i/2 >= len(b.Lines) {
		return nil
	}
	if i%2 == 0 {
		return &b.Lines[i/2].A
	}
	return &b.Lines[i/2].B
}

// point drags the ends of the lines.
func (s *lensScreen) point(a *App, k Kind, x, y float64) bool {
	if s.step != drawLines || s.over.at.W == 0 || s.bay(a).FaceOn {
		return false
	}
	switch k {
	case Press:
		best, reach := -1, 30*max(1, s.over.at.W/900)
		for i := range 2 * len(s.bay(a).Lines) {
			p := s.endAt(s.bay(a), i)
			if d := math.Hypot(s.over.x(p.X)-x, s.over.y(p.Y)-y); d < reach {
				best, reach = i, d
			}
		}
		if best < 0 {
			return false
		}
		s.drag, s.end = best, best
		return true
	case Move, Let:
		p := s.endAt(s.bay(a), s.drag)
		if p == nil {
			return false
		}
		in := s.over.at
		*p = s.over.back(min(max(x, in.X), in.Right()), min(max(y, in.Y), in.Bottom()))
		s.byHand(a, s.drag)
		s.solve(a)
		if k == Let {
			s.drag = -1
		}
		return true
	}
	return false
}

// offset says how to move the lens; ok is false until all that it needs is known.
func (s *lensScreen) offset(a *App) (o bay.Offset, hands drills.Pixel, ok bool) {
	if s.view(a).Hands == nil || s.view(a).Lens.Offset == nil || !s.bay(a).HasTarget() {
		return o, hands, false
	}
	if s.usual {
		s.why = "It is not known yet which lines point at the target: press H, and drag the two lines onto them."
		return o, hands, false
	}
	hands.X, hands.Y = s.view(a).Hands()
	if math.IsNaN(hands.X) || math.IsNaN(hands.Y) {
		return o, hands, false
	}
	o, err := s.view(a).Lens.Offset(*s.bay(a), hands, s.hand)
	if err != nil {
		s.why = err.Error()
		return o, hands, false
	}
	return o, hands, true
}
