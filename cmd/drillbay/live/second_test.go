package live

import (
	"math/rand/v2"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/app"
	"drillbay/camera/virtual"
	"drillbay/cues/soundtest"
	"drillbay/drills/ledger"
	"drillbay/drills/runner"
)

// setBoth sets the lenses of two cameras that a session does not know.
func setBoth(d app.Deps, s virtual.Setup) error {
	first, err := BayOf(s)
	if err != nil {
		return err
	}
	second, err := BayOf(OtherView(s))
	if err != nil {
		return err
	}
	if err := d.KeepBay(first); err != nil {
		return err
	}
	return d.Other.KeepBay(second)
}

// saidAndGone reports whether a notice came up with a part of its text while a fault
// was there or soon after, and went again.
func (g *played) saidAndGone(f fault, key, part string) bool {
	const soon = 5.0 // s, on a machine that does much else
	up := slices.IndexFunc(g.seen, func(n line) bool {
		return n.Notice == key && strings.Contains(n.Text, part) && n.At >= f.From && n.At <= f.To+soon
	})
	return up >= 0 && slices.ContainsFunc(g.gone, func(l line) bool { return l.Gone == key && l.At >= g.seen[up].At })
}

// Sessions whose second camera is unplugged and comes back under another id,
// stalls, delivers garbage, changes its mode and halves its rate: practice goes on
// with one view as if nothing were, it is said, and the other view is taken up
// again. DRILLBAY_FAULTS says how many.
func TestFaultsOfTheSecondCamera(t *testing.T) {
	if testing.Short() {
		t.Skip("a session with all faults takes three quarters of a minute")
	}
	for k := range faulty(t) {
		t.Run(strconv.Itoa(k), func(t *testing.T) {
			random := rand.New(rand.NewPCG(uint64(k), 33))
			kinds := []string{unplugged, stalled, garbage, another, halved}
			random.Shuffle(len(kinds), func(i, j int) { kinds[i], kinds[j] = kinds[j], kinds[i] })
			var faults []fault
			at := 8 + 2*random.Float64()
			for _, kind := range kinds {
				faults = append(faults, fault{kind, at, at + 2.5})
				at += 6.5 + random.Float64()
			}
			p := plan{Ledger: filepath.Join(t.TempDir(), ledger.FileName), Seed: uint64(k) + 3, Reps: int(at/4.2) + 4, Both: true, Second: faults}
			g := begin(t, "second camera", soundtest.Program("TestHelperSession"), p)
			o := g.finish()
			t.Logf("seed %d: %v; %d told, %d seen by both, lag %.0f ms, %.1f looks a second; said: %v", k, o, len(g.told), o.Both, 1000*o.Lag, o.Looks, said(g))
			require.Empty(t, o.Error)
			require.Len(t, g.told, o.Stored, "each rep is counted once")
			kept(t, p.Ledger, g.told)
			require.GreaterOrEqual(t, o.Stored, o.Drawn*2/3, "the first camera goes on whatever the second does")
			require.Positive(t, o.Both, "some reps were seen by both")
			require.False(t, g.noticed(runner.NoPicture), "the first camera is not held up")
			require.False(t, g.noticed(firstKey))
			for _, f := range faults {
				if f.Kind == unplugged || f.Kind == stalled || f.Kind == garbage {
					require.True(t, g.saidAndGone(f, otherKey, "one view"), "%s at %.1f s is said, and that it is over: %v", f.Kind, f.From, said(g))
				}
			}
		})
	}
}

// The first camera is unplugged while the second lives: practice goes on with the
// other view, it is said, and the first leads again when it is back.
func TestTheFirstOfTwoIsUnplugged(t *testing.T) {
	if testing.Short() {
		t.Skip("takes three quarters of a minute")
	}
	gone := fault{unplugged, 9, 24}
	p := plan{Ledger: filepath.Join(t.TempDir(), ledger.FileName), Seed: 4, Reps: 10, Both: true, Faults: []fault{gone}}
	g := begin(t, "first of two", soundtest.Program("TestHelperSession"), p)
	meanwhile := 0
	g.until(func(l line) bool {
		if l.Told != "" && l.At > gone.From+3 && l.At < gone.To {
			meanwhile++
		}
		return false
	})
	require.NotNil(t, g.end)
	o := *g.end
	t.Logf("%v; %d told, %d meanwhile, %d seen by both; said: %v", o, len(g.told), meanwhile, o.Both, said(g))
	require.Empty(t, o.Error)
	require.Len(t, g.told, o.Stored)
	kept(t, p.Ledger, g.told)
	require.True(t, g.saidAndGone(gone, firstKey, "other view"), "%v", said(g))
	require.Positive(t, meanwhile, "practice goes on with the other view")
	require.Greater(t, g.last, gone.To, "and with the first again")
	require.False(t, g.noticed(otherKey))
}
