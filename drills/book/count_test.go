package book

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/require"

	"drillbay/drills"
	"drillbay/drills/ledger"
)

// Whoever is up when a rep comes, late or not, kept or taken back, the board
// says what the ledger has.
func TestTheBoardCountsWhatTheLedgerHas(t *testing.T) {
	ctx, l := context.Background(), open(t)
	now := time.Date(2026, 3, 7, 10, 0, 0, 0, time.UTC)
	clock := func() time.Time { now = now.Add(time.Second); return now }
	b := read(t, l, "")
	b.now = clock
	_, err := b.ClinicBegin("Ada\nBo\nCy", Turns{Reps: 4}, []string{""})
	require.NoError(t, err)
	session := map[string]string{}
	var late, stored []ledger.Record
	put := func(r ledger.Record) {
		require.NoError(t, l.Save(ctx, r))
		b.Note(r)
		stored = append(stored, r)
	}
	random := rand.New(rand.NewPCG(1, 2))
	for i := range 120 {
		c, _ := b.Group()
		p := c.Players[c.Stations[0].Up-1]
		switch n := random.IntN(10); {
		case n < 6:
			if session[p.ID] == "" {
				session[p.ID] = uuid.NewString()
			}
			r := ledger.Record{ID: uuid.NewString(), Session: session[p.ID], Set: 1, Player: ledger.Player{ID: p.ID, Name: p.Name}, Bay: "Net", Drill: p.Drill, Rung: p.Rung, At: clock(),
				Rep: drills.Rep{Number: i + 1, Moments: drills.NoMoments(), Verdict: drills.Verdict(random.IntN(3)), Manner: drills.Swung, ShaftLine: drills.None(), Elevation: drills.None(), Depth: drills.None(),
					Smoothness: math.NaN(), Tempo: math.NaN(), TempoLow: math.NaN(), TempoHigh: math.NaN()}}
			if random.IntN(3) == 0 {
				late = append(late, r)
			} else {
				put(r)
			}
		case n < 8 && len(late) > 0:
			put(late[0])
			late = late[1:]
		case n == 8 && len(stored) > 0:
			r := stored[random.IntN(len(stored))]
			r.Taken = true
			put(r)
		default:
			require.NoError(t, b.ClinicDo(NextUp, 0))
		}
		if i == 60 {
			b = read(t, l, "") // the laptop was started again
			b.now = clock
		}
		sheet, _ := b.Clinic()
		c, _ = b.Group()
		for k, line := range sheet.Players {
			all, err := l.Reps(ctx, ledger.Which{Player: c.Players[k].ID})
			require.NoError(t, err)
			of, counted := 0, 0
			for _, r := range all {
				if !r.Taken {
					of++
				}
				if r.Counts() {
					counted++
				}
			}
			require.Equal(t, []int{counted, of}, []int{line.Counted, line.Of}, "step %d, %s", i, line.Name)
			require.Len(t, line.Reps, min(of, shownReps))
		}
	}
}
