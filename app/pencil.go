package app

import (
	"fmt"
	"math"
	"slices"

	"drillbay/app/widget"
	"drillbay/drills"
	"drillbay/drills/bay"
	"drillbay/drills/book"
	"drillbay/drills/runner"
)

// pencil is the coach's: lines with their angle, the marks of face and lead
// shoulder, the coach's own verdict and a note, on a lookback that stands.
type pencil struct {
	tool  int
	lines []bay.Segment  // px of the picture
	face  []drills.Pixel // leading edge (2), spine (2)
	lead  []drills.Pixel // lead shoulder (1)
	joint []book.JointMark
	body  runner.Joints // as they were seen
	note  widget.Field
	coach widget.Choice
	write bool
	from  *drills.Pixel
	to    drills.Pixel
	over  over
	kept  book.Marks // as they are stored
	read  book.Marks // what was put where when Body was read anew
}

var pencilTools = [...]string{"line", "face", "shoulder", "joint"}

func newPencil(r runner.Done, m book.Marks) *pencil {
	p := &pencil{note: widget.Field{Most: 120}, face: slices.Clone(m.Face), lead: slices.Clone(m.Lead), joint: slices.Clone(m.Joints), body: r.Overlay.Here, kept: m}
	p.coach.Options = []string{"none", "in line", "inside", "outside", "short"}
	for i, o := range p.coach.Options {
		if o == r.Coach {
			p.coach.Choose(i)
		}
	}
	p.note.Set(r.Note)
	return p
}

// act carries out an action while the pencil is out; false leaves it to the
// lookback.
func (p *pencil) act(a *App, l *lookbackPart, d Do, n int) bool {
	if p.write {
		switch d {
		case Go, Back, Next:
			p.write = false
		case Left:
			p.note.Move(-1)
		case Right:
			p.note.Move(1)
		default:
			edit(&p.note, d)
		}
		return true
	}
	switch d {
	case Back, Pencil:
		p.keep(a, l)
		l.pencil = nil
	case Go: // the note
		p.write = true
	case More: // the coach's own verdict
		p.coach.Move(1)
	case Less:
		p.coach.Move(-1)
	case Next: // tool
		p.tool = (p.tool + 1) % len(pencilTools)
	case TakeBack:
		p.undo()
	case Choose:
		p.tool = min(max(n, 0), len(pencilTools)-1)
	case Left, Right, Up, Down, Overlay:
		return false
	}
	return true // no other key leads away from what is drawn
}

// keep stores what the coach marked. Lines are for the moment.
func (p *pencil) keep(a *App, l *lookbackPart) {
	coach := p.coach.Name()
	if coach == "none" {
		coach = ""
	}
	if note := p.note.Value(); coach != l.rep.Coach || note != l.rep.Note {
		a.d.Order(markOf(l.id, coach, note, l.rep.Kept))
	}
	m := book.Marks{Lead: p.lead, Joints: p.joint, Body: p.coached(a, l), Under: p.under(a, l), Frame: l.player.At(a.now).At}
	if len(p.face) == 4 {
		m.Face, m.FaceWord = p.face, p.word(a, l)
	}
	if slices.Equal(m.Face, p.kept.Face) && slices.Equal(m.Lead, p.kept.Lead) && slices.Equal(m.Joints, p.kept.Joints) && slices.Equal(coachedParts(m.Body), coachedParts(p.kept.Body)) {
		return
	}
	player, rep := l.who.ID, l.id
	a.store(func() error { return a.d.Book.KeepMarks(player, rep, m) }, func(err error) {
		if err != nil {
			a.tell("marks", "The marks are not stored: "+err.Error()+".", "")
		}
	})
}

// word names the state of the face by its four marks, "" until they tell it.
func (p *pencil) word(a *App, l *lookbackPart) string {
	if len(p.face) < 4 {
		return ""
	}
	dot := func(i int) drills.Pixel { return drills.Pixel{X: p.face[i].X, Y: p.face[i].Y} }
	f, _ := drills.FaceOf(dot(0), dot(1), dot(2), dot(3), a.bay.Side(l.who.Hand), a.bay.Roll)
	return f.String()
}

// under returns how far the hands are from the vertical under the lead shoulder, cm; NaN
// when that cannot be told.
func (p *pencil) under(a *App, l *lookbackPart) float64 {
	hands := l.rep.Overlay.Hands
	if len(p.lead) == 0 || a.d.Lens.Under == nil || hands == (runner.Dot{}) || math.IsNaN(hands.X) {
		return math.NaN()
	}
	cm, err := a.d.Lens.Under(a.bay, drills.Pixel{X: hands.X, Y: hands.Y}, p.lead[0], l.who.Hand)
	if err != nil {
		return math.NaN()
	}
	return cm
}

