package app

import (
	"fmt"
	"math"

	"drillbay/camera/frame"
	"drillbay/camera/lookback"
	"drillbay/drills"
	"drillbay/drills/runner"
)

func (l *lookbackPart) draw(a *App, c *canvas) {
	snap := a.d.Snapshot()
	// A picture of a slow loop is shown for longer.
	c.again(min(1.0/60/l.player.Speed(), 1.0/15))
	number := fmt.Sprintf("rep %d", l.number)
	if snap.Drill.Reps > 0 {
		number = fmt.Sprintf("rep %d of %d", l.number, snap.Drill.Reps)
	}
	overlay := "overlay off"
	if a.setup.OverlayOff {
		overlay = "overlay on"
	}
	if l.pencil != nil {
		if n := snap.Lookback.Number; snap.Lookback.On && snap.Lookback.ID != l.id {
			number += fmt.Sprintf("; rep %d waits", n)
		}
		l.pencil.draw(a, c, l, number)
		return
	}
	if l.against > 0 && l.against <= len(snap.Against) {
		l.drawTwo(a, c, snap, snap.Against[l.against-1])
		return
	}
	c.head("Lookback", []string{snap.Player.Name, number},
		button{do: Against, word: "another rep"}, button{do: Pencil, word: "pencil"}, button{do: Overlay, word: overlay},
		button{do: Keep, word: "keep"}, button{do: Back, word: "back"})
	bar := c.bar(snap.Cue)
	foot := bar - c.px(82)
	top := c.headHeight() + c.px(12)
	// The words need their column first; the picture takes the rest.
	column := min(max(c.ruler.Width("outside", c.mat, Bold), c.px(420)), c.Width*0.5)
	box := Rect{c.margin, top, c.Width - 3*c.margin - column, foot - top}
	at := l.picture(a, c, 0, l.loop, l.player, l.rep, l.known, box)
	l.shown = at
	state := speedWord(l.player.Speed())
	if l.player.At(a.now).Held {
		state += ", held"
	}
	c.tag(at.Right()-c.ruler.Width(state, c.small, Medium)-c.small-c.px(10), at.Y+c.px(10), state)
	l.timeline(a, c, Rect{at.X, foot, at.W, bar - foot})
	right := Rect{at.Right() + c.margin, top, c.Width - c.margin - at.Right() - c.margin, foot - top}
	l.words(a, c, right, snap)
	c.speeds(right.X, bar-c.px(40), l.player.Speed())
}

func speedWord(s float64) string {
	switch s {
	case lookback.Quarter:
		return "quarter speed"
	case lookback.Half:
		return "half speed"
	}
	return "full speed"
}

// speeds draws the three speeds, the one in use bold.
func (c *canvas) speeds(x, y, speed float64) {
	h := c.keyHeight(c.body)
	end := c.key(x, y-h/2, c.body, Next.Cap(), Ink)
	c.press(Rect{x, y - h/2, end - x, h}, Next, 0)
	x = end + c.px(12)
	for _, s := range []struct {
		do    Do
		word  string
		speed float64
	}{{Quarter, "quarter", lookback.Quarter}, {Half, "half", lookback.Half}, {Full, "full", lookback.Full}} {
		weight := Regular
		if s.speed == speed {
			weight = Bold
		}
		end := c.text(x, y+math.Round(c.body*CapHeight/2), s.word, c.body, weight, Ink)
		c.press(Rect{x, y - h/2, end - x, h}, s.do, 0)
		x = end + c.px(16)
	}
}

// words writes verdict and values beside the picture.
func (l *lookbackPart) words(a *App, c *canvas, r Rect, snap *runner.Snapshot) {
	if !l.known {
		c.paragraph(r.X, r.Y+c.title, r.W, "Reading this rep.", c.title, Regular, Quiet)
		return
	}
	rep := l.rep.Rep
	tall := math.Round(2 * 1.12 * c.mat)
	if manner(rep) != "" {
		tall = math.Round(3 * 1.06 * c.mat)
	}
	tall = min(tall, r.H)
	c.verdict(Rect{r.X, r.Y - c.px(6), r.W, tall}, rep, a.bay.Side(snap.Player.Hand))
	y := r.Y + tall + c.px(8)
	c.rule(r.X, r.Right(), y)
	y += c.px(32)
	for _, v := range values(l.rep, snap.Drill) {
		if y > r.Bottom()+c.px(8) {
			return
		}
		c.text(r.X, y, v[0], c.body, Regular, Quiet)
		x := r.X + c.px(100)
		c.text(x, y, c.ruler.Cut(v[1], c.body, Bold, r.Right()-x), c.body, Bold, Ink)
		y += math.Round(c.body * 1.6)
	}
}

