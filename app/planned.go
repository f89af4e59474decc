package app

import (
	"fmt"
	"math"

	"drillbay/drills"
	"drillbay/drills/book"
	"drillbay/drills/runner"
)

// planned is a session that is followed: the player presses go once, and each
// part follows the one before by itself.
type planned struct {
	player string
	lines  []book.PlanLine
	at     int     // the part that is on
	since  float64 // s, when it began
	set    int     // the session's, while the part is on; 0: not seen yet
}

// session is a player's plan. The drawn player of the virtual bay does one
// drill and follows none.
func (a *App) session(p book.PlayerLine) []book.PlanLine {
	if a.d.Virtual {
		return nil
	}
	return a.d.Book.Session(p.Player.ID, a.setup.Minutes)
}

// begin practises a player's plan, or where there is none the rung due.
func (a *App) begin(p book.PlayerLine) {
	lines := a.session(p)
	for i, l := range lines {
		if l.Drill.ID != "" {
			a.practise(p, l.Drill, l.Order)
			a.plan = &planned{player: p.Player.ID, lines: lines, at: i}
			return
		}
	}
	r := here(a.d.Book.Rungs(p.Player.ID))
	a.practise(p, r.Drill, r.Order)
}

// line is the part of the plan that is on.
func (a *App) line() (book.PlanLine, bool) {
	if a.plan == nil || a.plan.at >= len(a.plan.lines) {
		return book.PlanLine{}, false
	}
	return a.plan.lines[a.plan.at], true
}

// rest returns how much longer the player rests, s; 0 when the player does not rest.
func (a *App) rest() float64 {
	l, ok := a.line()
	if !ok || l.Rest <= 0 {
		return 0
	}
	return math.Max(l.Rest-(a.now-a.plan.since), 0)
}

// follow goes on with the plan when a part of it is done.
func (p *planned) follow(a *App) {
	snap := a.d.Snapshot()
	l, ok := a.line()
	if !ok || snap.Player.ID != p.player || !snap.Ready {
		return
	}
	switch {
	case l.Rest > 0:
		if a.rest() == 0 && between(snap) {
			p.next(a)
		}
	case l.Drill.ID == "":
		p.next(a)
	case l.On(snap.Drill) && a.now > p.since+1:
		if p.set == 0 {
			p.set = snap.Set
		}
		// A rep may have begun the next set before the last one was read.
		if (snap.SetDone && len(snap.Reps) > 0 || snap.Set > p.set) && between(snap) {
			p.next(a)
		}
	}
}

// next begins the next part.
func (p *planned) next(a *App) {
	p.at++
	p.since, p.set = a.now, 0
	l, ok := a.line()
	if !ok || l.Drill.ID == "" {
		return
	}
	if snap := a.d.Snapshot(); snap.Drill == l.Drill {
		a.d.Order(runner.Command{Do: runner.NewSet})
		return
	}
	a.d.Order(begins(runner.Change, l.Drill, l.Order))
}

// done reports whether the plan was followed to its end.
func (p *planned) done() bool { return p.at >= len(p.lines) }

// cue says what to do now where that comes from the clinic or the plan; "" where the session says it.
func (a *App) cue() string {
	if s := a.turnCue(); s != "" {
		return s
	}
	switch s := a.rest(); {
	case s > 0:
		return fmt.Sprintf("Rest, %.0f s", math.Ceil(s/5)*5)
	case a.plan != nil && a.plan.done():
		return "Done for today"
	}
	return ""
}

// begins is the order that begins a set of a drill, or a mixed one.
func begins(do runner.Do, d runner.Drill, mix []runner.Drill) runner.Command {
	if len(mix) > 0 {
		d = mix[0]
	}
	return runner.Command{Do: do, Drill: d, Order: mix}
}

// reason says why a plan begins as it does, "" where that needs no saying.
func reason(lines []book.PlanLine) string {
	for _, l := range lines {
		if l.Drill.ID != "" {
			return l.Why
		}
	}
	return ""
}

// reason says why the part of the plan that is on is in it, before its first rep. The
// rung due was explained at the start: who is new to it should read little.
func (a *App) reason(d runner.Drill) string {
	l, ok := a.line()
	if !ok || !l.On(d) || l.Part == drills.Work.String() {
		return ""
	}
	return l.Why
}

// brief are a plan's lines in a few: sets of one drill together, rests left
// out.
func brief(lines []book.PlanLine) (out []string) {
	sets, last := 0, book.PlanLine{}
	put := func() {
		switch {
		case sets == 1:
			out = append(out, drills.UpperFirst(last.Line))
		case sets > 1:
			out = append(out, fmt.Sprintf("%d sets of %s", sets, last.Line))
		}
		sets = 0
	}
	for _, l := range lines {
		switch {
		case l.Rest > 0:
		case l.Drill.ID == "":
			put()
			out = append(out, drills.UpperFirst(l.Line))
		case sets > 0 && l.Line == last.Line:
			sets++
		default:
			put()
			sets, last = 1, l
		}
	}
	put()
	return out
}
