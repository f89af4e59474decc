package app

import (
	"math"
	"slices"

	"drillbay/app/widget"
	"drillbay/camera/lookback"
	"drillbay/drills"
	"drillbay/drills/bay"
	"drillbay/drills/book"
	"drillbay/drills/runner"
)

// pencil is the coach's: lines with their angle, the marks of face and lead
// shoulder, joints, the coach's own verdict and a note, on a lookback that stands. With
// two cameras it draws on the picture that is shown; face and shoulder are marked on that
// of the camera that looks down the line.
type pencil struct {
	tool  int
	slot  int              // the picture that is drawn on: 1 is the second camera's
	line  int              // the picture that face and shoulder are marked on
	lines [2][]bay.Segment // px of either picture
	face  []drills.Pixel   // leading edge (2), spine (2)
	lead  []drills.Pixel   // lead shoulder (1)
	joint []book.JointMark
	named string            // the joint that the next tap places, "" for the nearest
	body  [2]runner.Overlay // the joints as they were seen
	still [2]bool           // there is a picture of address
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
	addressTool
)

var pencilTools = [...]string{"line", "face", "shoulder", "joint", "at address"}

// has reports whether a tool is for the picture that is drawn on.
func (p *pencil) has(tool int) bool {
	switch tool {
	case lineTool, jointTool:
		return true
	case addressTool:
		return p.still[p.slot] && p.body[p.slot].Home.Seen
	}
	return p.slot == p.line
}

// joints is how many joints the tool can put right.
func (p *pencil) joints() int {
	if p.tool == addressTool {
		return jointsAtAddress
	}
	return len(jointNames)
}

// lineSlot is the picture that looks down the line, where a rep has two; else the first.
func (l *lookbackPart) lineSlot(a *App) int {
	if l.beside != nil && a.bay.FaceOn {
		return 1
	}
	return 0
}

// bayOf is the bay of the camera whose picture is in a slot.
func (a *App) bayOf(slot int) bay.Bay {
	if slot == 1 && a.d.Other.Bay != nil {
		return a.d.Other.Bay()
	}
	return a.bay
}

// view is the picture that is drawn on, as a mark keeps it.
func (p *pencil) view(a *App) drills.View {
	if p.slot == 0 {
		return drills.NoView
	}
	return drills.ViewOf(!a.bay.FaceOn)
}

// now are the joints in the picture that is drawn on, where the coach put them.
func (p *pencil) now() runner.Joints {
	j := p.body[p.slot].Here
	if p.tool == addressTool {
		j = p.body[p.slot].Home
	}
	return corrected(j, p.here())
}

// here are the joints that were put right in the picture that is drawn on.
func (p *pencil) here() book.Marks {
	return in(book.Marks{Joints: p.joint}, p.slot, p.line, p.tool == addressTool)
}

func newPencil(l *lookbackPart, m book.Marks, line int) *pencil {
	r := l.rep
	p := &pencil{line: line, note: widget.Field{Most: 120}, face: slices.Clone(m.Face), lead: slices.Clone(m.Lead), joint: slices.Clone(m.Joints), body: [2]runner.Overlay{r.Overlay, r.Beside}, kept: m}
	p.coach.Options = []string{"none", "in line", "inside", "outside", "short"}
	for i, o := range p.coach.Options {
		if o == r.Coach {
			p.coach.Choose(i)
		}
	}
	p.note.Set(r.Note)
	for i, loop := range [2]*lookback.Loop{l.loop, l.beside} {
		if loop == nil {
			continue
		}
		if still := loop.Still(); still != nil {
			p.still[i] = true
			still.Release()
		}
	}
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
		if n >= 1 && n <= p.joints() {
			if p.tool != addressTool {
				p.take(jointTool)
			}
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
		return p.tool == addressTool // its picture stands
	}
	return true // no other key leads away from what is drawn
}

// take takes a tool in hand.
func (p *pencil) take(tool int) { p.tool, p.named = tool%len(pencilTools), "" }

// stand shows the picture in which shoulder and joints are marked: where the shaft is
// level, or else at the catch.
func (p *pencil) stand(l *lookbackPart) {
	at := drills.FirstOf(l.rep.Rep.Moments.Level, l.rep.Rep.Moments.Catch)
	if (p.tool == shoulderTool || p.tool == jointTool) && at >= l.player.From() && at <= l.player.To() {
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
	b := a.bayOf(p.line)
	f, _ := drills.FaceOf(dot(0), dot(1), dot(2), dot(3), b.Side(l.who.Hand), b.Roll)
	return f.String()
}

// under returns how far the hands are from the vertical under the lead shoulder, cm; NaN
// when that cannot be told.
func (p *pencil) under(a *App, l *lookbackPart) float64 {
	hands := l.rep.Overlay.Hands
	if p.line == 1 {
		hands = l.rep.Beside.Hands
	}
	if len(p.lead) == 0 || a.d.Lens.Under == nil || hands == (runner.Dot{}) || math.IsNaN(hands.X) {
		return math.NaN()
	}
	cm, err := a.d.Lens.Under(a.bayOf(p.line), drills.Pixel{X: hands.X, Y: hands.Y}, p.lead[0], l.who.Hand)
	if err != nil {
		return math.NaN()
	}
	return cm
}

// coached are the readings of the body with the joints where the coach put them.
func (p *pencil) coached(a *App, l *lookbackPart) drills.Body {
	if m := (book.Marks{Lead: p.lead, Joints: p.joint}); !slices.Equal(m.Lead, p.read.Lead) || !slices.Equal(m.Joints, p.read.Joints) {
		m.Lead, m.Joints = slices.Clone(m.Lead), slices.Clone(m.Joints)
		m.Body = coached(l.rep, m, drills.ViewOf(a.bay.FaceOn), p.line)
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
	case p.tool >= jointTool:
		for i := len(p.joint) - 1; i >= 0; i-- {
			if slotOf(p.joint[i]) == p.slot && p.joint[i].Address == (p.tool == addressTool) {
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
		case jointTool, addressTool:
			p.joint = putJoint(p.joint, p.now(), p.joints(), book.JointMark{Name: p.named, View: p.view(a), Address: p.tool == addressTool, At: at})
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
