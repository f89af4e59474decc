package app

import (
	"fmt"
	"math"

	"drillbay/app/widget"
	"drillbay/camera/frame"
	"drillbay/drills"
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
	rolled bool
	said   string
	saidAt float64
}

func (*lensScreen) name() string { return "lens" }

func newLensScreen(a *App) *lensScreen {
	s := &lensScreen{drag: -1, hand: a.d.Snapshot().Player.Hand}
	if a.bay.Distance == 0 && a.bay.Field == 0 {
		a.bay.Distance = 3
	}
	if a.bay.Club == 0 {
		a.bay.Club = 0.94
	}
	if a.bay.Grip == 0 {
		a.bay.Grip = 0.09
	}
	if a.bay.Set {
		s.step = standBy
	}
	return s
}

// offer puts lines where they were found, or somewhere to drag them from.
func (s *lensScreen) offer(a *App, width, height int) {
	b := &a.bay
	if len(b.Lines) >= 2 && b.Width == width && b.Height == height {
		return
	}
	if a.d.Lens.Find != nil {
		if found := a.d.Lens.Find(); len(found) >= 2 {
			b.Lines = found[:2]
		}
	}
	w, h := float64(width), float64(height)
	if len(b.Lines) < 2 || b.Width != width || b.Height != height {
		if len(b.Lines) < 2 || b.Width != 0 {
			b.Lines = []Segment{
				{Point{0.40 * w, 0.92 * h}, Point{0.46 * w, 0.70 * h}},
				{Point{0.70 * w, 0.92 * h}, Point{0.60 * w, 0.70 * h}},
			}
		}
	}
	b.Width, b.Height = width, height
	s.solve(a)
}

// solve finds the target point of the lines.
func (s *lensScreen) solve(a *App) {
	b := &a.bay
	s.why = ""
	if a.d.Lens.Meet == nil {
		b.Target, s.why = Point{math.NaN(), math.NaN()}, "there is no geometry here"
		return
	}
	t, err := a.d.Lens.Meet(b.Lines, b.Width, b.Height)
	if err != nil {
		b.Target, s.why = Point{math.NaN(), math.NaN()}, err.Error()
		return
	}
	b.Target, b.TargetSd = t.Point, t.Sd
}

