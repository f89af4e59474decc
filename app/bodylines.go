package app

import (
	"math"
	"slices"

	"drillbay/camera/lookback"
	"drillbay/drills"
	"drillbay/drills/runner"
)

// bodyLines are the parts of a rep's body that can be drawn: those that were read, also by
// the coach's joints.
func bodyLines(r runner.Done, coached drills.Body) (out []drills.BodyPart) {
	if !r.Overlay.Here.Seen && !r.Beside.Here.Seen {
		return nil
	}
	for p := range drills.BodyPart(drills.BodyParts) {
		switch p {
		case drills.HeadOut, drills.ArmBend, drills.ArmBack, drills.BallPlace: // no line of their own
			continue
		}
		if r.Rep.Body[p].Known() || coached[p].Known() {
			out = append(out, p)
		}
	}
	return out
}

// bodyLines are those of the rep that is shown.
func (l *lookbackPart) bodyLines(a *App) []drills.BodyPart {
	return bodyLines(l.rep, a.d.Book.Marks(l.id).Body)
}

// drawn returns which of bodyLines is drawn, -1 for none. Until a key asks for another it
// is the one that the rep lost, or the first that its drill watches.
func (l *lookbackPart) drawn(a *App) int {
	lines := l.bodyLines(a)
	switch {
	case l.body == 1 || len(lines) == 0:
		return -1
	case l.body > 1:
		return min(l.body-2, len(lines)-1)
	case l.rep.Lost.Side != 0:
		return slices.Index(lines, l.rep.Lost.Part)
	}
	for _, w := range a.d.Snapshot().Drill.Watched.All() {
		if i := slices.Index(lines, w.Part); i >= 0 {
			return i
		}
	}
	return -1
}

// nextBody goes on to the next line, and behind the last to none.
func nextBody(now int, lines []drills.BodyPart, drawn int) int {
	if len(lines) == 0 {
		return now
	}
	if drawn+1 >= len(lines) {
		return 1
	}
	return drawn + 1 + 2
}

// drawBody draws the few lines that carry one reading of the body, where the
// rep is read: quietly, and one reading at a time.
func (l *lookbackPart) drawBody(a *App, c *canvas, slot int, at, crop Rect, rep runner.Done, pos lookback.Position) {
	i := l.drawn(a)
	if rep.ID != l.rep.ID || i < 0 {
		return
	}
	level := rep.Rep.Moments.Level
	if math.IsNaN(level) {
		level = rep.Rep.Moments.Catch
	}
	p := l.bodyLines(a)[i]
	marks := a.d.Book.Marks(rep.ID)
	if !l.drawsBody(a, p, rep, slot) {
		return
	}
	if pos.At < level-0.02 { // the words beside the picture tell of it already
		l.said = []string{drills.NoAdvice}
		return
	}
	b := bodyPen{c: c, o: over{at, crop}, thick: c.px(4), roll: a.rollOf(slot) * math.Pi / 180}
	ov := rep.Overlay
	ov.Home = corrected(ov.Home, in(marks, slot, l.lineSlot(a), true))
	ov.Here = corrected(ov.Here, in(marks, slot, l.lineSlot(a), false))
	switch p {
	case drills.HandsUnder:
		b.plumb(ov.Here.LeadShoulder, ov.Hands)
	case drills.TrailElbow:
		b.plumb(ov.Here.TrailHip, ov.Here.TrailElbow)
	case drills.HandsThigh:
		b.plumb(ov.Here.TrailHip, ov.Hands)
	case drills.SpineTilt:
		b.dashes(ov.Home.Hips, ov.Home.Neck)
		b.line(ov.Here.Hips, ov.Here.Neck)
	case drills.HeadUp, drills.HeadBack:
		b.ring(ov.Home.Crown, ov.Home.Neck, true)
		b.ring(ov.Here.Crown, ov.Here.Neck, false)
	case drills.HipsOut, drills.HipsBack:
		b.dashes(ov.Home.Hips, ov.Here.Hips)
		b.dot(ov.Home.Hips)
		b.dot(ov.Here.Hips)
	}
	say := func(b drills.Body) string {
		words := b.Say(p)
		if more := b.Say(drills.HeadOut); p == drills.HeadUp && more != "" {
			words += ", " + more
		}
		return words + ", give or take " + p.Amount(b[p].Sigma)
	}
	words := ""
	if rep.Rep.Body[p].Known() {
		words = say(rep.Rep.Body)
	}
	if now := rep.Rep.Body.With(marks.Body); now[p] != rep.Rep.Body[p] {
		words = "By the coach's joints: " + say(now)
		if read := rep.Rep.Body.Say(p); read != "" {
			words += "; read: " + read
		}
	}
	if from := rep.Rep.Views.Body[p]; from != drills.NoView {
		words += ", " + from.String()
	}
	l.said = []string{words, drills.NoAdvice}
}

