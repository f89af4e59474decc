package app

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"drillbay/app/widget"
	"drillbay/drills"
	"drillbay/drills/bay"
	"drillbay/drills/book"
	"drillbay/drills/runner"
)

// pencil is the coach's: lines with their angle, the marks of face and lead
// shoulder, joints, the coach's own verdict and a note, on a lookback that stands. With
// two cameras it draws on the picture that is shown; face and shoulder are marked on that
// of the camera that found the rep.
type pencil struct {
	tool  int
	slot  int              // the picture that is drawn on: 1 is the second camera's
	lines [2][]bay.Segment // px of either picture
	face  []drills.Pixel   // leading edge (2), spine (2)
	lead  []drills.Pixel   // lead shoulder (1)
	joint []book.JointMark
	named string           // the joint that the next tap places, "" for the nearest
	body  [2]runner.Joints // as they were seen
	note  widget.Field
	coach widget.Choice
	write bool
	from  *drills.Pixel
	to    drills.Pixel
	over  over
	kept  book.Marks // as they are stored
	read  book.Marks // what was put where when Body was read anew
}

// The tools, in the order in which they are chosen.
const (
	lineTool = iota
	faceTool
	shoulderTool
	jointTool
)

var pencilTools = [...]string{"line", "face", "shoulder", "joint"}

// has reports whether a tool is for the picture that is drawn on.
func (p *pencil) has(tool int) bool { return p.slot == 0 || tool == lineTool || tool == jointTool }

// view is the picture that is drawn on, as a mark keeps it.
func (p *pencil) view(a *App) drills.View {
	if p.slot == 0 {
		return drills.NoView
	}
	return drills.ViewOf(!a.bay.FaceOn)
}

// now are the joints in the picture that is drawn on, where the coach put them.
func (p *pencil) now() runner.Joints {
	return corrected(p.body[p.slot], in(book.Marks{Joints: p.joint}, p.slot))
}

func newPencil(r runner.Done, m book.Marks) *pencil {
	p := &pencil{note: widget.Field{Most: 120}, face: slices.Clone(m.Face), lead: slices.Clone(m.Lead), joint: slices.Clone(m.Joints), body: [2]runner.Joints{r.Overlay.Here, r.Beside.Here}, kept: m}
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
		for p.take(p.tool + 1); !p.has(p.tool); p.take(p.tool + 1) {
		}
		p.stand(l)
	case LookUp: // the other camera's picture
		if l.beside != nil {
			p.slot, p.from, p.named = 1-p.slot, nil, ""
			if !p.has(p.tool) {
				p.take(lineTool)
			}
		}
	case Number: // the joint that the next tap places
		if n >= 1 && n <= len(jointNames) {
			p.take(jointTool)
			p.named = jointNames[n-1]
			p.stand(l)
		}
	case TakeBack:
		p.undo()
	case Choose:
		if p.has(n) {
			p.take(n)
			p.stand(l)
		}
	case Left, Right, Up, Down, Overlay:
		return false
	}
	return true // no other key leads away from what is drawn
}

// take takes a tool in hand.
func (p *pencil) take(tool int) { p.tool, p.named = tool%len(pencilTools), "" }

// stand shows the picture in which shoulder and joints are marked: where the shaft is
// level, or else at the catch.
func (p *pencil) stand(l *lookbackPart) {
	at := drills.FirstOf(l.rep.Rep.Moments.Level, l.rep.Rep.Moments.Catch)
	if p.tool >= shoulderTool && at >= l.player.From() && at <= l.player.To() {
		l.player = l.player.Scrub(at)
	}
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
		return "Hands right under the shoulder"
	case cm > 0:
		return "Hands " + u.short(cm) + " inside the shoulder"
	}
	return "Hands " + u.short(-cm) + " outside the shoulder"
}

func (p *pencil) undo() {
	lines := &p.lines[p.slot]
	switch {
	case p.named != "":
		p.named = ""
	case p.tool == lineTool && len(*lines) > 0:
		*lines = (*lines)[:len(*lines)-1]
	case p.tool == faceTool && len(p.face) > 0:
		p.face = p.face[:len(p.face)-1]
	case p.tool == shoulderTool:
		p.lead = nil
	case p.tool == jointTool:
		for i := len(p.joint) - 1; i >= 0; i-- {
			if (p.joint[i].View != drills.NoView) == (p.slot == 1) {
				p.joint = slices.Delete(slices.Clone(p.joint), i, i+1)
				break
			}
		}
	}
}