// coached are the readings of the body with the joints where the coach put them.
func (p *pencil) coached(a *App, l *lookbackPart) drills.Body {
	if m := (book.Marks{Lead: p.lead, Joints: p.joint}); !slices.Equal(m.Lead, p.read.Lead) || !slices.Equal(m.Joints, p.read.Joints) {
		m.Lead, m.Joints = slices.Clone(m.Lead), slices.Clone(m.Joints)
		m.Body = coached(l.rep, m, drills.ViewOf(a.bay.FaceOn))
		p.read = m
	}
	return p.read.Body
}

// underWords say where the hands are.
func underWords(cm float64, u units) string {
	switch {
	case math.IsNaN(cm):
		return ""
	case math.Abs(cm) < 0.5:
		return "Right under the shoulder"
	case cm > 0:
		return u.short(cm) + " inside the shoulder"
	}
	return u.short(-cm) + " outside the shoulder"
}

func (p *pencil) undo() {
	switch {
	case p.tool == 0 && len(p.lines) > 0:
		p.lines = p.lines[:len(p.lines)-1]
	case p.tool == 1 && len(p.face) > 0:
		p.face = p.face[:len(p.face)-1]
	case p.tool == 2:
		p.lead = nil
	case p.tool == 3 && len(p.joint) > 0:
		p.joint = p.joint[:len(p.joint)-1]
	}
}

// point draws with the pointer.
func (p *pencil) point(k Kind, x, y float64) bool {
	if !p.over.at.Holds(x, y) && p.from == nil {
		return false
	}
	at := p.over.back(min(max(x, p.over.at.X), p.over.at.Right()), min(max(y, p.over.at.Y), p.over.at.Bottom()))
	switch k {
	case Press:
		switch p.tool {
		case 0:
			p.from, p.to = &at, at
		case 1:
			if len(p.face) >= 4 {
				p.face = nil
			}
			p.face = append(p.face, at)
		case 2:
			p.lead = []drills.Pixel{at}
		case 3:
			p.joint = putJoint(p.joint, corrected(p.body, book.Marks{Joints: p.joint}), at)
		}
	case Move:
		p.to = at
	case Let:
		if p.from != nil {
			if math.Hypot(at.X-p.from.X, at.Y-p.from.Y) > 5 {
				p.lines = append(p.lines, bay.Segment{A: *p.from, B: at})
			}
			p.from = nil
		}
	}
	return true
}

// slope is the angle of a line against the level, 0 to 90 degrees.
func slope(s bay.Segment) float64 {
	return math.Atan2(math.Abs(s.B.Y-s.A.Y), math.Abs(s.B.X-s.A.X)) * 180 / math.Pi
}

func (p *pencil) draw(a *App, c *canvas, l *lookbackPart, number string) {
	c.head("Pencil", []string{l.who.Name, number},
		button{do: Next, word: "tool"}, button{do: More, word: "your verdict"}, button{do: Go, word: "note"},
		button{do: TakeBack, word: "rub out"}, button{do: Back, word: "done"})
	top := c.headHeight() + c.px(12)
	box := Rect{c.margin, top, c.Width - 3*c.margin - c.px(320), c.Height - top - c.margin}
	pos := l.player.At(a.now)
	pic := l.loop.Frame(pos.At)
	if pic == nil {
		return
	}
	crop := framed(pic, l.rep.Overlay, l.known, box.W/box.H)
	at := c.show(0, pic, box, crop)
	p.over = over{at, crop}
	if !a.setup.OverlayOff {
		c.overlay(at, crop, l.rep, pos)
	}
	p.marks(c)
	x, y, w := at.Right()+c.margin, top+c.title, c.Width-2*c.margin-at.Right()
	c.text(x, y, "Draw", c.title, Bold, Ink)
	y += c.px(20)
	for i, t := range pencilTools {
		r := Rect{x, y, w, math.Round(c.body * 2)}
		role := Ink
		if i == p.tool {
			c.fill(r, Ink, 4)
			role = Page
		}
		c.text(x+c.px(12), y+math.Round(r.H/2+c.body*CapHeight/2), t, c.body, Medium, role)
		c.press(r, Choose, i)
		y += r.H + c.px(4)
	}
	y = c.paragraph(x, y+c.px(22), w, pencilHelp(p.tool, len(p.face)), c.small, Regular, Quiet) + c.px(20)
	if word := p.word(a, l); word != "" {
		c.text(x, y, "Face "+word, c.heading, Bold, Ink)
		y += math.Round(c.heading * 1.4)
	}
	body := p.coached(a, l)
	if words := underWords(p.under(a, l), a.units()); words != "" && !body[drills.HandsUnder].Known() {
		size, _ := c.ruler.Fit(words, c.heading, c.small, Bold, w)
		c.text(x, y, words, size, Bold, Ink)
		y += math.Round(c.heading * 1.4)
	}
	if p.tool >= 2 {
		y = c.coached(x, y, w, body, l.rep.Rep.Body)
	}
	y += c.px(6)
	// The coach's verdict stands beside the reading, never over it.
	half := w / 2
	c.text(x, y, "Read", c.body, Regular, Quiet)
	c.text(x+half, y, "Your verdict", c.body, Regular, Quiet)
	c.text(x, y+math.Round(c.heading*1.3), c.ruler.Cut(l.rep.Rep.Verdict.String(), c.heading, Regular, half-c.px(8)), c.heading, Regular, Ink)
	c.text(x+half, y+math.Round(c.heading*1.3), p.coach.Name(), c.heading, Bold, Ink)
	c.press(Rect{x, y - c.body, w, c.heading * 3}, More, 0)
	y += math.Round(c.heading * 2.8)
	c.text(x, y, "Note", c.body, Regular, Quiet)
	c.field(Rect{x, y + c.px(8), w, math.Round(c.body * 2)}, &p.note, p.write)
	c.press(Rect{x, y - c.body, w, c.body * 4}, Go, 0)
}