// tags writes sentences over the foot of a picture.
func (c *canvas) tags(at Rect, sentences ...string) {
	var lines []string
	for _, s := range sentences {
		lines = append(lines, c.ruler.Wrap(s, c.small, Medium, at.W-c.px(20)-c.small)...)
	}
	for i, line := range lines {
		c.tag(at.X+c.px(10), at.Bottom()-c.small*(1.1+1.7*float64(len(lines)-i)), line)
	}
}

// bodyPen draws places of a body over a picture.
type bodyPen struct {
	c           *canvas
	o           over
	thick, roll float64
}

func there(d runner.Dot) bool { return !math.IsNaN(d.X) && !math.IsNaN(d.Y) && (d.X != 0 || d.Y != 0) }

func (b bodyPen) line(p, q runner.Dot) {
	if there(p) && there(q) {
		b.c.cased(b.o.x(p.X), b.o.y(p.Y), b.o.x(q.X), b.o.y(q.Y), b.thick, Core)
	}
}

func (b bodyPen) dashes(p, q runner.Dot) {
	if there(p) && there(q) {
		b.c.casedDashes(b.o.x(p.X), b.o.y(p.Y), b.o.x(q.X), b.o.y(q.Y), b.thick, b.c.px(12))
	}
}

func (b bodyPen) dot(p runner.Dot) {
	if there(p) {
		b.c.dot(b.o.x(p.X), b.o.y(p.Y), b.c.px(7), Core)
	}
}

// plumb draws the vertical through a joint, by the camera's roll, down to where
// a place is beside it, and the way from there to the place.
func (b bodyPen) plumb(from, to runner.Dot) {
	if !there(from) || !there(to) {
		return
	}
	down := drills.Pixel{X: math.Sin(b.roll), Y: math.Cos(b.roll)}
	far := (to.X-from.X)*down.X + (to.Y-from.Y)*down.Y
	foot := runner.Dot{X: from.X + far*down.X, Y: from.Y + far*down.Y}
	b.dashes(from, foot)
	b.line(foot, to)
	b.dot(from)
	b.dot(to)
}

// ring draws a ring around the head, between its crown and the neck; that of the head as it
// was before is half as thick.
func (b bodyPen) ring(crown, neck runner.Dot, before bool) {
	if !there(crown) {
		return
	}
	r := 26.0
	x, y := crown.X, crown.Y
	if there(neck) {
		r = 0.42 * math.Hypot(crown.X-neck.X, crown.Y-neck.Y)
		x, y = crown.X+0.42*(neck.X-crown.X), crown.Y+0.42*(neck.Y-crown.Y)
	}
	thick := b.thick
	if before {
		thick /= 2
	}
	scale := b.o.at.W / b.o.crop.W
	b.c.add(Item{Shape: Ring, Role: Casing, X: b.o.x(x), Y: b.o.y(y), R: r*scale + b.c.casing(), Thick: thick + 2*b.c.casing()})
	b.c.add(Item{Shape: Ring, Role: Core, X: b.o.x(x), Y: b.o.y(y), R: r * scale, Thick: thick})
}
