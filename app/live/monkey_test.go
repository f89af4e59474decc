//go:build linux

package live

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"drillbay/app"
	"drillbay/camera/virtual"
	"drillbay/drills"
	"drillbay/drills/ledger"
	"drillbay/drills/stage"
)

// monkeySeconds are as many as are asked for in minutes, else a few.
func monkeySeconds() float64 {
	if m, err := strconv.ParseFloat(os.Getenv("DRILLBAY_MONKEY"), 64); err == nil {
		return m * 60
	}
	return 12
}

// Keys, clicks, resizes and two cameras that are unplugged at random, for as long as is
// asked for: nothing stops, the window never waits, what was told is on the
// disk at the end, and nobody is gone but who was deleted by name.
func TestFaultsOfAMonkey(t *testing.T) {
	const seed = 9
	howLong := monkeySeconds()
	random := rand.New(rand.NewPCG(seed, 1))
	path := filepath.Join(t.TempDir(), ledger.FileName)
	l, err := ledger.Open(path)
	require.NoError(t, err)
	var faults, second []fault
	for at := 4.0; at < howLong-3; at += 12 + 20*random.Float64() {
		faults = append(faults, fault{[]string{unplugged, stalled, garbage}[random.IntN(3)], at, at + 1.5 + random.Float64()})
	}
	for at := 9.0; at < howLong-3; at += 15 + 20*random.Float64() {
		second = append(second, fault{[]string{unplugged, stalled, garbage}[random.IntN(3)], at, at + 1.5 + random.Float64()})
	}
	cfg := Config{Ledger: l, Drawn: quick(stage.Practice(3, 480, 270, 30))}
	stop, err := plan{Faults: faults, Both: true, Second: second}.spoil(&cfg)
	require.NoError(t, err)
	defer stop()
	ctx, cancel := context.WithTimeout(context.Background(), time.Duration(howLong+60)*time.Second)
	defer cancel()
	live, err := Open(ctx, cfg)
	require.NoError(t, err)
	d, err := live.Deps(ctx)
	require.NoError(t, err)
	require.NoError(t, d.Other.KeepBay(d.Other.Bay()))
	a := app.New(d)
	told, deleted := map[string]string{}, map[string]bool{} // a rep's player
	met := map[string]string{}
	screens := map[string]int{}
	worst, steps := time.Duration(0), 0
	var view *app.View
	step := func(actions ...app.Action) {
		at := time.Now()
		view = a.Step(actions, live.Now())
		worst, steps = max(worst, time.Since(at)), steps+1
		screens[view.Screen]++
		snap := d.Snapshot()
		for _, r := range snap.All {
			told[r.ID] = snap.Player.ID
		}
		for _, p := range d.Book.Players() {
			met[p.Player.ID] = p.Player.Name
		}
		for _, p := range d.Book.Deleted() {
			deleted[p.Player.ID] = true
		}
	}
	step(app.Action{Kind: app.Size, X: 1280, Y: 720, N: 1469})
	begun, taken, rights := time.Now(), 0, false
	for end := begun.Add(seconds(howLong)); time.Now().Before(end); {
		// It plays for a while, then it practises.
		switch at := math.Mod(time.Since(begun).Seconds(), playsFor+practisesFor); {
		case at > playsFor:
			if !rights {
				rights = true
				require.NoError(t, d.KeepBay(d.Bay)) // whatever it did to it
				if list := d.Book.Players(); len(list) == 0 || list[0].Player.Hand != drills.Right {
					_, err := d.Book.AddPlayer(fmt.Sprintf("Ann %d", steps), drills.Right, 94)
					require.NoError(t, err)
				}
			}
			practises(step, func() *app.View { return view }, d)
			time.Sleep(time.Second / 60)
			continue
		case at < 1 && int(time.Since(begun).Seconds()/(playsFor+practisesFor)) > taken:
			// Now and then somebody is deleted by name, and brought back every other time.
			if taken++; taken%2 == 0 {
				deletes(step, func() *app.View { return view }, taken%4 == 0)
			}
		}
		rights = false
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
	players, err := l.Players(context.Background())
	require.NoError(t, err)
	there := map[string]bool{}
	for _, p := range players {
		there[p.ID] = true
	}
	for id, name := range met {
		require.True(t, there[id] || deleted[id], "%s is gone", name)
	}
	for id, player := range told {
		require.True(t, have[id] || !there[player] && deleted[player], "a rep of %s that was told is lost", met[player])
	}
	// One in 10 s at least, faults of the camera included, where there is the time to practise at all.
	if howLong >= playsFor+practisesFor {
		require.Greater(t, float64(len(told)), howLong/10, "it practises")
	}
}

// How long the monkey plays, and then practises, s.
const playsFor, practisesFor = 3.0, 27.0

// quick is a player who does not wait.
func quick(s virtual.Setup) virtual.Setup {
	for i := range s.Reps {
		s.Reps[i].Still, s.Reps[i].Hold = 1.3, 1.2
	}
	return s
}

// practises does what leads to practice, and goes on there.
func practises(step func(...app.Action), view func() *app.View, d app.Deps) {
	key := func(k app.Do) { step(app.Action{Kind: app.Key, Do: k}) }
	snap := d.Snapshot()
	switch view().Screen {
	case "practice", "lookback":
		switch {
		case snap.Session != "" && (snap.Drill.ID != "lead-arm-catch" || snap.Drill.Later || snap.Player.Hand != drills.Right):
			key(app.Back) // the drawn player does another drill, or is another
		case snap.Paused:
			key(app.Hold)
		case snap.SetDone || snap.Session == "":
			key(app.Go)
		default:
			step()
		}
	case "start", "caution", "check", "clinic":
		key(app.Go)
	case "new player":
		step(app.Action{Kind: app.Typed, Text: "Ann"})
		key(app.Go)
		key(app.Go)
	default:
		key(app.Back)
	}
}

// deletes has a player deleted on the progress screen by the name, and brought
// back there.
func deletes(step func(...app.Action), view func() *app.View, back bool) {
	key := func(k app.Do) { step(app.Action{Kind: app.Key, Do: k}) }
	for range 20 {
		if view().Screen == "start" {
			break
		}
		key(app.Back)
	}
	key(app.Progress)
	key(app.Down)
	key(app.EraseOn)
	if view().Screen != "delete" {
		return
	}
	for _, i := range view().Items {
		if name, ok := strings.CutPrefix(i.Text, "Delete "); ok {
			step(app.Action{Kind: app.Typed, Text: strings.TrimSuffix(name, "?")})
		}
	}
	key(app.Go)
	if back {
		time.Sleep(200 * time.Millisecond)
		key(app.TakeBack)
	}
}
