package book

import (
	"strings"

	"drillbay/drills"
	"drillbay/drills/runner"
)

// Ladder are the built-in drills that are practised rep by rep, in their
// order.
func Ladder() []runner.Drill {
	l, _ := LoadLadder("")
	var out []runner.Drill
	for _, d := range l.Rungs {
		if d.Form != drills.FormMixed {
			out = append(out, forRunner(d, len(l.Rungs)))
		}
	}
	return out
}

// mixOf is an order of drills as the session needs it, reps in a set.
func (b *Book) mixOf(order []drills.Drill, mixed string) []runner.Drill {
	var out []runner.Drill
	for _, d := range order {
		r := b.forRunner(d)
		r.Reps, r.Mixed = len(order), mixed
		out = append(out, r)
	}
	return out
}

// forRunner gives the session what it needs of a drill. The order of the drills says
// what goes on in mixed practice.
func forRunner(d drills.Drill, rungs int) runner.Drill {
	kinds := map[drills.Form]runner.Kind{drills.FormCatch: runner.Catch, drills.FormStrike: runner.CatchTurnStrike, drills.FormOrdinary: runner.Ordinary, drills.FormMixed: runner.Ordinary}
	if d.Rung == 0 {
		rungs = 0
	}
	return runner.Drill{ID: d.ID, Name: d.Name, Rung: d.Rung, Rungs: rungs, Kind: kinds[d.Form], MovingStart: d.MovingStart, Ball: d.Ball, Reps: d.Reps, Beat: d.Beat, LeadArm: d.Arms == drills.LeadArm, Watched: drills.WatchedOf(d.Watched)}
}

// how puts the steps of a drill into one paragraph.
func how(d drills.Drill) string { return strings.Join(d.Steps, " ") }
