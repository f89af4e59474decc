package book_test

import (
	"context"
	"fmt"
	"math"
	"path/filepath"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/require"

	"drillbay/app"
	"drillbay/drills"
	"drillbay/drills/book"
	"drillbay/drills/ledger"
	"drillbay/drills/runner"
)

// openLedger opens an empty ledger.
func openLedger(t *testing.T) *ledger.Ledger {
	t.Helper()
	l, err := ledger.Open(filepath.Join(t.TempDir(), ledger.FileName))
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, l.Close()) })
	return l
}

// The practice screen, the clinic's board and the ledger say one number at every
// moment: also where the session's own picture of itself is behind.
func TestThePracticeScreenCountsWhatTheLedgerHas(t *testing.T) {
	ctx, l := context.Background(), openLedger(t)
	b, err := book.Read(ctx, l, "")
	require.NoError(t, err)
	now := time.Date(2026, 3, 7, 10, 0, 0, 0, time.UTC)
	clock := func() time.Time { now = now.Add(time.Second); return now }
	b.At(clock)
	_, err = b.ClinicBegin("Ada\nBo", book.Turns{Reps: 10}, []string{""})
	require.NoError(t, err)
	sheet, _ := b.Clinic()
	group, _ := b.Group()
	p := group.Players[0]
	snap := &runner.Snapshot{Session: uuid.NewString(), Player: runner.Player{ID: p.ID, Name: p.Name}, Set: 2, Ready: true,
		Drill: runner.Drill{ID: p.Drill, Name: "Both hands", Reps: 10, Rung: p.Rung, Rungs: 8}}
	a := app.New(app.Deps{Book: b, Snapshot: func() *runner.Snapshot { return snap }, Order: func(runner.Command) {}})
	for _, d := range []app.Do{app.Clinic, app.Go} {
		a.Step([]app.Action{{Kind: app.Key, Do: d}}, 1)
	}
	for i := 0; i < 20 && a.Step(nil, 2).Screen != "practice"; i++ {
		a.Step([]app.Action{{Kind: app.Key, Do: app.Go}}, 3+float64(i))
	}
	require.Equal(t, "practice", a.Step(nil, 30).Screen)
	says := func(n int) {
		t.Helper()
		v := a.Step(nil, 40)
		require.True(t, v.Says(fmt.Sprintf("%d of 10", n)), v)
		all, err := l.Reps(ctx, ledger.Which{Player: p.ID})
		require.NoError(t, err)
		have := 0
		for _, r := range all {
			if !r.Taken {
				have++
			}
		}
		require.Equal(t, n, have, "the ledger")
		sheet, _ = b.Clinic()
		require.Equal(t, n, sheet.Players[0].Of, "the board")
	}
	put := func(r ledger.Record) {
		require.NoError(t, l.Save(ctx, r))
		b.Note(r)
	}
	var stored []ledger.Record
	for i := range 4 {
		r := ledger.Record{ID: uuid.NewString(), Session: snap.Session, Set: 2, Player: ledger.Player{ID: p.ID, Name: p.Name}, Bay: "Net", Drill: p.Drill, Rung: p.Rung, At: clock(),
			Rep: drills.Rep{Number: 4 - i, Moments: drills.NoMoments(), Verdict: drills.InLine, Manner: drills.Swung, ShaftLine: drills.Reading{Value: 1, Sigma: 1}, Elevation: drills.None(), Depth: drills.None(),
				Smoothness: math.NaN(), Tempo: math.NaN(), TempoLow: math.NaN(), TempoHigh: math.NaN()}}
		put(r)
		stored = append(stored, r)
		says(i + 1) // the snapshot has none of them yet
	}
	stored[1].Taken = true
	put(stored[1])
	says(3)
}
