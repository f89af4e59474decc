package app

import (
	"fmt"
	"math"

	"drillbay/camera/sight"
	"drillbay/drills"
	"drillbay/drills/runner"
)

// practiceScreen is read from the mat: what to do now, the last verdict, and
// where it stands in the set. A lookback takes it over while it lasts.
type practiceScreen struct {
	look lookbackPart
	told Rect // the place of notices
}

func (p *practiceScreen) name() string {
	switch {
	case p.look.on && p.look.pencil != nil:
		return "pencil"
	case p.look.on:
		return "lookback"
	}
	return "practice"
}

func (p *practiceScreen) follow(a *App) { p.look.follow(a) }

func (p *practiceScreen) act(a *App, d Do, n int) {
	if p.look.on && p.look.act(a, d, n) {
		return
	}
	p.bare(a, d, n)
}

// bare is what a key means in practice, whatever is looked at.
func (p *practiceScreen) bare(a *App, d Do, n int) {
	snap := a.d.Snapshot()
	order := func(c runner.Command) { a.d.Order(c) }
	switch d {
	case Back:
		a.leavePractice()
	case Hold:
		order(runner.Command{Do: runner.Pause})
	case LookBack, PageBack:
		order(runner.Command{Do: runner.LookBack})
	case PageOn, Go:
		if snap.Paused {
			order(runner.Command{Do: runner.Pause})
		} else if a.rest() > 0 {
			a.plan.next(a)
		} else if snap.SetDone && a.plan != nil && !a.plan.done() {
			a.plan.next(a)
		} else if snap.SetDone {
			order(runner.Command{Do: runner.NewSet})
		}
	case LookUp:
		a.setup.ViewLookUp = !a.setup.ViewLookUp
		a.keepSetup()
	case Voice:
		a.setup.Voice = !a.setup.Voice
		a.keepSetup()
	case Tempo:
		order(runner.Command{Do: runner.Tempo})
	case More, Less:
		if rate := snap.Beat.Rate; rate > 0 {
			step := 2.0
			if d == Less {
				step = -2
			}
			order(runner.Command{Do: runner.Tempo, Number: min(max(rate+step, 30), 160)})
		}
	case SayAgain:
		order(runner.Command{Do: runner.Say})
	case TakeBack:
		order(runner.Command{Do: runner.TakeBack})
	case Lens:
		a.open(newLensScreen(a))
	case Drills:
		a.open(&drillsScreen{})
	case Progress:
		a.open(&progressScreen{})
	case Settings:
		a.open(newSettingsScreen(a))
	case NextPlayer:
		if a.group != nil {
			a.clinicDo(NextPlayer, 0)
		}
	case Number:
		if a.group != nil {
			a.clinicDo(Number, n)
		}
	case Clinic:
		if a.group != nil {
			a.open(&clinicScreen{})
		}
	}
}

// leavePractice ends what is practised, also from under a player's list.
func (a *App) leavePractice() {
	if _, ok := a.top().(*checkScreen); ok {
		a.back()
	}
	a.back()
	a.finish()
}

