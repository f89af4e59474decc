package book

import (
	"fmt"
	"math"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/require"

	"drillbay/app"
	"drillbay/drills"
	"drillbay/drills/ledger"
)

// crowded is a book of so many players with so many reps each.
func crowded(t testing.TB, players, reps int) *Book {
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

// drawing is a window on the progress screen of a book.
func drawing(b *Book) func() {
	a := app.New(app.Deps{Book: b})
	now := 1.0
	a.Step([]app.Action{{Kind: app.Size, X: 1280, Y: 720, N: 1469}, {Kind: app.Key, Do: app.Progress}}, now)
	return func() { now += 1.0 / 30; a.Step(nil, now) }
}

// A draw allocates for what is seen, not for what is stored.
func TestADrawCostsWhatIsSeen(t *testing.T) {
	cost := func(players, reps int) int64 {
		draw := drawing(crowded(t, players, reps))
		draw()
		return testing.Benchmark(func(b *testing.B) {
			b.ReportAllocs()
			for range b.N {
				draw()
			}
		}).AllocedBytesPerOp()
	}
	small, large := cost(4, 300), cost(40, 1000)
	t.Logf("4 players of 300 reps: %d kB a draw; 40 of 1000: %d kB", small>>10, large>>10)
	require.Less(t, large, int64(200<<10))
	require.Less(t, float64(large), 1.5*float64(small)+20e3)
}

// BenchmarkDrawProgress is one draw of the progress screen with 40 players of
// 1000 reps.
func BenchmarkDrawProgress(b *testing.B) {
	draw := drawing(crowded(b, 40, 1000))
	draw()
	b.ReportAllocs()
	for b.Loop() {
		draw()
	}
}