// point draws with the pointer.
func (p *pencil) point(a *App, k Kind, x, y float64) bool {
	if !p.over.at.Holds(x, y) && p.from == nil {
		return false
	}
	at := p.over.back(min(max(x, p.over.at.X), p.over.at.Right()), min(max(y, p.over.at.Y), p.over.at.Bottom()))
	switch k {
	case Press:
		switch p.tool {
		case lineTool:
			p.from, p.to = &at, at
		case faceTool:
			if len(p.face) >= 4 {
				p.face = nil
			}
			p.face = append(p.face, at)
		case shoulderTool:
			p.lead = []drills.Pixel{at}
		case jointTool:
			p.joint = putJoint(p.joint, p.now(), p.named, p.view(a), at)
			p.named = ""
		}
	case Move:
		p.to = at
	case Let:
		if p.from != nil {
			if math.Hypot(at.X-p.from.X, at.Y-p.from.Y) > 5 {
				p.lines[p.slot] = append(p.lines[p.slot], bay.Segment{A: *p.from, B: at})
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
	keys := []button{{do: Next, word: "tool"}, {do: More, word: "your verdict"}, {do: Go, word: "note"}, {do: TakeBack, word: "rub out"}, {do: Back, word: "done"}}
	facts := []string{l.who.Name, number}
	if l.beside != nil {
		keys = append([]button{{do: LookUp, word: "other picture"}}, keys...)
	} else {
		p.slot = 0
	}
	c.head("Pencil", facts, keys...)
	top := c.headHeight() + c.px(12)
	box := Rect{c.margin, top, c.Width - 3*c.margin - c.px(320), c.Height - top - c.margin}
	pos, rep, loop := l.player.At(a.now), l.rep, reel(l.loop)
	if p.slot == 1 {
		rep, loop = l.other(a), delayed{l.beside, l.later}
	}
	pic := loop.Frame(pos.At)
	if pic == nil {
		return
	}
	crop := framed(pic, rep.Overlay, l.known, box.W/box.H)
	if l.known && len(rep.Overlay.Trace) == 0 {
		crop = across(crop, float64(pic.Width), rep.Overlay)
	}
	at := c.show(0, pic, box, crop)
	p.over = over{at, crop}
	if !a.setup.OverlayOff {
		c.overlay(at, crop, rep, pos)
	}
	p.marks(c)
	if l.beside != nil {
		c.tag(at.X+c.px(10), at.Y+c.px(10), drills.ViewOf(a.bay.FaceOn != (p.slot == 1)).String())
	}
	x, y, w := at.Right()+c.margin, top+c.title, c.Width-2*c.margin-at.Right()
	c.text(x, y, "Draw", c.title, Bold, Ink)
	y = p.drawTools(c, x, y+c.px(16), w)
	y = c.paragraph(x, y+c.small, w, p.help(), c.small, Regular, Quiet) + c.px(16)
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
	if p.tool >= shoulderTool {
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

// drawTools draws the tools two by two, and returns where they end.
func (p *pencil) drawTools(c *canvas, x, y, w float64) float64 {
	gap := c.px(4)
	r := Rect{x, y, math.Floor((w - gap) / 2), math.Round(c.body * 2)}
	n := 0
	for i, t := range pencilTools {
		if !p.has(i) {
			continue
		}
		r.X, r.Y = x+float64(n%2)*(r.W+gap), y+float64(n/2)*(r.H+gap)
		n++
		role := Ink
		if i == p.tool {
			c.fill(r, Ink, 4)
			role = Page
		} else {
			c.frame(r, Edge, 1, 4)
		}
		c.text(r.X+c.px(12), r.Y+math.Round(r.H/2+c.body*CapHeight/2), t, c.body, Medium, role)
		c.press(r, Choose, i)
	}
	return r.Bottom() + gap
}

// help says what the next tap does.
func (p *pencil) help() string {
	switch p.tool {
	case faceTool:
		return [...]string{
			"Tap the heel end of the leading edge.", "Tap the toe end.", "Tap the foot of the spine.", "Tap the neck.", "Tap to begin again.",
		}[min(len(p.face), 4)]
	case shoulderTool:
		return "Tap the lead shoulder at level. Within 5 cm under it is good (common practice)."
	case jointTool:
		return p.jointHelp()
	}
	return "Drag a line. Its angle is measured from level."
}

// jointHelp says which joint the next tap places.
func (p *pencil) jointHelp() string {
	if p.named != "" {
		return drills.UpperFirst(p.named) + ": tap where it is at level."
	}
	help := "Tap where a joint really is at level, and the nearest one goes there."
	missing := unseen(p.now())
	if len(missing) == len(jointNames) {
		return "No joint was seen here. 1 to 6 choose one to place: " + strings.Join(jointNames[:], ", ") + "."
	}
	if len(missing) == 0 {
		return help + " Its readings are done again and kept as yours."
	}
	var list []string
	for _, n := range missing {
		list = append(list, fmt.Sprintf("%d %s", n, jointNames[n-1]))
	}
	return help + " Not seen: " + strings.Join(list, ", ") + ". Press the number, then tap."
}

// marks draws what was drawn.
func (p *pencil) marks(c *canvas) {
	o := p.over
	lines := p.lines[p.slot]
	if p.from != nil {
		lines = append(lines[:len(lines):len(lines)], bay.Segment{A: *p.from, B: p.to})
	}
	for _, s := range lines {
		c.cased(o.x(s.A.X), o.y(s.A.Y), o.x(s.B.X), o.y(s.B.Y), c.px(5), Core)
		c.tagClear(o.at, o.x(s.B.X), o.y(s.B.Y), c.px(10), fmt.Sprintf("%.0f°", slope(s)))
	}
	if p.tool == jointTool {
		j := p.now()
		for _, d := range dots(&j) {
			if there(*d) {
				c.dot(o.x(d.X), o.y(d.Y), c.px(5), Core)
			}
		}
	}
	for _, m := range in(book.Marks{Joints: p.joint}, p.slot).Joints {
		c.dot(o.x(m.At.X), o.y(m.At.Y), c.px(7), Core)
		c.tagClear(o.at, o.x(m.At.X), o.y(m.At.Y), c.px(12), m.Name)
	}
	if p.slot == 1 {
		return
	}
	for i := 0; i+1 < len(p.face); i += 2 {
		c.cased(o.x(p.face[i].X), o.y(p.face[i].Y), o.x(p.face[i+1].X), o.y(p.face[i+1].Y), c.px(4), Core)
	}
	for _, m := range append(p.face[:len(p.face):len(p.face)], p.lead...) {
		c.dot(o.x(m.X), o.y(m.Y), c.px(7), Core)
	}
	for _, m := range p.lead {
		c.tagClear(o.at, o.x(m.X), o.y(m.Y), c.px(12), "lead shoulder")
	}
}
