package book_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/app"
	"drillbay/drills/book"
)

// drawing is a window on the progress screen of a book.
func drawing(b *book.Book) func() {
	a := app.New(app.Deps{Book: b})
	now := 1.0
	a.Step([]app.Action{{Kind: app.Size, X: 1280, Y: 720, N: 1469}, {Kind: app.Key, Do: app.Progress}}, now)
	return func() { now += 1.0 / 30; a.Step(nil, now) }
}

// A draw allocates for what is seen, not for what is stored.
func TestADrawCostsWhatIsSeen(t *testing.T) {
	cost := func(players, reps int) int64 {
		draw := drawing(book.Crowded(t, players, reps))
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
	draw := drawing(book.Crowded(b, 40, 1000))
	draw()
	b.ReportAllocs()
	for b.Loop() {
		draw()
	}
}
