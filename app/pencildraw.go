package app

import (
	"fmt"
	"math"
	"strings"

	"drillbay/camera/lookback"
	"drillbay/drills"
	"drillbay/drills/bay"
)

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
		p.slot, p.line = 0, 0
	}
	c.head("Pencil", facts, keys...)
	top := c.headHeight() + c.px(12)
	box := Rect{c.margin, top, c.Width - 3*c.margin - c.px(320), c.Height - top - c.margin}
	pos, rep, loop := l.player.At(a.now), l.rep, reel(l.loop)
	if p.slot == 1 {
		rep, loop = l.other(a), delayed{l.beside, l.later}
	}
	pic := loop.Frame(pos.At)
	if p.tool == addressTool {
		pic = [2]*lookback.Loop{l.loop, l.beside}[p.slot].Still()
	}
	if pic == nil {
		return
	}
	crop := framed(pic, rep.Overlay, l.known, box.W/box.H)
	if l.known && len(rep.Overlay.Trace) == 0 {
		crop = across(crop, float64(pic.Width), rep.Overlay)
	}
	at := c.show(0, pic, box, crop)
	p.over = over{at, crop}
	if !a.setup.OverlayOff && p.tool != addressTool {
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
			c.frame(r, Edge, c.stroke(1), 4)
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
	case jointTool, addressTool:
		return p.jointHelp()
	}
	return "Drag a line. Its angle is measured from level."
}

// jointHelp says which joint the next tap places.
func (p *pencil) jointHelp() string {
	when := "at level"
	if p.tool == addressTool {
		when = "at address"
	}
	if p.named != "" {
		return drills.UpperFirst(p.named) + ": tap where it is " + when + "."
	}
	help := "Tap where a joint really is " + when + ", and the nearest one goes there."
	missing := unseen(p.now(), p.joints())
	if n := p.joints(); len(missing) == n {
		return fmt.Sprintf("No joint was seen here. 1 to %d choose one to place: %s.", n, strings.Join(jointNames[:n], ", "))
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
	if p.tool >= jointTool {
		j := p.now()
		for _, d := range dots(&j)[:p.joints()] {
			if there(*d) {
				c.dot(o.x(d.X), o.y(d.Y), c.px(5), Core)
			}
		}
	}
	for _, m := range p.here().Joints {
		c.dot(o.x(m.At.X), o.y(m.At.Y), c.px(7), Core)
		c.tagClear(o.at, o.x(m.At.X), o.y(m.At.Y), c.px(12), m.Name)
	}
	if p.slot != p.line || p.tool == addressTool {
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
