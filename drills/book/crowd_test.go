package book

import (
	"fmt"
	"math"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/require"

	"drillbay/drills"
	"drillbay/drills/ledger"
)

// Crowded is a book of so many players with so many reps each.
func Crowded(t testing.TB, players, reps int) *Book {
	t.Helper()
	l, err := ledger.Open(t.TempDir() + "/ledger.db")
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, l.Close()) })
	b, err := Read(t.Context(), l, "")
	require.NoError(t, err)
	b.now = func() time.Time { return time.Date(2026, 11, 28, 12, 0, 0, 0, time.UTC) }
	for i := range players {
		p := ledger.Player{ID: uuid.NewString(), Name: fmt.Sprintf("Player %d", i)}
		b.players = append(b.players, p)
		for k := range reps {
			r := ledger.Record{ID: uuid.NewString(), Session: fmt.Sprint(i, k/60), Set: 1 + k/10%6, Player: p, Bay: "Net", Drill: b.ladder.Rungs[k/300%3].ID, Rung: 1 + k/300%3,
				At:  time.Date(2026, 10, 1+k/60, 18, k%60, 0, 0, time.UTC),
				Rep: drills.Rep{Number: 1 + k%10, Moments: drills.NoMoments(), ShaftLine: drills.Reading{Value: float64(k%23) - 8, Sigma: 1}, Manner: drills.Swung, Elevation: drills.None(), Depth: drills.None(), Smoothness: math.NaN(), Tempo: math.NaN()}}
			r.Rep.Verdict, r.Rep.Just = drills.Judge(r.Rep.ShaftLine, drills.Band)
			b.reps[p.ID] = append(b.reps[p.ID], r)
		}
	}
	return b
}

// At has the book take its time from a clock.
func (b *Book) At(clock func() time.Time) { b.now = clock }
