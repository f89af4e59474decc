package book

import (
	"fmt"

	"drillbay/drills"
)

// Check is the list that is ticked before the first rung of a session.
func (b *Book) Check() []string {
	if b.ladder.Check == nil {
		return nil
	}
	return b.ladder.Check.Steps
}

// Session is the plan of a session of so many minutes. The first session of all has no set without
// verdicts: who is new to this is told how the reps were.
func (b *Book) Session(player string, minutes float64) []PlanLine {
	b.mu.Lock()
	plan, known := b.ofToday(player).plans[minutes]
	b.mu.Unlock()
	if known {
		return plan
	}
	items, err := b.Plan(player, minutes, b.now())
	if err != nil {
		return nil
	}
	out := make([]PlanLine, 0, len(items))
	for _, i := range items {
		if i.Part == drills.Test && b.View(player).Standing.Practised.IsZero() {
			continue
		}
		out = append(out, b.planLine(i))
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	w := b.ofToday(player)
	if len(w.plans) == 0 || len(w.plans) > 20 {
		w.plans = map[float64][]PlanLine{}
	}
	w.plans[minutes] = out
	b.worked[player] = w
	return out
}

func (b *Book) planLine(i drills.Item) PlanLine {
	l := PlanLine{Part: i.Part.String(), Why: i.Why}
	if d, ok := b.ladder.Drill(i.Drill); ok && i.Reps > 0 {
		l.Drill = b.forRunner(d)
		l.Drill.Reps, l.Drill.Later = i.Reps, i.Kind == drills.Retention
		l.Line = fmt.Sprintf("%s: %s", drills.Count(i.Reps, "rep"), drills.LowerFirst(d.Name))
		order := make([]drills.Drill, len(i.Order))
		for k, id := range i.Order {
			order[k], _ = b.ladder.Drill(id)
		}
		l.Order = b.mixOf(order, d.ID)
		return l
	}
	if i.Part == drills.Rest {
		l.Rest = i.Seconds
	}
	l.Line = l.Part
	switch {
	case i.Part == drills.WindDown:
		l.Line = i.Why
	case i.Seconds >= 60:
		l.Line = fmt.Sprintf("%s: %.0f min", l.Part, i.Seconds/60)
	}
	return l
}
