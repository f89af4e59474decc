package app

import (
	"drillbay/drills"
	"drillbay/drills/runner"
)

// practiceScreen is read from the mat: what to do now, the last verdict, and
// where it stands in the set. A lookback takes it over while it lasts.
type practiceScreen struct {
	look  lookbackPart
	end   setEnd
	asks  float64 // s, when it was asked to look back at the last rep
	keeps float64 // s, when it was asked to keep the last rep, which is looked at for that
}

// keepWithin is the time in which the last rep comes up to be looked at or kept, s.
const keepWithin = 1

func (p *practiceScreen) name() string {
	switch {
	case p.look.on && p.look.pencil != nil:
		return "pencil"
	case p.look.on:
		return "lookback"
	}
	return "practice"
}

func (p *practiceScreen) follow(a *App) {
	p.look.follow(a)
	if p.asks > 0 && p.look.on {
		p.look.asked, p.asks = true, 0
		p.look.hold()
	}
	if p.keeps > 0 && p.look.on {
		p.look.act(a, Keep, 0)
		p.keeps = 0
	}
	if a.now-max(p.asks, p.keeps) > keepWithin {
		p.asks, p.keeps = 0, 0
	}
}

func (p *practiceScreen) act(a *App, d Do, n int) {
	if p.look.on && p.look.act(a, d, n) {
		return
	}
	p.bare(a, d, n)
}

// bare does what a key does in practice, whichever picture is shown.
func (p *practiceScreen) bare(a *App, d Do, n int) {
	snap := a.d.Snapshot()
	order := func(c runner.Command) { a.d.Order(c) }
	switch d {
	case Back:
		a.leavePractice()
	case Hold:
		order(runner.Command{Do: runner.Pause})
	case LookBack:
		order(runner.Command{Do: runner.LookBack})
		p.asks = a.now
	case PageBack: // from the mat: the next rep is shown as usual
		order(runner.Command{Do: runner.LookBack})
	case Keep:
		order(runner.Command{Do: runner.LookBack})
		p.keeps = a.now
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
		a.setup.View = (a.setup.View + 1) % views
		p.end.gone = snap.Set
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
			a.openBoard()
		}
	}
}

// leavePractice ends what is practised, also from under a player's list or the board.
func (a *App) leavePractice() {
	a.leave()
	for i, s := range a.stack {
		if _, ok := s.(*practiceScreen); ok {
			a.stack = a.stack[:i]
			break
		}
	}
	a.finish()
}

// place returns where notices are told: in the head, over the keys. Nothing that is read
// from the mat gives way to them.
func (p *practiceScreen) place(c *canvas) Rect { return Rect{0, 0, c.Width, c.thinHead()} }

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

// point gives the pointer to the pencil, or scrubs.
func (p *practiceScreen) point(a *App, k Kind, x, y float64) bool {
	if p.look.on && p.look.pencil != nil {
		return p.look.pencil.point(a, k, x, y)
	}
	return false
}

func (p *practiceScreen) typing() bool {
	return p.look.on && p.look.pencil != nil && p.look.pencil.write
}

func (p *practiceScreen) typed(a *App, s string) { p.look.pencil.note.Type(s) }
