package app

import (
	"fmt"
	"math"

	"drillbay/camera/sight"
	"drillbay/drills"
	"drillbay/drills/runner"
)

// What the practice screen shows beside the verdict; M goes on to the next.
const (
	viewLive   = iota // the live picture, with what the eye sees
	viewLookUp        // the same some seconds late
	viewScale         // the set's scale alone
	views
)

func (p *practiceScreen) draw(a *App, c *canvas) {
	if p.look.on {
		p.look.draw(a, c, p)
		return
	}
	snap := a.d.Snapshot()
	p.head(a, c, snap)
	cue := snap.Cue
	if s := a.cue(); s != "" && (snap.Phase == sight.Away || snap.Phase == sight.Address) {
		cue = s
		c.again(1)
	}
	over := p.ended(a, snap)
	if over && cue == snap.Cue {
		if on := a.onward(); on != "" {
			cue = on
		}
	}
	bar := c.bar(cue)
	if snap.Beat.On {
		a.bob(c, bar-c.px(30))
	}
	picture, column := p.parts(c, bar)
	if over {
		p.drawSetEnd(a, c, picture, column, snap)
		return
	}
	if a.setup.View == viewScale {
		p.scaleAlone(a, c, Rect{0, picture.Y, c.Width, picture.H}, snap)
		return
	}
	if !snap.Beat.On {
		picture.H = bar - picture.Y
	}
	p.picture(a, c, picture)
	if last, ok := snap.Last(); ok && last.Lost.Side != 0 && !snap.Drill.Later && len(snap.Reps) > 0 {
		c.tags(picture, drills.NoAdvice) // beside it stands what was lost
	}
	p.column(a, c, column, snap)
}

// parts are the places of picture and words above the beat's bar, the same in
// practice and in the lookback. The words take what they need to be read from
// the mat, the picture the rest.
func (p *practiceScreen) parts(c *canvas, bar float64) (picture, column Rect) {
	top := c.headHeight()
	tall := bar - c.beatHeight() - top
	wide := max(c.ruler.Width("outside", min(math.Round(1.4*c.mat), 0.2*c.Width), Bold), 0.4*c.Width)
	wide = min(wide, 0.55*c.Width)
	split := math.Round(c.Width - wide - 2*c.margin)
	return Rect{0, top, split, tall}, Rect{split + c.margin, top, c.Width - split - 2*c.margin, tall - c.px(6)}
}

// beatHeight is the height of the beat's bar above the cue, px.
func (c *canvas) beatHeight() float64 { return c.px(56) }

// head writes who practises what, and the keys.
func (p *practiceScreen) head(a *App, c *canvas, snap *runner.Snapshot) {
	facts := []string{snap.Player.Name}
	if a.group != nil {
		facts[0] = fmt.Sprintf("Rung %d", snap.Drill.Rung)
	}
	if snap.Drill.Later {
		facts = append(facts, "a day later: no verdicts")
	}
	if !a.setup.Voice {
		facts = append(facts, "voice off")
	}
	if snap.Drill.Mixed == "" {
		facts = append(facts, snap.Drill.Name)
	}
	if !snap.SetDone {
		facts = append(facts, snap.Bay) // else the keys need its room
	}
	pause := "pause"
	if snap.Paused {
		pause = "go on"
	}
	next := [views]string{"look-up picture", "scale", "live picture"}[a.setup.View%views]
	keys := []button{{do: Hold, word: pause}, {do: LookBack, word: "look back"}, {do: LookUp, word: next}, {do: TakeBack, word: "undo rep"}, {do: Back, word: "end"}, {do: Keys, word: "keys"}}
	if snap.SetDone && a.group == nil {
		// Between sets is the time to look at the numbers, or to end.
		keys = []button{{do: Go, word: "next set"}, keys[1], keys[3], {do: Progress, word: "progress"}, keys[4], keys[5]}
	}
	if a.group != nil {
		keys = append([]button{{do: Clinic, word: "clinic"}, {do: NextPlayer, word: "next player"}}, keys[0], keys[1], keys[4], keys[5])
	}
	c.head("Practice", facts, keys...)
}

