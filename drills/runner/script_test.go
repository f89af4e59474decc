package runner

import (
	"context"
	"errors"
	"math"
	"sync"
	"time"

	"drillbay/camera/frame"
	"drillbay/camera/lookback"
	"drillbay/camera/sight"
	"drillbay/drills"
)

const rate = 30.0

var errFull = errors.New("disk full")

// bench is a session with a scripted camera, a clock of its own, and a record
// of all that was stored and told, in order.
type bench struct {
	mu    sync.Mutex
	now   float64
	n     int64
	log   []string
	told  []Moment
	saved []Record
	fail  int // how many saves fail from now on
	ring  *lookback.Ring
	pool  *frame.Pool
	next  func(Take) Analysis
}

func newBench() *bench {
	const pictures = 300
	return &bench{
		ring: lookback.NewRing(pictures*96, pictures),
		pool: frame.NewPool((pictures + 8) * 96),
		next: read(2, drills.Swung),
	}
}

// read is a full reading that finds the given shaft line and manner.
func read(line float64, manner drills.Manner) func(Take) Analysis {
	return func(t Take) Analysis {
		r := Unread(t, "")
		r.ShaftLine, r.Manner = drills.Reading{Value: line, Sigma: 0.8}, manner
		r.Verdict, r.Just = drills.Judge(r.ShaftLine, t.Drill.Width())
		r.Moments.Level = t.Span.Catch
		return Analysis{Rep: r}
	}
}

func (b *bench) options() Options {
	ids := 0
	return Options{
		Ring: b.ring, Store: b, Speaker: b,
		Analyse: func(t Take) Analysis { return b.next(t) },
		Now:     func() float64 { b.mu.Lock(); defer b.mu.Unlock(); return b.now },
		Began:   time.Date(2025, 11, 15, 10, 0, 0, 0, time.UTC),
		NewID:   func() string { ids++; return string(rune('a' + ids - 1)) },
	}
}

// Save is the store.
func (b *bench) Save(ctx context.Context, r Record) error {
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.fail > 0 {
		b.fail--
		b.log = append(b.log, "not saved "+r.ID)
		return errFull
	}
	b.log = append(b.log, "saved "+r.ID)
	b.saved = append(b.saved, r)
	return nil
}

// Tell is the speaker.
func (b *bench) Tell(m Moment) {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.told = append(b.told, m)
	switch m.Kind {
	case RepDone:
		b.log = append(b.log, "told "+m.Rep.ID)
	case CatchSeen:
		b.log = append(b.log, "caught")
	case SetDone:
		b.log = append(b.log, "set done")
	}
}

func (b *bench) kinds() (out []MomentKind) {
	for _, m := range b.told {
		out = append(out, m.Kind)
	}
	return out
}

// seer is a stepper or a runner: both take pictures.
type seer interface {
	See(*frame.Picture, sight.Glance)
}

// show sends a phase for a time in s and returns when it began.
func (b *bench) show(to seer, phase sight.Phase, seconds float64, change func(*sight.Glance)) float64 {
	began := math.NaN()
	count := int(math.Round(seconds * rate))
	for i := range count {
		b.mu.Lock()
		b.n++
		b.now = float64(b.n) / rate
		now := b.now
		b.mu.Unlock()
		if math.IsNaN(began) {
			began = now
		}
		g := sight.Glance{At: now, Phase: phase, Since: began, HandsX: math.NaN(), HandsY: math.NaN()}
		if phase == sight.Forward || phase == sight.Back {
			g.Motion = 0.3
		}
		if change != nil && i == count-1 {
			change(&g)
		}
		p := b.pool.Get(8, 8, frame.Sub420)
		if p != nil {
			p.Index, p.At = b.n, time.Duration(now*float64(time.Second))
		}
		to.See(p, g)
		if p != nil {
			p.Release()
		}
	}
	return began
}

// address, swing and hold make up a rep; swing ends on the glance on which
// the catch becomes known.
func (b *bench) address(to seer) { b.show(to, sight.Address, 0.6, nil) }

func (b *bench) swing(to seer) sight.Span {
	nan := math.NaN()
	span := sight.Span{Address: nan, End: nan, To: nan}
	span.Start = b.show(to, sight.Forward, 0.4, nil)
	span.BackStart = b.show(to, sight.Back, 0.6, nil)
	span.From = span.Start - 0.4
	b.show(to, sight.Hold, sight.StillFor, func(g *sight.Glance) {
		span.Catch = g.At - sight.StillFor
		g.Caught, g.Span = true, span
	})
	return span
}

func (b *bench) hold(to seer, span sight.Span) {
	b.show(to, sight.Hold, 1.2, func(g *sight.Glance) {
		span.End = g.At
		g.Ended, g.Span = true, span
	})
	b.show(to, sight.Settling, 0.4, nil)
}

func catching(reps int) Command {
	return Command{Do: Begin, Player: Player{ID: "m", Name: "Marta"}, Bay: "Net 2",
		Drill: Drill{ID: "both", Name: "Both hands, swing and catch", Rung: 3, Rungs: 8, MovingStart: true, Reps: reps, Beat: 72}}
}
