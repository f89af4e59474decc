package runner

import (
	"context"

	"drillbay/camera/frame"
	"drillbay/camera/sight"
)

// Stepper runs a session without a goroutine: each call reads, stores and
// tells before it returns. It serves the session without a window, which may
// run faster than real time, and tests.
type Stepper struct {
	s *session
	o Options
}

// NewStepper returns a stepper; the options are those of New.
func NewStepper(o Options) *Stepper {
	o = checked(o)
	return &Stepper{s: newSession(o), o: o}
}

// See takes a picture, of which it holds a reference of its own, and what was
// seen in it.
func (t *Stepper) See(p *frame.Picture, g sight.Glance) { t.s.see(p, g); t.carryOut() }

// Heard takes the time of a strike.
func (t *Stepper) Heard(at float64) { t.s.heard(at) }

// Order carries out a command.
func (t *Stepper) Order(c Command) { t.s.now = max(t.s.now, t.o.Now()); t.s.order(c); t.carryOut() }

// Tick lets time pass without a picture.
func (t *Stepper) Tick() { t.s.tick(t.o.Now()); t.carryOut() }

// Snapshot is the session now.
func (t *Stepper) Snapshot() *Snapshot { return t.s.snapshot() }

// Close ends the session and lets go of all pictures.
func (t *Stepper) Close() {
	t.s.finish()
	t.carryOut()
	t.s.release()
}

func (t *Stepper) carryOut() {
	for len(t.s.out) > 0 {
		e := t.s.out[0]
		t.s.out = t.s.out[1:]
		switch {
		case e.tell != nil:
			t.o.Speaker.Tell(*e.tell)
		case e.read != nil:
			t.s.read(e.read, analyse(t.o.Analyse, t.s.takeOf(e.read)))
		case e.further != nil:
			more, ok := more(e.further.reading.Further)
			t.s.amend(e.further, more, ok)
		case e.save != nil:
			t.s.saved(e.save, t.o.Store.Save(context.Background(), e.save.record))
		}
	}
}