func (s *lensScreen) act(a *App, d Do, n int) {
	b := &a.bay
	switch d {
	case Back:
		a.keepBay()
		a.back()
	case Go:
		if s.step < standBy {
			s.step++
			return
		}
		b.Set = b.found()
		a.keepBay()
		a.back()
	case PageOn:
		s.step = min(s.step+1, standBy)
	case PageBack:
		s.step = max(s.step-1, drawLines)
	case Lines:
		s.step = drawLines
	case Next:
		s.end = (s.end + 1) % max(2*len(b.Lines), 1)
	case Left, Right, Up, Down:
		if s.step == drawLines {
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
		s.step = lensStep(min(max(n, 0), int(standBy)))
	}
}

// change moves the chosen value a step; distance and field of view exclude
// each other, for either gives the scale.
func (s *lensScreen) change(b *Bay, n int) {
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
	p := s.endAt(&a.bay, s.end)
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
	s.solve(a)
}

// endAt is the i-th end of the lines, nil when there is none.
func (s *lensScreen) endAt(b *Bay, i int) *Point {
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
	if s.step != drawLines || s.over.at.W == 0 {
		return false
	}
	switch k {
	case Press:
		best, reach := -1, 30*max(1, s.over.at.W/900)
		for i := range 2 * len(a.bay.Lines) {
			p := s.endAt(&a.bay, i)
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
		p := s.endAt(&a.bay, s.drag)
		if p == nil {
			return false
		}
		in := s.over.at
		*p = s.over.back(min(max(x, in.X), in.Right()), min(max(y, in.Y), in.Bottom()))
		s.solve(a)
		if k == Let {
			s.drag = -1
		}
		return true
	}
	return false
}

// offset is how the lens must move, ok only when all for it is known.
func (s *lensScreen) offset(a *App) (o Offset, hands Point, ok bool) {
	if a.d.Hands == nil || a.d.Lens.Offset == nil || !a.bay.found() {
		return o, hands, false
	}
	hands.X, hands.Y = a.d.Hands()
	if math.IsNaN(hands.X) || math.IsNaN(hands.Y) {
		return o, hands, false
	}
	o, err := a.d.Lens.Offset(a.bay, hands, s.hand)
	if err != nil {
		s.why = err.Error()
		return o, hands, false
	}
	return o, hands, true
}

// speak leads the player at the mat by voice: what has changed after a
// moment, what has not after a while, and what is good once.
func (s *lensScreen) speak(a *App, o Offset) {
	if a.d.Say == nil || !a.setup.Voice {
		return
	}
	o.UpCm, o.NearCm = 2*math.Round(o.UpCm/2), 2*math.Round(o.NearCm/2)
	up, _, near, _ := o.words()
	words, good := o.spoken(), up == "" && near == ""
	since := a.now - s.saidAt
	if s.said != "" && (since < 5 || words == s.said && (good || since < 12)) {
		return
	}
	s.said, s.saidAt = words, a.now
	a.d.Say(words)
}

func (s *lensScreen) draw(a *App, c *canvas) {
	p := a.live(0, liveLens)
	if p != nil {
		s.offer(a, p.Width, p.Height)
	}
	o, hands, seen := s.offset(a)
	if seen && s.step == standBy {
		s.speak(a, o)
	}
	up, upCm, near, nearCm := o.words()
	column := c.px(400)
	if s.step == standBy {
		// The words are read from the mat: they get what they need at the
		// least size, and the picture the rest.
		need := c.ruler.Width("nearer ball", max(min(c.floor, c.mat), c.mat*0.86), Bold)
		column = min(max(need+c.px(4), c.px(416)), c.Width*0.62)
	}
	keys := []button{{do: Go, word: "next"}, {do: Back, word: "back"}}
	if s.step == drawLines {
		keys = append([]button{{do: Next, word: "next end"}}, keys...)
	} else {
		keys = append([]button{{do: Lines, word: "move lines"}}, keys...)
	}
	cue := [...]string{"Mark two lines", "Hang the club", "Stand at address"}[s.step]
	if s.step == standBy {
		keys[1].word = "good enough"
		if seen && up == "" && near == "" {
			cue = "Good. Leave it so"
		}
	}
	c.head("Lens", []string{a.d.Snapshot().Player.Name, a.bay.Name}, keys...)
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
		s.drawLines(a, c, hands, seen)
		if seen && s.step == standBy {
			s.closer(a, c, p, hands, o)
		}
	} else {
		c.fill(box, Plate, 0)
		c.middle(box.X+box.W/2, box.Y+box.H/2, "no picture from the camera", c.heading, Regular, Quiet)
	}
	x := at.Right() + c.px(32)
	right := Rect{x, top, c.Width - c.margin - x, foot - top}
	if s.step == standBy {
		s.words(c, right, up, upCm, near, nearCm, seen)
	} else {
		s.explain(a, c, right)
	}
	s.below(a, c, Rect{c.margin, foot, c.Width - 2*c.margin, bar - foot}, o, seen)
}

// drawLines draws lines, horizon, target point and hands over the picture.
func (s *lensScreen) drawLines(a *App, c *canvas, hands Point, seen bool) {
	o, b := s.over, a.bay
	if b.found() {
		slope := math.Tan(b.Roll * math.Pi / 180)
		// The horizon runs through the target point, tilted by the roll.
		l, r := b.Target.Y-slope*b.Target.X, b.Target.Y+slope*(o.crop.W-b.Target.X)
		if l > 0 && r > 0 && l < o.crop.H && r < o.crop.H {
			c.casedDashes(o.x(0), o.y(l), o.x(o.crop.W), o.y(r), max(2, c.px(3)), c.px(14))
			c.tag(o.at.X+c.px(12), o.y(l)+c.px(10), "horizon")
		}
	}
	for i, line := range b.Lines {
		ax, ay, bx, by := o.x(line.A.X), o.y(line.A.Y), o.x(line.B.X), o.y(line.B.Y)
		if b.found() && o.holds(b.Target.X, b.Target.Y) {
			c.cased(bx, by, o.x(b.Target.X), o.y(b.Target.Y), max(1, c.px(2)), Core)
		}
		c.cased(ax, ay, bx, by, c.px(5), Core)
		if s.step == drawLines {
			for e, p := range []Point{line.A, line.B} {
				r := c.px(10)
				if 2*i+e == s.end {
					r = c.px(14)
				}
				c.targetMark(o.x(p.X), o.y(p.Y), r)
			}
		}
	}
	if b.found() && o.holds(b.Target.X, b.Target.Y) {
		x, y := o.x(b.Target.X), o.y(b.Target.Y)
		if seen {
			s.path(c, x, y, o.x(hands.X), o.y(hands.Y))
		}
		c.targetMark(x, y, c.px(15))
		c.tagClear(o.at, x, y-c.px(44), c.px(18), "target point")
	}
	if seen {
		c.dot(o.x(hands.X), o.y(hands.Y), c.px(11), Core)
		c.tagClear(o.at, o.x(hands.X), o.y(hands.Y), c.px(18), "hands")
	}
	if math.Abs(b.Roll) >= 0.5 {
		side := "right"
		if b.Roll < 0 {
			side = "left"
		}
		word := fmt.Sprintf("roll %.1f° %s: level the camera", math.Abs(b.Roll), side)
		c.tag(o.at.Right()-c.ruler.Width(word, c.small, Medium)-c.small-c.px(10), o.at.Y+c.px(10), word)
	}
}

// path draws the way of the lens, from the target point to the hands: across
// first, then up or down.
func (s *lensScreen) path(c *canvas, x1, y1, x2, y2 float64) {
	thick := c.px(5)
	c.line(x1, y1, x2, y1, thick+2*c.casing(), Casing)
	c.line(x2, y1, x2, y2, thick+2*c.casing(), Casing)
	c.line(x1, y1, x2, y1, thick, Core)
	c.line(x2, y1, x2, y2, thick, Core)
}

// closer magnifies the place of hands and target point in a corner, the path
// notched by 5 cm, when they are too close together to be told apart.
func (s *lensScreen) closer(a *App, c *canvas, p *frame.Picture, hands Point, o Offset) {
	b := a.bay
	across, down := math.Abs(hands.X-b.Target.X), math.Abs(hands.Y-b.Target.Y)
	side := math.Round(0.42 * s.over.at.H)
	see := max(1.7*max(across, down), 60)
	if see > side/s.over.at.H*s.over.crop.H*0.8 || a.view.Pictures[1] != nil {
		return
	}
	mid := Point{(hands.X + b.Target.X) / 2, (hands.Y + b.Target.Y) / 2}
	crop := Rect{mid.X - see/2, mid.Y - see/2, see, see}
	crop.X = min(max(crop.X, 0), s.over.crop.W-see)
	crop.Y = min(max(crop.Y, 0), s.over.crop.H-see)
	r := Rect{s.over.at.Right() - side - c.px(8), s.over.at.Bottom() - side - c.px(8), side, side}
	c.fill(r.Inset(-c.px(4)), Casing, 0)
	in := over{c.show(1, p.Retain(), r, crop), crop}
	tx, ty, hx, hy := in.x(b.Target.X), in.y(b.Target.Y), in.x(hands.X), in.y(hands.Y)
	s.path(c, tx, ty, hx, hy)
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
		c.tag(r.X+c.px(6), r.Bottom()-c.small*1.6-c.px(6), "notch 5 cm")
	}
}

