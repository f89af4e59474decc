package app

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"drillbay/camera/frame"
	"drillbay/camera/lookback"
	"drillbay/drills"
	"drillbay/drills/runner"
)

func (l *lookbackPart) draw(a *App, c *canvas, p *practiceScreen) {
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
	waits := ""
	if now := snap.Lookback; now.ID != l.id && (now.On || l.asked) {
		waits = fmt.Sprintf("; rep %d waits", now.Number)
	}
	if l.pencil != nil {
		l.pencil.draw(a, c, l, number+waits)
		return
	}
	if l.against > 0 && l.against <= len(snap.Against) {
		l.drawTwo(a, c, snap, snap.Against[l.against-1])
		return
	}
	back := "end"
	if l.called(a) {
		back = "back"
	}
	c.head("Lookback", []string{snap.Player.Name, number},
		button{do: Against, word: "compare"}, button{do: Pencil, word: "pencil"}, button{do: Overlay, word: overlay},
		button{do: Keep, word: "keep"}, button{do: Go, word: "go on"}, button{do: Back, word: back})
	bar := c.bar(cmp.Or(a.turnCue(), snap.Cue))
	picture, column := p.parts(c, bar)
	if tall := rowHeight(c, picture); tall > 0 {
		picture.H -= tall + c.px(6)
		l.drawRow(a, c, Rect{picture.X, picture.Bottom() + c.px(6), picture.W, tall})
	}
	second := l.sides(c, &picture)
	state := speedWord(l.player.Speed())
	if l.player.At(a.now).Held {
		state += ", held"
	}
	state += waits
	at := l.picture(a, c, 0, l.loop, l.player, l.rep, l.known, picture)
	if view := drills.ViewOf(a.bay.FaceOn).String(); second.W > 0 && c.ruler.Width(view+state, c.small, Medium)+3*c.small+c.px(20) < at.W {
		c.tag(at.X+c.px(10), at.Y+c.px(10), view)
	}
	l.pictureBeside(a, c, second)
	foot := at
	if second.W > 0 { // both pictures have room for the words
		foot.W = second.Right() - at.X
	}
	c.tags(foot, l.said...)
	c.tag(at.Right()-c.ruler.Width(state, c.small, Medium)-c.small-c.px(10), at.Y+c.px(10), state)
	l.timeline(a, c, Rect{c.margin, bar - c.beatHeight(), c.Width - 2*c.margin, c.beatHeight()})
	rest := p.heading(a, c, column, number, snap)
	l.words(a, c, rest, snap)
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

// speeds draws the three speeds, the one in use bold, and returns where they end.
func (c *canvas) speeds(x, y, speed float64) float64 {
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
	return x
}

// words writes verdict and values beside the picture, and the speeds.
func (l *lookbackPart) words(a *App, c *canvas, r Rect, snap *runner.Snapshot) {
	if !l.known {
		c.fitted(r.X, r.Y+c.mat, r.W, "Reading", c.mat, c.small, Bold, Quiet)
		return
	}
	lines := l.withBody(a, values(l.rep, snap.Drill, a.units()))
	row, step := math.Round(c.body*1.5), math.Round(c.small*1.32)
	foot := c.keyHeight(c.body) + c.px(10)
	more := func(v [2]string) float64 { // what a sentence, across both columns, takes beyond a row
		if v[0] != "" {
			return 0
		}
		return float64(len(c.ruler.Wrap(v[1], c.small, Regular, r.W))-1) * step
	}
	tall := float64(len(lines))*row + foot + c.px(10)
	for _, v := range lines {
		tall += more(v)
	}
	tall = min(math.Round(0.36*r.H), tall)
	tall = c.verdictOver(r, tall, tall, l.rep.Rep, a.bay.Side(snap.Player.Hand))
	if tall == 0 {
		return
	}
	y := r.Bottom() - tall
	c.rule(r.X, r.Right(), y)
	for _, v := range lines {
		if y += row; y > r.Bottom()-foot {
			break
		}
		if v[0] == "" {
			if y+more(v) > r.Bottom()-foot {
				break
			}
			c.paragraph(r.X, y, r.W, v[1], c.small, Regular, Quiet)
			y += more(v)
			continue
		}
		c.text(r.X, y, v[0], c.body, Regular, Quiet)
		x := r.X + c.px(100)
		size, _ := c.ruler.Fit(v[1], c.body, c.small, Bold, r.Right()-x)
		for i, words := range c.ruler.Wrap(v[1], size, Bold, r.Right()-x) {
			if i > 0 {
				y += math.Round(size * 1.32)
			}
			if y <= r.Bottom()-foot {
				c.text(x, y, words, size, Bold, Ink)
			}
		}
	}
	c.speeds(r.X, r.Bottom()-c.keyHeight(c.body)/2-c.px(2), l.player.Speed())
}

// withBody are the lines of a rep with the readings by the coach's joints, below what was
// lost, and with the caution where the lines tell of the body and it does not stand over
// the picture.
func (l *lookbackPart) withBody(a *App, lines [][2]string) [][2]string {
	first := 0
	if l.rep.Lost.Side != 0 {
		first = 1
	}
	marked := a.d.Book.Marks(l.id).Body
	for _, p := range coachedParts(marked) {
		lines = slices.Insert(lines, first, [2]string{"Yours", marked.Say(p)})
		first++
	}
	if l.drawn(a) >= 0 && !a.setup.OverlayOff {
		return lines
	}
	if first == 0 {
		if r := l.rep.Rep; !r.Height.Known() && !r.TopHeight.Known() {
			return lines
		}
		first = 1 + slices.IndexFunc(lines, func(v [2]string) bool { return v[0] == "Hands" })
	}
	return slices.Insert(lines, first, [2]string{"", drills.NoAdvice})
}

// values are the lines under a verdict: a name and a value, without a name a sentence.
func values(done runner.Done, d runner.Drill, u units) (out [][2]string) {
	rep := done.Rep
	add := func(name, format string, v ...any) { out = append(out, [2]string{name, fmt.Sprintf(format, v...)}) }
	if words := done.Lost.String(); words != "" {
		add("Body", "%s", words)
	}
	if done.Coach != "" {
		add("Coach", "%s", done.Coach)
	}
	if rep.ShaftLine.OK() && rep.Verdict != drills.NoReading {
		add("True to", "about %s (in line: up to %.0f° each way)", wholeDegrees(rep.ShaftLine.Sigma), d.Width())
	}
	if words := handsAt(rep, u); words != "" {
		add("Hands", "%s", words)
	}
	if rep.FaceOn() {
		if rep.Elevation.Known() {
			add("Shaft", "%s, true to about %s", drills.ShaftLevel(rep.Elevation.Value), wholeDegrees(rep.Elevation.Sigma))
		}
		add("", "%s", drills.Sentence(whyOf(rep.Why))) // across both columns
	}
	if rep.Verdict != drills.NoReading || rep.Manner != drills.Unsure && !rep.FaceOn() { // there it is the verdict's word
		add("Club", "%s", mannerOf(rep.Manner))
	}
	m := rep.Moments
	if stop := m.Catch; !math.IsNaN(stop) && !math.IsNaN(m.BackStart) {
		add("Back", "%.1f s to the catch", stop-m.BackStart)
	}
	if !math.IsNaN(rep.Tempo) && rep.Tempo > 0 {
		add("Tempo", "%.1f : 1 (%.1f to %.1f)", rep.Tempo, rep.TempoLow, rep.TempoHigh)
	}
	if done.Note != "" {
		add("Remark", "%s", done.Note)
	}
	if rep.Why != "" && rep.Verdict != drills.NoReading && !rep.FaceOn() {
		add("Note", "%s", whyOf(rep.Why))
	}
	return out
}

// handsAt says where the hands were at level, against address, and how high at the top; ""
// where nothing of it was read.
func handsAt(r drills.Rep, u units) string {
	var out []string
	put := func(x drills.Reading, more, less, none, at string) {
		words := u.short(math.Abs(math.Round(x.Value)))
		switch v := math.Round(x.Value); {
		case !x.Known():
			return
		case v == 0:
			words = none
		case v < 0:
			words += " " + less
		case at == "" || len(out) == 0: // higher at the top goes without saying
			words += " " + more
		}
		if len(out) == 0 && words == none {
			words += " as at address"
		} else if len(out) == 0 {
			words += " than at address"
		}
		out = append(out, words+at)
	}
	if r.Depth.OK() {
		put(r.Depth, "deeper", "farther away", "as deep", "")
	}
	put(r.Height, "higher", "lower", "as high", "")
	put(r.TopHeight, "higher", "lower", "as high", " at the top")
	return strings.Join(out, ", ")
}

// reel gives a loop's pictures by their time, s.
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
	if known && len(rep.Overlay.Trace) == 0 {
		crop = across(crop, float64(p.Width), rep.Overlay)
	}
	at := c.show(slot, p, box, crop)
	if slot == 0 {
		l.said = nil
	}
	if known && !a.setup.OverlayOff {
		c.overlay(at, crop, rep, pos)
		if len(rep.Overlay.Trace) > 0 && l.beside == nil { // down the line
			l.wedge(a, c, at, rep)
		}
		l.drawBody(a, c, slot, at, crop, rep, pos)
	}
	return at
}