// picture shows the live picture, or the late one, with what the eye saw in it.
func (p *practiceScreen) picture(a *App, c *canvas, r Rect) {
	late := 0.0
	if a.setup.View == viewLookUp {
		late = a.setup.Late
	}
	pic := a.live(late, liveFull)
	if pic == nil {
		c.fill(r, Plate, 0)
		word := "no picture from the camera"
		if late > 0 {
			word = "filling"
		}
		c.middle(r.X+r.W/2, r.Y+r.H/2, word, c.heading, Regular, Quiet)
		return
	}
	crop := framed(pic, runner.Overlay{}, false, r.W/r.H)
	shown := over{c.show(0, pic, r, crop), crop}
	line := c.px(10)
	if late > 0 {
		c.tag(r.X+c.px(12), r.Y+line, fmt.Sprintf("look-up picture, %.1f s late", late))
		line += c.px(8) + c.small*1.6
	}
	a.seen(c, shown, pic.Seconds(), a.target(pic), line)
	if late == 0 {
		a.lensGuide(c, shown, pic.Width, a.d.Snapshot())
	}
}

// column writes rung and count, the verdict, and the set on its scale.
func (p *practiceScreen) column(a *App, c *canvas, r Rect, snap *runner.Snapshot) {
	rest := p.heading(a, c, r, a.count(snap), snap)
	reps := a.ofSet(snap)
	last, ok := snap.Last()
	if len(reps) == 0 || !ok || len(snap.Reps) == 0 {
		p.firstWords(a, c, rest, snap)
		return
	}
	hand, tall := a.bay.Side(snap.Player.Hand), math.Round(max(min(0.3*r.H, c.px(190)), c.px(120)))
	if snap.Drill.Later {
		tall = min(rest.H, c.px(240)) // no verdict is told
	} else {
		rest = c.lost(rest, last.Lost)
		tall = c.verdictOver(rest, tall, c.px(88), last.Rep, hand)
	}
	if tall > 0 {
		c.compact(Rect{rest.X, rest.Bottom() - tall, rest.W, tall}, reps, snap.Drill.Width(), hand)
	}
}

// scaleAlone shows the set on a scale of its own, a row each rep, beside the
// verdict.
func (p *practiceScreen) scaleAlone(a *App, c *canvas, r Rect, snap *runner.Snapshot) {
	split := math.Round(c.Width/2 - c.px(4))
	legend := c.stripHeight()
	left := Rect{c.margin, r.Y + c.px(12), split - c.margin, r.H - c.px(16) - legend}
	hand := a.bay.Side(snap.Player.Hand)
	c.legend(Rect{left.X, left.Bottom() + c.px(4), left.W, legend}, hand)
	reps := a.ofSet(snap)
	c.set(left, reps, snap.Drill.Reps, snap.Drill.Width(), hand)
	right := Rect{split + c.px(40), r.Y, c.Width - c.margin - split - c.px(40), r.H - c.px(10)}
	right = p.heading(a, c, right, a.count(snap), snap)
	if last, ok := snap.Last(); ok && !snap.Drill.Later && len(snap.Reps) > 0 {
		if last.Lost.Side != 0 {
			caution := c.ruler.Wrap(drills.NoAdvice, c.small, Regular, right.W)
			right.H -= math.Round(c.small*1.32) * float64(len(caution))
			c.paragraph(right.X, right.Bottom()+math.Round(c.small), right.W, drills.NoAdvice, c.small, Regular, Quiet)
		}
		c.verdict(c.lost(right, last.Lost), last.Rep, hand)
	} else {
		p.firstWords(a, c, right, snap)
	}
}

// count tells how many reps the set has so far and, where the set has an end, out of how
// many.
func (a *App) count(snap *runner.Snapshot) string {
	count := fmt.Sprint(len(a.ofSet(snap)))
	if snap.Drill.Reps > 0 {
		count = fmt.Sprintf("%s of %d", count, snap.Drill.Reps)
	}
	return count
}

