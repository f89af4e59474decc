package camera

import (
	"fmt"
	"sync"
	"time"
)

// leap is the smallest jump of the wall clock that is told: less is a correction from a
// network's time.
const leap = time.Minute

// Wall compares the wall clock with the session's, which only grows: where one
// of them leaps, the computer slept or its clock was set. Which of them goes on
// during sleep differs by system. Reps are dated by it.
type Wall struct {
	now   func() time.Time
	began time.Time // wall clock at 0 of the session's
	last  float64   // s, of the session's clock at the latest look; of the watch alone

	mu    sync.Mutex
	steps []step // from the first to the latest
}

// step holds by how much the wall clock is ahead of the session's from a time on.
type step struct {
	at float64 // s, of the session's clock
	by time.Duration
}

// NewWall compares a wall clock, nil for the machine's, with the session's from the
// session's time on.
func NewWall(now func() time.Time, session time.Duration) *Wall {
	if now == nil {
		now = time.Now
	}
	return &Wall{now: now, began: now().Add(-session)}
}

// Began returns the time on the wall clock at which the session's clock was 0.
func (w *Wall) Began() time.Time { return w.began }

// Look returns what happened since the last look, in a sentence; empty when
// nothing did. now is the session's clock, s.
func (w *Wall) Look(now float64) string {
	passed := seconds(now - w.last)
	w.last = now
	ahead := w.now().Round(0).Sub(w.began.Round(0)) - seconds(now)
	w.mu.Lock()
	defer w.mu.Unlock()
	before := time.Duration(0)
	if n := len(w.steps); n > 0 {
		before = w.steps[n-1].by
	}
	by := ahead - before
	if by.Abs() >= leap {
		w.steps = append(w.steps, step{now, ahead})
	}
	switch {
	case passed >= leap:
		return fmt.Sprintf("This computer stopped for %s.", long(passed))
	case by >= leap:
		return fmt.Sprintf("This computer slept for %s, or its clock was set forward by as much.", long(by))
	case -by >= leap:
		return fmt.Sprintf("This computer's clock was set back by %s.", long(-by))
	}
	return ""
}

// Date is a date that was reckoned from the session's beginning, put right: a
// clock that goes on by hours takes dates along, one that goes back does not,
// so that reps keep their order.
func (w *Wall) Date(at time.Time) time.Time {
	when := at.Sub(w.began).Seconds()
	w.mu.Lock()
	defer w.mu.Unlock()
	by := time.Duration(0)
	for _, s := range w.steps {
		if s.at <= when {
			by = max(by, s.by)
		}
	}
	return at.Add(by)
}

// long is a time in words, to the minute.
func long(d time.Duration) string {
	m := int(d.Round(time.Minute) / time.Minute)
	if m < 60 {
		return fmt.Sprintf("%d min", m)
	}
	return fmt.Sprintf("%d h %d min", m/60, m%60)
}
