package ledger

import (
	"context"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// A wall clock that is stepped by an hour, back or on, while a session goes on
// loses, doubles and reorders nothing.
func TestTheClockIsStepped(t *testing.T) {
	for _, step := range []time.Duration{-time.Hour, time.Hour} {
		now := morning
		l, err := open(filepath.Join(t.TempDir(), FileName), settings{busy: time.Second, now: func() time.Time { now = now.Add(time.Second); return now }})
		require.NoError(t, err)
		for n := 1; n <= 6; n++ {
			save(t, l, record("Ada", n))
			if n == 3 {
				now = now.Add(step)
			}
		}
		again := record("Ada", 2)
		again.Note = "marked after the step"
		save(t, l, again)
		got := reps(t, l, Which{})
		require.Len(t, got, 6)
		for i, r := range got {
			require.Equal(t, i+1, r.Rep.Number)
		}
		require.Equal(t, "marked after the step", got[1].Note)
		require.NoError(t, l.Check(context.Background()))
		require.NoError(t, l.Close())
	}
}