// heading writes the rung, or whose turn it is, and a count over the words, and
// returns what it leaves of their place.
func (p *practiceScreen) heading(a *App, c *canvas, r Rect, count string, snap *runner.Snapshot) Rect {
	share := 0.52
	if last, ok := snap.Last(); ok && last.Lost.Side != 0 {
		share = 0.4 // what was lost has to be read
	}
	size := min(max(math.Round(share*c.mat), c.title), math.Round(r.H*0.14))
	base := r.Y + math.Round(size*1.05)
	name := snap.Drill.Name
	if snap.Drill.Rung > 0 {
		name = fmt.Sprintf("Rung %d", snap.Drill.Rung)
	}
	if snap.Drill.Mixed != "" {
		name = snap.Drill.Name // it changes from rep to rep
	}
	if a.group != nil {
		name = snap.Player.Name // whose turn it is comes first
	}
	room := r.W - c.ruler.Width(count, size, Bold) - c.px(24)
	fits, ok := c.ruler.Fit(name, size, min(c.title, size), Bold, room)
	if !ok { // a long name has a line of its own
		room = r.W
		fits, _ = c.ruler.Fit(name, size, min(c.small, size), Bold, room)
		c.text(r.X, base, c.ruler.Cut(name, fits, Bold, room), fits, Bold, Quiet)
		name = ""
		base += math.Round(size * 1.1)
	}
	c.before(r.Right(), base, count, size, Bold, Quiet)
	c.text(r.X, base, name, fits, Bold, Quiet)
	top := base + math.Round(size*0.3)
	return Rect{r.X, top, r.W, r.Bottom() - top}
}

// firstWords stand in the verdict's place until there is one: how the drill goes, in a few
// words.
func (p *practiceScreen) firstWords(a *App, c *canvas, r Rect, snap *runner.Snapshot) {
	lines := append(p.firstLines(a, snap), nonEmpty(a.reason(snap.Drill))...)
	size := c.heading
	for size > c.body && linesTall(c, lines, size, r.W) > 0.55*r.H {
		size--
	}
	tall := linesTall(c, lines, size, r.W) + size*0.4
	size2, _ := c.ruler.Fit(snap.Drill.Name, c.title, c.heading, Bold, r.W)
	y := r.Y + size2
	c.text(r.X, y, c.ruler.Cut(snap.Drill.Name, size2, Bold, r.W), size2, Bold, Ink)
	y += math.Round(size2 * 0.4)
	box := Rect{r.X, y, r.W, r.Bottom() - y - tall}
	if box.H > c.px(110) {
		a.shownDrill(c, box, snap.Drill, a.bay.Side(snap.Player.Hand))
		y = box.Bottom()
	}
	y += math.Round(size * 1.2)
	for _, l := range lines {
		if y > r.Bottom() {
			return
		}
		y = c.paragraph(r.X, y, r.W, l, size, Regular, Ink) + math.Round(size*0.3)
	}
}

// firstLines say how the drill goes, and where the verdict comes from.
func (p *practiceScreen) firstLines(a *App, snap *runner.Snapshot) []string {
	lines := drillWords(snap.Drill)
	switch {
	case snap.Drill.Later:
	case a.speaks():
		lines = append(lines, "The verdict is spoken.")
	default:
		lines = append(lines, "The verdict appears here.")
	}
	if _, two := a.otherView(); a.bay.FaceOn && !two {
		lines = append(lines, "From the front it is whether you swung it; "+drills.SeenFaceOn+".")
	}
	return lines
}

// speaks reports that verdicts are heard.
func (a *App) speaks() bool {
	return a.setup.Voice && (a.d.Sound == nil || a.d.Sound() != "")
}

// linesTall is the height of wrapped paragraphs.
func linesTall(c *canvas, lines []string, size, width float64) float64 {
	tall := 0.0
	for _, l := range lines {
		tall += float64(len(c.ruler.Wrap(l, size, Regular, width)))*math.Round(size*1.32) + math.Round(size*0.3)
	}
	return tall
}

// drillWords tell a drill in few words; how it goes is drawn.
func drillWords(d runner.Drill) []string {
	out := "Swing the club back."
	if d.MovingStart {
		out = "Swing a little forward, then back."
	}
	switch d.Kind {
	case runner.Catch:
		return []string{out, "Catch it where the shaft is level, and look up."}
	case runner.CatchTurnStrike:
		return []string{out, "Catch it level, look up, then turn and strike."}
	}
	return []string{out, "Swing through and hold the finish."}
}
