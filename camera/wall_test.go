package camera

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// The wall clock is set and the computer sleeps, on systems whose session's
// clock goes on meanwhile and on those where it does not: it is told once,
// dates follow a clock that goes on, and never go back.
func TestALeapOfTheClockIsToldAndDatesFollow(t *testing.T) {
	start := time.Date(2026, 3, 4, 9, 0, 0, 0, time.UTC)
	real := start
	w := NewWall(func() time.Time { return real }, 0)
	session := 0.0
	goOn := func(by time.Duration) { session += by.Seconds(); real = real.Add(by) }
	said := func(want string) {
		t.Helper()
		require.Equal(t, want, w.Look(session))
		for range 100 {
			goOn(250 * time.Millisecond)
			require.Empty(t, w.Look(session), "once")
		}
	}
	dated := func(want time.Duration) { // from the start
		t.Helper()
		require.InDelta(t, want.Seconds(), w.Date(start.Add(seconds(session))).Sub(start).Seconds(), 1e-6)
	}
	goOn(250 * time.Millisecond)
	said("")
	dated(seconds(session))
	early := session - 1

	real = real.Add(time.Hour)
	said("This computer slept for 1 h 0 min, or its clock was set forward by as much.")
	dated(seconds(session) + time.Hour)
	require.InDelta(t, early, w.Date(start.Add(seconds(early))).Sub(start).Seconds(), 1e-6, "what came before keeps its date")

	real = real.Add(-time.Hour)
	said("This computer's clock was set back by 1 h 0 min.")
	dated(seconds(session) + time.Hour) // never back

	goOn(5 * time.Minute) // both clocks go on in sleep
	said("This computer stopped for 5 min.")
	real = real.Add(5 * time.Minute) // one of them
	said("This computer slept for 5 min, or its clock was set forward by as much.")
	dated(seconds(session) + time.Hour)

	real = real.Add(20 * time.Second) // a network's time
	require.Empty(t, w.Look(session))
	// A night asleep: the next day is another day.
	real = real.Add(14 * time.Hour)
	said("This computer slept for 14 h 0 min, or its clock was set forward by as much.")
	require.Equal(t, start.Day(), w.Date(start.Add(seconds(early))).Day())
	dated(seconds(session) + 14*time.Hour + 5*time.Minute + 20*time.Second)
}