// wedge draws a rep's shaft from above into the corner of a picture.
func (l *lookbackPart) wedge(a *App, c *canvas, at Rect, rep runner.Done) {
	c.wedge(at, rep, a.d.Snapshot().Drill.Width(), a.bay.Side(l.who.Hand))
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

// timeline draws the rep's time on the bar that the beat has in practice: from
// post to post, its moments between, and the disc where it stands.
func (l *lookbackPart) timeline(a *App, c *canvas, r Rect) {
	y := r.Y + c.px(18)
	from, to := l.player.From(), l.player.To()
	post := c.px(8)
	left, right := r.X+c.px(14)+post/2, r.Right()-c.px(14)-post/2
	place := func(t float64) float64 { return left + (t-from)/max(to-from, 1e-9)*(right-left) }
	c.fill(Rect{left, y - math.Round(1.5*c.k), right - left, max(2, math.Round(3*c.k))}, Edge, 0)
	for _, x := range []float64{left, right} {
		c.fill(Rect{math.Round(x - post/2), y - c.px(17), post, c.px(34)}, Ink, 0)
	}
	now := l.player.At(a.now)
	free := math.Inf(-1)
	base := min(y+c.px(14)+c.small*1.1, r.Bottom()-math.Ceil(c.small*0.2)) // the cue bar begins there
	for _, m := range l.row() {
		x, weight, role := place(m.at), Regular, Quiet
		if math.Abs(m.at-now.At) < 0.02 {
			weight, role = Bold, Ink
		}
		c.fill(Rect{math.Round(x - post/4), y - c.px(12), post / 2, c.px(24)}, Ink, 0)
		w := c.ruler.Width(m.name, c.small, Bold)
		if x-w/2 < free {
			continue
		}
		free = x + w/2 + c.px(6)
		c.middle(min(max(x, left+w/2), right-w/2), base, m.name, c.small, weight, role)
	}
	c.disc(place(now.At), y, c.px(14), Ink)
	c.press(Rect{left, y - c.px(17), right - left, c.px(34)}, Hold, 0)
}
