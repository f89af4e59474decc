//go:build linux

package live

import (
	"context"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"drillbay/app"
	"drillbay/drills/ledger"
)

// monkeySeconds are as many as are asked for in minutes, else a few.
func monkeySeconds() float64 {
	if m, err := strconv.ParseFloat(os.Getenv("DRILLBAY_MONKEY"), 64); err == nil {
		return m * 60
	}
	return 12
}

// Keys, clicks, resizes and an unplugged camera at random, for as long as is
// asked for: nothing stops, the window never waits, what was told is on the
// disk at the end, and nobody is gone but who was deleted by name.
func TestFaultsOfAMonkey(t *testing.T) {
	const seed = 9
	howLong := monkeySeconds()
	random := rand.New(rand.NewPCG(seed, 1))
	path := filepath.Join(t.TempDir(), ledger.FileName)
	l, err := ledger.Open(path)
	require.NoError(t, err)
	var faults []fault
	for at := 4.0; at < howLong-3; at += 8 + 20*random.Float64() {
		faults = append(faults, fault{[]string{unplugged, stalled, garbage}[random.IntN(3)], at, at + 1.5 + random.Float64()})
	}
	cfg := Config{Ledger: l, Drawn: Practice(3, 320, 180, 30)}
	stop, err := plan{Faults: faults}.spoil(&cfg)
	require.NoError(t, err)
	defer stop()
	ctx, cancel := context.WithTimeout(context.Background(), time.Duration(howLong+60)*time.Second)
	defer cancel()
	live, err := Open(ctx, cfg)
	require.NoError(t, err)
	d, err := live.Deps(ctx)
	require.NoError(t, err)
	a := app.New(d)
	told, deleted := map[string]bool{}, map[string]bool{}
	met := map[string]string{}
	screens := map[string]int{}
	worst, steps := time.Duration(0), 0
	var view *app.View
	step := func(actions ...app.Action) {
		at := time.Now()
		view = a.Step(actions, live.Now())
		worst, steps = max(worst, time.Since(at)), steps+1
		screens[view.Screen]++
		for _, r := range d.Snapshot().All {
			told[r.ID] = true
		}
		for _, p := range d.Book.Players() {
			met[p.Player.ID] = p.Player.Name
		}
		for _, p := range d.Book.Deleted() {
			deleted[p.Player.ID] = true
		}
	}
	step(app.Action{Kind: app.Size, X: 1280, Y: 720, N: 1469})
	for end := time.Now().Add(seconds(howLong)); time.Now().Before(end); {
		switch n := random.IntN(40); {
		case n == 0:
			step(app.Action{Kind: app.Size, X: 640 + 1300*random.Float64(), Y: 360 + 800*random.Float64(), N: 1469})
		case n < 6 && len(view.Hits) > 0:
			h := view.Hits[random.IntN(len(view.Hits))]
			x, y := h.X+h.W/2, h.Y+h.H/2
			step(app.Action{Kind: app.Press, X: x, Y: y})
			step(app.Action{Kind: app.Move, X: x + 20*random.Float64(), Y: y})
			step(app.Action{Kind: app.Let, X: x, Y: y})
		case n < 8:
			step(app.Action{Kind: app.Roll, N: random.IntN(7) - 3})
		case n < 20:
			step(app.Action{Kind: app.Typed, Text: string(" abcdefghijklmnopqrstuvwxyz123456789+-?"[random.IntN(38)])})
		case n < 30:
			step(app.Action{Kind: app.Key, Do: app.Do(1 + random.IntN(int(app.End)))})
		case n < 36, view.Screen == "start", view.Screen == "caution", view.Screen == "check":
			step(app.Action{Kind: app.Key, Do: app.Go})
		}
		if view.Quit {
			a = app.New(d) // the window is opened again
			step(app.Action{Kind: app.Size, X: 1280, Y: 720, N: 1469})
		}
		step()
		time.Sleep(time.Second / 90)
	}
	step(app.Action{Kind: app.Close})
	t.Logf("seed %d, %.0f s: %d steps, the longest %v, %d reps told, %d players, %d faults of the camera, screens %v", seed, howLong, steps, worst, len(told), len(met), len(faults), screens)
	require.Less(t, worst, 500*time.Millisecond, "nothing stops")
	require.Greater(t, len(screens), 5, "it went about")
	require.NoError(t, live.Finish(context.Background(), 20*time.Second))
	l, err = ledger.Open(path)
	require.NoError(t, err)
	defer l.Close()
	require.NoError(t, l.Check(context.Background()))
	reps, err := l.Reps(context.Background(), ledger.Which{})
	require.NoError(t, err)
	have := map[string]bool{}
	for _, r := range reps {
		have[r.ID] = true
	}
	if len(deleted) == 0 {
		for id := range told {
			require.True(t, have[id], "a rep that was told is lost")
		}
	}
	players, err := l.Players(context.Background())
	require.NoError(t, err)
	there := map[string]bool{}
	for _, p := range players {
		there[p.ID] = true
	}
	for id, name := range met {
		require.True(t, there[id] || deleted[id], "%s is gone", name)
	}
}