// shownCoached is how many of the coach's readings stand beside the picture: a
// joint carries two at most.
const shownCoached = 2

// coached writes readings of the body with the joints where the coach put them, and
// what was read; it gives the place below.
func (c *canvas) coached(x, y, w float64, body, read drills.Body) float64 {
	parts := coachedParts(body)
	if len(parts) == 0 {
		return y
	}
	for _, p := range parts[:min(len(parts), shownCoached)] {
		y = c.paragraph(x, y, w, body.Say(p), c.body, Bold, Ink)
		if was := read.Say(p); was != "" {
			y = c.paragraph(x, y, w, "Read: "+was, c.small, Regular, Quiet)
		}
	}
	return c.paragraph(x, y, w, drills.NoAdvice, c.small, Regular, Quiet) + c.px(12)
}

func pencilHelp(tool, marked int) string {
	switch tool {
	case 1:
		return [...]string{
			"Tap the heel end of the leading edge.", "Tap the toe end.", "Tap the foot of the spine.", "Tap the neck.", "Tap to begin again.",
		}[min(marked, 4)]
	case 2:
		return "Tap the lead shoulder at level. Within 5 cm under it is good (common practice)."
	}
	if tool == 3 {
		return "Tap where a joint really is at level: the nearest one is put there. What it carries is read anew and kept as yours, beside what was read."
	}
	return "Drag a line. Its angle is measured from level."
}

// marks draws what was drawn.
func (p *pencil) marks(c *canvas) {
	o := p.over
	lines := p.lines
	if p.from != nil {
		lines = append(lines[:len(lines):len(lines)], bay.Segment{A: *p.from, B: p.to})
	}
	for _, s := range lines {
		c.cased(o.x(s.A.X), o.y(s.A.Y), o.x(s.B.X), o.y(s.B.Y), c.px(5), Core)
		c.tagClear(o.at, o.x(s.B.X), o.y(s.B.Y), c.px(10), fmt.Sprintf("%.0f°", slope(s)))
	}
	for i := 0; i+1 < len(p.face); i += 2 {
		c.cased(o.x(p.face[i].X), o.y(p.face[i].Y), o.x(p.face[i+1].X), o.y(p.face[i+1].Y), c.px(4), Core)
	}
	for _, m := range append(p.face[:len(p.face):len(p.face)], p.lead...) {
		c.dot(o.x(m.X), o.y(m.Y), c.px(7), Core)
	}
	if p.tool == 3 {
		j := corrected(p.body, book.Marks{Joints: p.joint})
		for _, d := range dots(&j) {
			if there(*d) {
				c.dot(o.x(d.X), o.y(d.Y), c.px(5), Core)
			}
		}
	}
	for _, m := range p.joint {
		c.dot(o.x(m.At.X), o.y(m.At.Y), c.px(7), Core)
		c.tagClear(o.at, o.x(m.At.X), o.y(m.At.Y), c.px(12), m.Name)
	}
	for _, m := range p.lead {
		c.tagClear(o.at, o.x(m.X), o.y(m.Y), c.px(12), "lead shoulder")
	}
}