// words writes the two corrections, read from the mat.
func (s *lensScreen) words(c *canvas, r Rect, up, upCm, near, nearCm string, seen bool) {
	floor := min(c.floor, c.mat)
	row := math.Min(math.Round(c.mat*1.1), r.H/4)
	size := min(c.mat, math.Floor(row/1.05))
	put := func(y float64, word, cm string, turn int) {
		s1, _ := c.ruler.Fit(word, size, min(floor, size), Bold, r.W)
		base := y + math.Round(size*CapHeight)
		c.text(r.X, base, c.ruler.Cut(word, s1, Bold, r.W), s1, Bold, Ink)
		end := c.text(r.X, base+row, cm, size, Bold, Ink)
		if cm != "" {
			c.add(Item{Shape: Triangle, Role: Ink, X: min(end+size*0.7, r.Right()-size*0.35), Y: base + row - math.Round(size*CapHeight/2), R: size * 0.32, Turn: turn})
		}
	}
	if !seen {
		c.text(r.X, r.Y+math.Round(size*CapHeight), c.ruler.Cut("Looking", size, Bold, r.W), size, Bold, Quiet)
		c.paragraph(r.X, r.Y+row+c.heading, r.W, said(func() string { return s.why }, "The hands are not seen yet. Take your address and be still."), c.heading, Regular, Quiet)
		return
	}
	turn := 0
	if up == "lower" {
		turn = 2
	}
	if up == "" {
		up = "height good"
	}
	put(r.Y, up, upCm, turn)
	y := r.Y + 2*row
	if upCm == "" {
		y = r.Y + row + c.px(8)
	}
	c.rule(r.X, r.Right(), y)
	y += c.px(14)
	// The ball lies on the right for a right-hander, as the picture is seen.
	side := 1
	if (near == "nearer you") == (s.hand == drills.Right) {
		side = 3
	}
	if near == "" {
		near = "side good"
	}
	put(y, near, nearCm, side)
}

