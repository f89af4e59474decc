package window

import "time"

// How long an update may wait until it looks at keys and pointer again: soon
// where something is due at once, at a screen's rate for a while after the user
// did something, and else as seldom as nobody notices.
const (
	soon    = 4 * time.Millisecond
	alert   = time.Second / 60
	atEase  = time.Second / 30
	alertly = 2 * time.Second
)

// pace keeps the updates apart, and says which of them steps the program. An
// idle form costs a look at the keys 30 times a second and nothing else.
type pace struct {
	asked chan struct{}
	last  time.Time // the last update
	due   time.Time // of the next step at the latest; zero: none by itself
	used  time.Time // the user did something
}

func newPace() *pace { return &pace{asked: make(chan struct{}, 1)} }

// hurry asks for a step now. It may be called by any goroutine.
func (p *pace) hurry() {
	select {
	case p.asked <- struct{}{}:
	default:
	}
}

// next is called with what the user did: input, waiting (something of it acts at
// the update after this one). It waits while there is nothing to do and reports
// whether to step.
func (p *pace) next(input, waiting bool) (step bool) {
	now := time.Now()
	if input || waiting {
		p.used = now
	}
	defer func() { p.last = time.Now() }()
	if input || !p.due.IsZero() && !now.Before(p.due) {
		return true
	}
	until := p.last.Add(p.look(now, waiting))
	if !p.due.IsZero() && p.due.Before(until) {
		until, step = p.due, true
	}
	t := time.NewTimer(time.Until(until))
	defer t.Stop()
	select {
	case <-p.asked:
		return true
	case <-t.C:
		return step
	}
}

// look returns the time from the last update to the next.
func (p *pace) look(now time.Time, waiting bool) time.Duration {
	switch {
	case waiting:
		return soon
	case now.Sub(p.used) < alertly:
		return alert
	}
	return atEase
}

// again is told after a step when the next one is wanted, s; 0: none by itself.
func (p *pace) again(in float64) {
	p.due = time.Time{}
	if in > 0 {
		p.due = time.Now().Add(max(time.Duration(in*float64(time.Second)), soon))
	}
}