// values are the lines under a verdict: a name and a value.
func values(done runner.Done, d runner.Drill) (out [][2]string) {
	rep := done.Rep
	add := func(name, format string, v ...any) { out = append(out, [2]string{name, fmt.Sprintf(format, v...)}) }
	if words := done.Lost.String(); words != "" {
		add("Body", "%s", words)
	}
	if done.Coach != "" {
		add("Coach", "%s", done.Coach)
	}
	if rep.ShaftLine.OK() && rep.Verdict != drills.NoReading {
		add("Sure to", "± %.1f°, band %.0f° each way", rep.ShaftLine.Sigma, d.Width())
	}
	if rep.Depth.OK() {
		switch depth := math.Round(rep.Depth.Value); {
		case depth > 0:
			add("Hands", "%.0f cm deeper than at address", depth)
		case depth < 0:
			add("Hands", "%.0f cm further out than at address", -depth)
		default:
			add("Hands", "as deep as at address")
		}
	}
	if rep.Verdict != drills.NoReading || rep.Manner != drills.Unsure {
		add("Manner", "%s", rep.Manner)
	}
	m := rep.Moments
	if stop := m.Catch; !math.IsNaN(stop) && !math.IsNaN(m.BackStart) {
		add("Back", "%.2f s to the catch", stop-m.BackStart)
	}
	if !math.IsNaN(rep.Tempo) && rep.Tempo > 0 {
		add("Tempo", "%.1f : 1, between %.1f and %.1f", rep.Tempo, rep.TempoLow, rep.TempoHigh)
	}
	if done.Note != "" {
		add("Remark", "%s", done.Note)
	}
	if rep.Why != "" && rep.Verdict != drills.NoReading {
		add("Note", "%s", rep.Why)
	}
	return out
}

// reel is what a loop is drawn from: pictures by their time, s.
type reel interface {
	Frame(at float64) *frame.Picture
}

// picture draws the loop's picture of now with its overlay, framed on the
// player, and returns where it lies.
func (l *lookbackPart) picture(a *App, c *canvas, slot int, loop reel, player lookback.Player, rep runner.Done, known bool, box Rect) Rect {
	pos := player.At(a.now)
	p := loop.Frame(pos.At)
	if p == nil {
		c.fill(box, Plate, 0)
		return box
	}
	crop := framed(p, rep.Overlay, known, box.W/box.H)
	at := c.show(slot, p, box, crop)
	if known && !a.setup.OverlayOff {
		c.overlay(at, crop, rep, pos)
		l.drawBody(a, c, at, crop, rep, pos)
	}
	return at
}

// framed is the part of a picture that shows the player rather than the
// room, of a shape of width over height.
func framed(p *frame.Picture, o runner.Overlay, known bool, shape float64) Rect {
	w, h := float64(p.Width), float64(p.Height)
	tall := h
	if known && len(o.Trace) > 0 {
		tall = h * 0.94
	}
	wide := min(tall*shape, w)
	tall = min(tall, wide/shape)
	x, y := w/2, h/2
	if known && len(o.Trace) > 0 {
		// Between the hands and the middle of the head's trace.
		lo, hi, low := math.Inf(1), math.Inf(-1), 0.0
		for _, d := range append(append([]runner.Dot{}, o.Trace...), o.Hands, o.Target) {
			if math.IsNaN(d.X) || math.IsNaN(d.Y) {
				continue
			}
			lo, hi, low = min(lo, d.X), max(hi, d.X), max(low, d.Y)
		}
		if hi > lo {
			x = (lo + hi) / 2
			y = max(h/2, low+0.1*h-tall/2)
		}
	}
	out := Rect{math.Round(x - wide/2), math.Round(y - tall/2), math.Round(wide), math.Round(tall)}
	out.X = min(max(out.X, 0), w-out.W)
	out.Y = min(max(out.Y, 0), h-out.H)
	return out
}

// timeline draws the loop's line with its moments and where it stands.
func (l *lookbackPart) timeline(a *App, c *canvas, r Rect) {
	y := r.Y + c.px(28)
	from, to := l.player.From(), l.player.To()
	place := func(t float64) float64 {
		return r.X + c.px(18) + (t-from)/max(to-from, 1e-9)*(r.W-c.px(36))
	}
	thick := max(2, c.px(3))
	c.fill(Rect{place(from), y - thick/2, place(to) - place(from), thick}, Edge, 0)
	post := func(t float64, name string, weight Weight, role Role) {
		x := place(t)
		c.fill(Rect{math.Round(x - c.px(2)), y - c.px(12), c.px(4), c.px(24)}, Ink, 0)
		w := c.ruler.Width(name, c.small, weight)
		left := min(max(x-w/2, r.X), r.Right()-w)
		c.text(left, y+c.px(12)+c.small*1.15, name, c.small, weight, role)
	}
	now := l.player.At(a.now)
	post(from, "", Regular, Quiet)
	post(to, "", Regular, Quiet)
	free := math.Inf(-1)
	for _, m := range l.moments() {
		name, w := m.name, c.ruler.Width(m.name, c.small, Bold)
		if place(m.at)-w/2 < free {
			name = ""
		} else {
			free = place(m.at) + w/2 + c.px(6)
		}
		if math.Abs(m.at-now.At) < 0.02 {
			post(m.at, name, Bold, Ink)
		} else {
			post(m.at, name, Regular, Quiet)
		}
	}
	c.disc(place(now.At), y, c.px(12), Ink)
	c.press(Rect{r.X, y - c.px(14), r.W, c.px(28)}, Hold, 0)
}
