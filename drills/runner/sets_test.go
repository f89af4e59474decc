package runner

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/camera/sight"
)

func TestASetEndsWhenItsLastReadingIsIn(t *testing.T) {
	b := newSlow(2)
	for range 3 {
		b.rep()
	}
	snap := b.s.snapshot()
	require.Equal(t, 1, snap.Lookback.Number, "not rep 3 of 2")
	require.Equal(t, 1, snap.Set, "the first set is not over")
	require.True(t, snap.SetFull)
	b.show(b, sight.Away, 0.1, nil)
	require.Equal(t, "3 still to read", b.s.snapshot().Cue, "it says that it waits")
	b.let(false)
	require.Len(t, b.s.snapshot().Reps, 1)
	b.let(false)
	require.Equal(t, "set done", b.log[len(b.log)-1])
	snap = b.s.snapshot()
	require.Equal(t, 2, snap.Set, "the one that was begun meanwhile")
	require.Empty(t, snap.Reps)
	b.let(false)
	require.Equal(t, []string{"1.1", "1.2", "2.1"}, b.places())
	require.Len(t, b.s.snapshot().Reps, 1)
	require.False(t, b.s.snapshot().SetDone)
}

func TestARepKeepsTheNumberThatItTookWhenItWasCaught(t *testing.T) {
	for name, c := range map[string]struct {
		begun, void int // the void one's place
		places      []string
		set         int
		next        string // where the rep after them belongs
	}{
		"in the set":             {2, 0, []string{"1.2"}, 1, "1.1"},
		"the next set was begun": {4, 1, []string{"1.1", "2.1", "2.2"}, 1, "1.2"},
		"the one begun ahead":    {3, 2, []string{"1.1", "1.2"}, 1, "2.1"},
	} {
		t.Run(name, func(t *testing.T) {
			b := newSlow(2)
			for range c.begun {
				b.rep()
			}
			caught := map[string]int{}
			for _, p := range b.s.reading {
				caught[p.id] = 10*p.set + p.number
			}
			for i := range c.begun {
				b.let(i == c.void)
			}
			require.Equal(t, c.places, b.places())
			for _, r := range b.saved {
				require.Equal(t, caught[r.ID], 10*r.Set+r.Rep.Number)
			}
			require.Equal(t, c.set, b.s.snapshot().Set)
			b.rep()
			b.let(false)
			places := b.places()
			require.Equal(t, c.next, places[len(places)-1])
		})
	}
}

func TestASetTakesUpAFreeNumberAndEnds(t *testing.T) {
	b := newSlow(2)
	b.rep()
	b.rep()
	b.let(true)
	b.let(false)
	require.False(t, b.s.snapshot().SetDone)
	b.rep()
	b.let(false)
	require.True(t, b.s.snapshot().SetDone)
	require.Equal(t, []string{"1.2", "1.1"}, b.places())
}

// Whatever comes late, the count of a set only grows until the set is told as
// done, each set is told once, with all its reps, and a set that is over stays
// as it was told.
func TestCountsOnlyGrowWhateverComesLate(t *testing.T) {
	for seed := range uint64(60) {
		random := rand.New(rand.NewPCG(seed, 3))
		of := 1 + random.IntN(4)
		b := newSlow(of)
		last, done := map[int]int{}, 0
		look := func() {
			snap := b.s.snapshot()
			require.GreaterOrEqual(t, len(snap.Reps), last[snap.Set], "seed %d, set %d", seed, snap.Set)
			require.LessOrEqual(t, len(snap.Reps), of)
			last[snap.Set] = len(snap.Reps)
			over := 0
			for _, m := range b.told {
				if m.Kind == SetDone {
					over++
					require.Equal(t, of, m.Of, "seed %d", seed)
				}
			}
			require.GreaterOrEqual(t, over, done)
			if done = over; snap.SetDone {
				require.Equal(t, snap.Set, over, "seed %d", seed)
			} else {
				require.Equal(t, snap.Set, over+1, "seed %d", seed)
			}
			ids := map[string]bool{}
			for _, r := range b.saved {
				at := fmt.Sprintf("%d.%d", r.Set, r.Rep.Number)
				require.False(t, ids[at], "seed %d: %s twice", seed, at)
				ids[at] = true
			}
			require.Len(t, snap.All, len(b.saved), "what was stored is what is told")
		}
		for range 25 {
			if random.IntN(2) == 0 {
				b.rep()
			} else if len(b.reads) > 0 {
				b.let(random.IntN(4) == 0)
			}
			look()
		}
		for len(b.reads) > 0 {
			b.let(false)
			look()
		}
	}
}
