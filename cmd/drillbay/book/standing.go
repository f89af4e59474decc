package book

import (
	"fmt"
	"math"
	"slices"
	"time"

	"drillbay/app"
	"drillbay/drills/ledger"
)

// set is one set of reps of one drill.
type set struct {
	session  string
	number   int
	drill    string
	rung     int
	later    bool
	good, of int
}

func (s set) title() string {
	for _, r := range ladder() {
		if r.drill.ID == s.drill {
			return fmt.Sprintf("Rung %d: %s", r.drill.Rung, r.drill.Name)
		}
	}
	if s.rung > 0 {
		return fmt.Sprintf("Rung %d", s.rung)
	}
	return s.drill
}

// setsOf are the sets of reps, in the order practised.
func setsOf(reps []ledger.Record) (out []set) {
	for _, r := range reps {
		n := len(out)
		if n == 0 || out[n-1].session != r.Session || out[n-1].number != r.Set || out[n-1].drill != r.Drill {
			out = append(out, set{session: r.Session, number: r.Set, drill: r.Drill, rung: r.Rung, later: r.Kind == ledger.Retention})
			n++
		}
		out[n-1].of++
		if r.Counts() {
			out[n-1].good++
		}
	}
	return out
}

// session is one session's shaft lines.
type session struct {
	id       string
	began    time.Time
	later    bool
	lines    []float64 // degrees
	good, of int
}

func sessionsOf(reps []ledger.Record) (out []session) {
	for _, r := range reps {
		i := slices.IndexFunc(out, func(s session) bool {
			return s.id == r.Session && s.later == (r.Kind == ledger.Retention)
		})
		if i < 0 {
			out = append(out, session{id: r.Session, began: r.At, later: r.Kind == ledger.Retention})
			i = len(out) - 1
		}
		s := &out[i]
		s.of++
		if r.Counts() {
			s.good++
		}
		if r.Rep.ShaftLine.OK() {
			s.lines = append(s.lines, r.Rep.ShaftLine.Value)
		}
	}
	return out
}

// Rungs implements app.Book.
func (b *Book) Rungs(player string) []app.RungLine {
	b.mu.Lock()
	defer b.mu.Unlock()
	sets := setsOf(b.counted(player))
	list := ladder()
	out := make([]app.RungLine, len(list))
	here := 0
	for i, r := range list {
		out[i] = app.RungLine{Drill: r.drill, How: r.how, Cause: r.cause}
		for _, s := range sets {
			if s.drill != r.drill.ID {
				continue
			}
			here = i
			out[i].State = fmt.Sprintf("%d of %d", s.good, s.of)
			if low, _ := wilson(s.good, s.of); low >= passes {
				out[i].Passed = true
			}
			if out[i].Passed {
				out[i].State = "passed, " + out[i].State
			}
		}
	}
	// The rung practised last, or the one after it once it is passed.
	if len(sets) > 0 && out[here].Passed && here+1 < len(out) {
		here++
	}
	out[here].Here = true
	return out
}

// Progress implements app.Book.
func (b *Book) Progress(player string) app.ProgressSheet {
	rungs := b.Rungs(player)
	b.mu.Lock()
	defer b.mu.Unlock()
	reps := b.counted(player)
	sheet := app.ProgressSheet{Rungs: rungs}
	for _, r := range rungs {
		if r.Here {
			sheet.Headline = fmt.Sprintf("Rung %d of %d", r.Drill.Rung, r.Drill.Rungs)
			sheet.Why = "No set of this rung yet: ten reps."
			if r.State != "" {
				sheet.Why = fmt.Sprintf("Last set: %s in line and swung. 9 of 10 are enough to go on.", r.State)
			}
		}
	}
	for _, s := range sessionsOf(reps) {
		low, high := wilson(s.good, s.of)
		line := app.SessionLine{Date: s.began.Local().Format("2 Jan"), Later: s.later, Counted: s.good, Of: s.of, ShareLow: low, ShareHigh: high}
		if len(s.lines) == 0 {
			continue
		}
		slices.Sort(s.lines)
		line.Low, line.Middle, line.High = quantile(s.lines, 0.1), quantile(s.lines, 0.5), quantile(s.lines, 0.9)
		sheet.Sessions = append(sheet.Sessions, line)
	}
	return sheet
}

// quantile of sorted values, linear between them (definition 7 of Hyndman and
// Fan 1996).
func quantile(sorted []float64, q float64) float64 {
	at := q * float64(len(sorted)-1)
	i := int(math.Floor(at))
	if i+1 >= len(sorted) {
		return sorted[len(sorted)-1]
	}
	return sorted[i] + (at-float64(i))*(sorted[i+1]-sorted[i])
}
