package camera

import "time"

// Clock is the capture clock: a time that only grows, and waiting by it.
type Clock interface {
	// Now is the time since the clock began.
	Now() time.Duration
	// After delivers once d has passed. The function it returns gives the
	// timer back early.
	After(d time.Duration) (<-chan time.Time, func())
}

// SystemClock is the machine's monotonic clock, counted from its making.
type SystemClock struct{ start time.Time }

// NewSystemClock starts a clock at zero.
func NewSystemClock() SystemClock { return SystemClock{time.Now()} }

// Now is the time since the clock was made.
func (c SystemClock) Now() time.Duration { return time.Since(c.start) }

// After waits by the machine's timer.
func (c SystemClock) After(d time.Duration) (<-chan time.Time, func()) {
	t := time.NewTimer(d)
	return t.C, func() { t.Stop() }
}