func (p *practiceScreen) draw(a *App, c *canvas) {
	if p.look.on {
		p.look.draw(a, c)
		return
	}
	snap := a.d.Snapshot()
	facts := []string{snap.Player.Name}
	if a.group != nil {
		facts[0] = fmt.Sprintf("Rung %d", snap.Drill.Rung)
	}
	if snap.Drill.Later {
		facts = append(facts, "a day later: nothing is told")
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
	lookUp := "look-up picture"
	if a.setup.ViewLookUp {
		lookUp = "scale"
	}
	pause := "pause"
	if snap.Paused {
		pause = "go on"
	}
	keys := []button{{do: Hold, word: pause}, {do: LookBack, word: "look back"}, {do: LookUp, word: lookUp}, {do: TakeBack, word: "take back"}, {do: Keys, word: "keys"}}
	if snap.SetDone && a.group == nil {
		// Between sets is the time to look at the numbers, or to end.
		keys = []button{keys[0], keys[1], keys[3], {do: Progress, word: "progress"}, {do: Back, word: "end"}, keys[4]}
	}
	if a.group != nil {
		keys = append([]button{{do: Clinic, word: "clinic"}, {do: NextPlayer, word: "next player"}}, keys[0], keys[1], keys[4])
	}
	c.head("Practice", facts, keys...)
	cue := snap.Cue
	if s := a.cue(); s != "" && (snap.Phase == sight.Away || snap.Phase == sight.Address) {
		cue = s
		c.again(1)
	}
	bar := c.bar(cue)
	bob := bar - c.px(30)
	a.bob(c, bob)
	p.told = Rect{0, bob - c.px(22) - c.stripHeight(), c.Width, c.stripHeight()}
	line := p.heading(a, c, snap)
	body := Rect{c.margin, line + math.Round(0.23*c.mat), c.Width - 2*c.margin, 0}
	body.H = p.told.Y - c.px(4) - body.Y
	split := math.Round(c.Width/2 - c.px(4))
	left := Rect{body.X, body.Y, split - body.X, body.H}
	if !c.covers {
		c.legend(Rect{left.X, p.told.Y, left.W, p.told.H}, a.bay.Side(snap.Player.Hand))
	}
	right := Rect{split + c.px(40), body.Y, c.Width - c.margin - split - c.px(40), body.H}
	reps := a.ofSet(snap)
	if a.setup.ViewLookUp {
		pic := a.live(a.setup.Late, liveFull)
		if pic != nil {
			at := c.show(0, pic, left, Rect{})
			shown := over{at, Rect{0, 0, float64(pic.Width), float64(pic.Height)}}
			a.seen(c, shown, pic.Seconds(), a.bay.targetIn(pic.Width, pic.Height), c.px(18)+c.small*1.6)
			c.tag(at.X+c.px(12), at.Y+c.px(10), fmt.Sprintf("look-up picture, %.1f s late", a.setup.Late))
		} else {
			c.fill(left, Plate, 0)
			c.middle(left.X+left.W/2, left.Y+left.H/2, "filling", c.heading, Regular, Quiet)
		}
		row := math.Round(0.6 * c.mat)
		p.oneRow(a, c, Rect{right.X, right.Bottom() - row, right.W, row}, snap)
		right.H -= row + c.px(12)
	} else if len(reps) == 0 {
		c.set(left, nil, snap.Drill.Reps, snap.Drill.Width(), a.bay.Side(snap.Player.Hand))
		p.firstWords(a, c, right, snap)
		return
	} else {
		c.set(left, reps, snap.Drill.Reps, snap.Drill.Width(), a.bay.Side(snap.Player.Hand))
	}
	if last, ok := snap.Last(); ok && !snap.Drill.Later && len(snap.Reps) > 0 {
		right = c.lost(right, last.Lost)
		c.verdict(right, last.Rep, a.bay.Side(snap.Player.Hand))
	}
}

// place is where notices are told: between scale and bob, over the legend; on
// a lookback over the lower edge of the picture.
func (p *practiceScreen) place(a *App, c *canvas) (r Rect, plate, words Role) {
	if p.look.on {
		r = p.look.shown
		tall := c.stripHeight()
		return Rect{r.X, r.Bottom() - tall, r.W, tall}, Casing, Core
	}
	return p.told, Ink, Page
}

// ofSet are the reps of the set that is practised, as the book has them: the
// practice screen, the clinic's board and the ledger count alike at every moment.
// Without a ledger they are the session's.
func (a *App) ofSet(snap *runner.Snapshot) []drills.Rep {
	if reps, ok := a.d.Book.Set(snap.Player.ID, snap.Session, snap.Set); ok {
		return reps
	}
	reps := make([]drills.Rep, len(snap.Reps))
	for i, d := range snap.Reps {
		reps[i] = d.Rep
	}
	return reps
}

// heading writes the rung and the count, and returns the baseline.
func (p *practiceScreen) heading(a *App, c *canvas, snap *runner.Snapshot) float64 {
	base := c.headHeight() + c.px(16) + math.Round(c.mat*CapHeight)
	count := fmt.Sprint(len(a.ofSet(snap)))
	if snap.Drill.Reps > 0 {
		count = fmt.Sprintf("%s of %d", count, snap.Drill.Reps)
	}
	x := c.before(c.Width-c.margin, base, count, c.mat, Bold, Ink)
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
	room := x - c.px(40) - c.margin
	size, _ := c.ruler.Fit(name, c.mat, min(c.floor, c.mat), Bold, room)
	c.text(c.margin, base, c.ruler.Cut(name, size, Bold, room), size, Bold, Ink)
	return base
}

// firstWords fill the place of the verdict until the first is read: how the
// drill goes.
func (p *practiceScreen) firstWords(a *App, c *canvas, r Rect, snap *runner.Snapshot) {
	y := c.paragraph(r.X, r.Y+c.title, r.W, snap.Drill.Name, c.title, Bold, Ink)
	y += math.Round(c.title * 0.2)
	lines := drillWords(snap.Drill)
	switch {
	case snap.Drill.Later:
	case a.speaks():
		lines = append(lines, "The verdict is spoken. You need not come to the laptop.")
	default:
		lines = append(lines, "The verdict is shown here, large enough to read from the mat.")
	}
	size := c.heading
	for size > c.small && linesTall(c, lines, size, r.W) > r.Bottom()-y {
		size--
	}
	for _, l := range lines {
		if y > r.Bottom() {
			return
		}
		y = c.paragraph(r.X, y, r.W, l, size, Regular, Quiet) + math.Round(size*0.3)
	}
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

// drillWords tell a drill step by step.
func drillWords(d runner.Drill) []string {
	out := []string{"Take your address and be still."}
	if d.MovingStart {
		out = append(out, "Swing the club forward a little, then back without a stop.")
	} else {
		out = append(out, "Swing the club back.")
	}
	switch d.Kind {
	case runner.Catch:
		out = append(out, "Catch it with the trail hand when the shaft is level. Hold, and look up.")
	case runner.CatchTurnStrike:
		out = append(out, "Catch it level, look up, then turn and strike.")
	default:
		out = append(out, "Swing through and hold the finish.")
	}
	return out
}

// oneRow is the newest rep alone on the scale.
func (p *practiceScreen) oneRow(a *App, c *canvas, r Rect, snap *runner.Snapshot) {
	hand := a.bay.Side(snap.Player.Hand)
	x := axis{left: r.X, right: r.Right(), hand: hand}
	c.band(x, r.Y, r.Bottom(), snap.Drill.Width())
	c.foot(x, r.Bottom())
	if !c.covers {
		c.sides(x, p.told.Y+math.Round(p.told.H/2+c.small*CapHeight/2), c.small)
	}
	if last, ok := snap.Last(); ok && degrees(last.Rep) != "" && len(snap.Reps) > 0 {
		c.reach(x, r.Y+r.H/2, r.H*0.85, last.Rep)
		c.mark(x.at(last.Rep.ShaftLine.Value), r.Y+r.H/2, r.H*0.85, last.Rep, hand, onPage())
	}
}

// point gives the pointer to the pencil, or scrubs.
func (p *practiceScreen) point(a *App, k Kind, x, y float64) bool {
	if p.look.on && p.look.pencil != nil {
		return p.look.pencil.point(k, x, y)
	}
	return false
}

func (p *practiceScreen) typing() bool {
	return p.look.on && p.look.pencil != nil && p.look.pencil.write
}

func (p *practiceScreen) typed(a *App, s string) { p.look.pencil.note.Type(s) }