// explain says what to do at the laptop.
func (s *lensScreen) explain(a *App, c *canvas, r Rect) {
	y := r.Y + c.title
	c.text(r.X, y, lensSteps[s.step], c.title, Bold, Ink)
	y += math.Round(c.title * 1.3)
	lines := []string{
		"Drag each line onto something on the ground that points at the target: the mat's edge, a stick.",
		"Drag the ends with the mouse. Or Tab takes the next end and the arrows move it.",
		"Where the lines meet is the target point.",
	}
	if s.step == hangClub {
		lines = []string{
			"Hold the club by the end of the grip and let it hang still, its toe toward the camera or away from it.",
			"It shows how much the camera is tilted to the side.",
			"Enter goes on without: the camera then counts as level.",
		}
	}
	for _, l := range lines {
		y = c.paragraph(r.X, y, r.W, l, c.heading, Regular, Quiet) + c.px(8)
	}
	if s.why != "" {
		y = c.paragraph(r.X, y+c.px(8), r.W, s.why, c.heading, Bold, Ink)
	}
	if s.step == hangClub && a.d.Lens.Roll != nil {
		if roll, err := a.d.Lens.Roll(); err == nil {
			a.bay.Roll, s.rolled = roll, true
			c.text(r.X, y+c.px(16), fmt.Sprintf("Roll %.1f°, measured.", roll), c.heading, Bold, Ink)
		}
	}
}

// below draws the steps, the values, and what the offset does to a reading.
func (s *lensScreen) below(a *App, c *canvas, r Rect, o Offset, seen bool) {
	y := r.Y + c.px(30)
	x := r.X
	for i, word := range lensSteps {
		w, role := Regular, Quiet
		thick := max(1, c.px(2))
		if lensStep(i) == s.step {
			w, role, thick = Bold, Ink, max(3, c.px(4))
		}
		text := fmt.Sprintf("%d  %s", i+1, word)
		end := c.text(x, y, text, c.body, w, role)
		c.fill(Rect{x, y + c.px(10), end - x, thick}, role, 0)
		c.press(Rect{x, y - c.body, end - x, c.body * 1.6}, Choose, i)
		x = end + c.px(36)
	}
	mid := r.Bottom() - c.px(28)
	x = r.X
	b := a.bay
	for i, v := range []struct {
		do   Do
		word string
	}{
		{Distance, valueOf("distance", b.Distance, "%.2f m")}, {Club, valueOf("club", b.Club, "%.2f m")}, {Field, valueOf("field", b.Field, "%.0f°")},
	} {
		end := c.button(x, mid, c.body, button{do: v.do, word: v.word}, Ink)
		if i == s.value {
			c.fill(Rect{x, mid + c.keyHeight(c.body)/2 + 2, end - x, 3}, Ink, 0)
		}
		x = end + c.px(24)
	}
	x = c.button(x, mid, c.body, button{do: Less}, Ink) + c.px(2)
	x = c.button(x, mid, c.body, button{do: More}, Ink) + c.px(40)
	if !seen || s.step != standBy {
		return
	}
	room := r.Right() - x
	if room < c.px(240) {
		return
	}
	var effect string
	switch {
	case math.IsNaN(o.SigmaNow):
		return
	case o.SigmaNow > drills.MaxSigma:
		effect = fmt.Sprintf("no reading: ± %.1f°, at most 4° will do", o.SigmaNow)
	case math.IsNaN(o.SigmaThere) || o.SigmaNow-o.SigmaThere < 0.1:
		effect = fmt.Sprintf("true to ± %.1f°", o.SigmaNow)
	default:
		effect = fmt.Sprintf("true to ± %.1f° now, ± %.1f° when there", o.SigmaNow, o.SigmaThere)
	}
	c.before(r.Right(), mid+math.Round(c.body*CapHeight/2), c.ruler.Cut(effect, c.body, Medium, room), c.body, Medium, Ink)
	if c.Width > c.px(1200) {
		c.before(r.Right(), y, "Move the camera itself; turning it changes nothing.", c.small, Regular, Quiet)
	}
}

func valueOf(name string, v float64, format string) string {
	if v == 0 {
		return name + " not given"
	}
	return name + " " + fmt.Sprintf(format, v)
}
