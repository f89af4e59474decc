package ledger

import (
	"context"
	"fmt"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"drillbay/drills"
)

// Three laptops that go their own ways and swap exports now and then: whoever
// imports all of it, in whatever order and however often, has the same
// ledger.
func TestLedgersAgreeWhateverTheOrder(t *testing.T) {
	for seed := range uint64(8) {
		t.Run(fmt.Sprint(seed), func(t *testing.T) {
			dice := rand.New(rand.NewPCG(seed, 1))
			start := exported(t, full(t, "Marta"), "")
			laptops := make([]*Ledger, 3)
			hour := 0
			for i := range laptops {
				l := fresh(t)
				l.now = func() time.Time { hour++; return morning.Add(time.Duration(hour) * time.Minute) }
				imported(t, l, start)
				laptops[i] = l
			}
			texts := []string{start}
			for range 12 {
				l := laptops[dice.IntN(3)]
				switch dice.IntN(3) {
				case 0:
					texts = append(texts, exported(t, l, ""))
				case 1:
					imported(t, l, texts[dice.IntN(len(texts))])
				default:
					touch(t, l, dice)
				}
			}
			for _, l := range laptops {
				texts = append(texts, exported(t, l, ""))
			}
			want := ""
			for range 4 {
				l := fresh(t)
				order := dice.Perm(len(texts))
				for _, i := range append(order, order[0]) {
					imported(t, l, texts[i])
				}
				got := exported(t, l, "")
				if want == "" {
					want = got
				}
				require.Equal(t, want, got)
			}
		})
	}
}

// touch changes something at random.
func touch(t *testing.T, l *Ledger, dice *rand.Rand) {
	t.Helper()
	r := record("Marta", 1+dice.IntN(4))
	switch dice.IntN(4) {
	case 0:
		r.Note = fmt.Sprint("remark ", dice.IntN(3))
	case 1:
		r.Coach = []string{"inside", "outside"}[dice.IntN(2)]
	case 2:
		r.Taken = true
	default:
		_, err := l.PutPlayer(context.Background(), Player{ID: id("Marta"), Name: fmt.Sprint("Marta ", dice.IntN(3)), Hand: drills.Left, Created: morning})
		require.NoError(t, err)
		return
	}
	save(t, l, r)
}
