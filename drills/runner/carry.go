package runner

import (
	"context"
	"fmt"
	"math"

	"drillbay/camera/frame"
	"drillbay/drills"
)

// carryOut starts what the session wants done outside.
func (r *Runner) carryOut(ctx context.Context, s *session) {
	for _, e := range s.out {
		switch {
		case e.tell != nil:
			r.o.Speaker.Tell(*e.tell)
		case e.read != nil:
			p, take := e.read, s.takeOf(e.read)
			r.workers.Add(1)
			go func() {
				defer r.workers.Done()
				x := result{p, analyse(r.o.Analyse, take)}
				r.readings <- x
			}()
		case e.further != nil:
			p, further := e.further, e.further.reading.Further
			r.workers.Add(1)
			go func() {
				defer r.workers.Done()
				x := amendment{p: p}
				x.r, x.ok = more(further)
				r.furthers <- x
			}()
		case e.save != nil:
			j := e.save
			r.workers.Add(1)
			go func() {
				defer r.workers.Done()
				r.saves <- answer{j, r.o.Store.Save(ctx, j.record)}
			}()
		}
	}
	s.out = s.out[:0]
}

// takeOf is a rep with its pictures, each with a reference of its own.
func (s *session) takeOf(p *pending) Take {
	t := Take{Number: p.number, Drill: p.drill, Player: p.player, Span: p.span}
	if p.take != nil {
		t.Frames = p.take.Frames()
	}
	t.Strikes = append(t.Strikes, s.strikes...)
	return t
}

// analyse runs a reading and gives the pictures back. A reading that fails
// outright is a rep without a reading, never a rep lost.
func analyse(f func(Take) Analysis, t Take) (out Analysis) {
	defer func() {
		frame.ReleaseAll(t.Frames)
		if e := recover(); e != nil {
			out = Analysis{Rep: Unread(t, fmt.Sprintf("the reading failed: %v", e))}
		}
	}()
	return f(t)
}

// more runs a further reading; one that fails outright adds nothing.
func more(further func() (Analysis, bool)) (r Analysis, ok bool) {
	defer func() {
		if e := recover(); e != nil {
			r, ok = Analysis{}, false
		}
	}()
	return further()
}

// Unread is the rep of a take that could not be read, with the reason.
func Unread(t Take, why string) drills.Rep {
	m := drills.NoMoments()
	m.Start, m.BackStart, m.Catch, m.End = t.Span.Start, t.Span.BackStart, t.Span.Catch, t.Span.End
	return drills.Rep{
		Number: t.Number, Moments: m, Verdict: drills.NoReading, Why: why,
		ShaftLine: drills.None(), Elevation: drills.None(), Depth: drills.None(),
		Smoothness: math.NaN(), Tempo: math.NaN(), TempoLow: math.NaN(), TempoHigh: math.NaN(),
	}
}
