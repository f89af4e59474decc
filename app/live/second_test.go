package live

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	"github.com/stretchr/testify/require"

	"drillbay/app"
	"drillbay/camera"
	"drillbay/camera/frame"
	"drillbay/camera/lookback"
	"drillbay/camera/virtual"
	"drillbay/cues/soundtest"
	"drillbay/drills"
	"drillbay/drills/book"
	"drillbay/drills/ledger"
	"drillbay/drills/runner"
	"drillbay/drills/stage"
	"drillbay/drills/watch"
)

// setBoth sets the lenses of two cameras that a session does not know.
func setBoth(d app.Deps, s virtual.Setup) error {
	first, err := stage.BayOf(s)
	if err != nil {
		return err
	}
	second, err := stage.BayOf(stage.OtherView(s))
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
	const soon = 2.0 // s
	up := slices.IndexFunc(g.seen, func(n line) bool {
		return n.Notice == key && strings.Contains(n.Text, part) && n.At >= f.From && n.At <= f.To+soon
	})
	return up >= 0 && slices.ContainsFunc(g.gone, func(l line) bool { return l.Gone == key && l.At >= g.seen[up].At })
}

// Sessions whose second camera is unplugged and comes back under another id,
// stalls, delivers garbage, changes its mode and halves its rate: practice goes on
// with one view as if nothing were, it is said, and the other view is taken up
// again. DRILLBAY_FAULTS says how many, half of it.
func TestFaultsOfTheSecondCamera(t *testing.T) {
	if testing.Short() {
		t.Skip("a session with all faults takes three quarters of a minute")
	}
	for k := range (faulty(t) + 1) / 2 {
		t.Run(strconv.Itoa(k), func(t *testing.T) {
			random := rand.New(rand.NewPCG(uint64(k), 33))
			kinds := []string{unplugged, stalled, garbage, another, halved}
			random.Shuffle(len(kinds), func(i, j int) { kinds[i], kinds[j] = kinds[j], kinds[i] })
			var faults []fault
			at := 7 + random.Float64()
			for _, kind := range kinds {
				faults = append(faults, fault{kind, at, at + 2.5})
				at += 5 + random.Float64()
			}
			p := plan{Ledger: filepath.Join(t.TempDir(), ledger.FileName), Seed: uint64(k) + 3, Reps: int(at/4.2) + 4, Both: true, Second: faults}
			g := begin(t, "second camera", soundtest.Program("TestHelperSession"), p)
			o := g.finish()
			t.Logf("seed %d: %v; %d told, %d seen by both, lag %.0f ms, %.1f looks a second; said: %v", k, o, len(g.told), o.Both, 1000*o.Lag, o.Looks, said(g))
			require.Empty(t, o.Error)
			require.Len(t, g.told, o.Stored, "each rep is counted once")
			kept(t, p.Ledger, g.told)
			// Measured with three seeds of faults: 12 of 12 stored, 7 or 8 seen by both.
			require.Equal(t, o.Drawn, o.Stored, "the first camera goes on whatever the second does")
			require.Zero(t, o.Late, "pictures that nobody had time for")
			require.GreaterOrEqual(t, o.Both, o.Drawn/2, "the second camera is gone for a third of the time")
			require.InDelta(t, stage.OtherLate+0.5/30, o.Lag, 0.01)
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
		t.Skip("takes a minute")
	}
	gone := fault{unplugged, 9, 21}
	p := plan{Ledger: filepath.Join(t.TempDir(), ledger.FileName), Seed: 4, Reps: 8, Both: true, Faults: []fault{gone}}
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

// onePicture is a second camera in front of a session that stands still, whose
// pictures have all been in use once; step takes one.
func onePicture(tb testing.TB, width, height int) (step func()) {
	tb.Helper()
	budget := 40 * width * height * 3 / 2
	now := 0.0
	l := &Live{clock: camera.NewSystemClock()}
	l.runner = runner.New(runner.Options{Ring: lookback.NewRing(budget, 64), Store: nowhere{}, Speaker: nowhere{},
		Analyse: func(runner.Take) runner.Analysis { return runner.Analysis{Void: true} }, Now: func() float64 { return now }})
	tb.Cleanup(func() { require.NoError(tb, l.runner.Close(context.Background())) })
	o := &other{live: l, ring: lookback.NewRing(budget, 64), eye: watch.New(watch.Camera{})}
	o.asked.Store(math.Float64bits(math.Inf(-1)))
	pool := full(budget+4*width*height*3/2, width, height)
	n := 0
	step = func() {
		p := pool.Get(width, height, frame.Sub420)
		if p == nil {
			tb.Fatal("the pictures are all in use")
		}
		n++
		p.At, p.Index = time.Duration(n)*time.Second/30, int64(n)
		o.take(p)
		p.Release()
	}
	for range 100 {
		step()
	}
	return step
}

// The second camera's pictures are kept without waiting and without allocating.
func TestTheSecondCameraAllocatesNothing(t *testing.T) {
	require.Zero(t, testing.AllocsPerRun(200, onePicture(t, 64, 36)))
}

// Of a quick second camera every other picture is kept: its ring holds a whole rep.
func TestAQuickSecondCameraIsThinned(t *testing.T) {
	l := &Live{clock: camera.NewSystemClock()}
	l.runner = runner.New(runner.Options{Ring: lookback.NewRing(1<<20, 64), Store: nowhere{}, Speaker: nowhere{},
		Analyse: func(runner.Take) runner.Analysis { return runner.Analysis{Void: true} }, Now: func() float64 { return 0 }})
	defer func() { require.NoError(t, l.runner.Close(context.Background())) }()
	for rate, want := range map[float64]int{60: 15, 30: 15, 24: 12} {
		o := &other{live: l, ring: lookback.NewRing(1<<20, 64), eye: watch.New(watch.Camera{})}
		o.asked.Store(math.Float64bits(math.Inf(-1)))
		for i := range int(rate / 2) {
			p := frame.New(64, 36, frame.Sub420)
			p.At = time.Duration(float64(i+1) / rate * float64(time.Second))
			o.take(p)
		}
		require.Len(t, o.ring.Frames(0, 10), want, "%v a second", rate)
	}
}

// One picture of the second camera on its way into its ring.
func BenchmarkLiveSecondCamera(b *testing.B) {
	step := onePicture(b, 1280, 720)
	b.ReportAllocs()
	for b.Loop() {
		step()
	}
}

// bothSides opens a session of two drawn cameras with a player in practice.
func bothSides(t *testing.T, ctx context.Context) (*Live, app.Deps, runner.Player, *ledger.Ledger) {
	t.Helper()
	l, err := ledger.Open(filepath.Join(t.TempDir(), ledger.FileName))
	require.NoError(t, err)
	s := stage.Practice(2, 480, 270, 30)
	for i := range s.Reps {
		s.Reps[i].Still, s.Reps[i].Before = 0.8, nil
	}
	live, err := Open(ctx, Config{Ledger: l, Virtual: true, Drawn: s, Second: stage.DrawnOther})
	require.NoError(t, err)
	d, err := live.Deps(ctx)
	require.NoError(t, err)
	p, err := d.Book.AddPlayer("Ada", drills.Right, 94)
	require.NoError(t, err)
	require.NoError(t, d.Book.Consent(p.Player.ID, book.PlayerAgrees))
	d.Order(runner.Command{Do: runner.Begin, Player: p.Player, Bay: d.Bay.Name, Drill: d.Book.Rungs(p.Player.ID)[0].Drill})
	d.Order(runner.Command{Do: runner.Ready})
	return live, d, p.Player, l
}

// until waits until something holds, and looks at the session when it changes.
func (l *Live) until(t *testing.T, ctx context.Context, what string, ok func(*runner.Snapshot) bool) *runner.Snapshot {
	t.Helper()
	for !ok(l.runner.Snapshot()) {
		select {
		case <-l.Wake():
		case <-time.After(50 * time.Millisecond):
		case <-ctx.Done():
			s := l.runner.Snapshot()
			t.Fatalf("not in time: %s; %d reps, %v", what, len(s.All), s.Notices)
		}
	}
	return l.runner.Snapshot()
}

func seenByBoth(s *runner.Snapshot) (d runner.Done, ok bool) {
	i := slices.IndexFunc(s.All, func(d runner.Done) bool { return d.Rep.Views.Two() })
	if i < 0 {
		return d, false
	}
	return s.All[i], true
}

// A session of two cameras: a rep is read by both, its lookback shows both at the
// same moment, both clips are kept under names that say the view, the lens screen
// sees the second one, and it goes and comes by a key.
func TestASessionOfTwoCameras(t *testing.T) { synctest.Test(t, aSessionOfTwoCameras) }

func aSessionOfTwoCameras(t *testing.T) {
	ctx, cancel := context.WithTimeout(context.Background(), 4*time.Minute)
	defer cancel()
	live, d, player, l := bothSides(t, ctx)
	require.Equal(t, stage.DrawnOther, d.Other.Camera())
	require.True(t, d.Other.Bay().FaceOn)
	require.Contains(t, d.Other.Tied(), "found from the first reps")
	snap := live.until(t, ctx, "a rep that both saw and that ties them", func(s *runner.Snapshot) bool {
		_, ok := seenByBoth(s)
		_, _, n := live.second.Load().reads.Lag()
		return ok && n > 0
	})
	done, _ := seenByBoth(snap)
	lag, sigma, n := live.second.Load().reads.Lag()
	t.Logf("%.0f ± %.0f ms by %d; %s", 1000*lag, 1000*sigma, n, done.Rep.Views)
	require.InDelta(t, stage.OtherLate+0.5/30, lag, 1.5/30)
	require.Contains(t, d.Other.Tied(), "later than the first camera's")
	require.True(t, done.Beside.Here.Seen, "what is drawn over the second picture")
	look := live.until(t, ctx, "a lookback with both pictures", func(s *runner.Snapshot) bool { return s.Lookback.Known && s.Lookback.Beside != nil }).Lookback
	mine, theirs := look.Loop.Times(), look.Beside.Times()
	done = look.Rep
	// At most moments of the rep the second loop has a picture of that moment.
	shown, all := 0, 0
	for _, at := range mine {
		if at < done.Rep.Moments.Start || at > done.Rep.Moments.Catch {
			continue
		}
		all++
		if slices.ContainsFunc(theirs, func(x float64) bool { return math.Abs(x-at-look.Later) < 1.5/30 }) {
			shown++
		}
	}
	require.Greater(t, all, 10)
	require.Greater(t, shown, all/2, "moments of the rep that both loops show")

	said, err := d.Work(app.Job{Do: app.Keep, Player: player.ID, RepID: done.ID, As: "avi", Overlay: true, At: mine[0], Loop: look.Loop.Again(), Beside: look.Beside.Again(), Later: look.Later, Rep: done})
	require.NoError(t, err)
	require.Contains(t, said, "-down-the-line.avi and ")
	require.Contains(t, said, "-face-on.avi")
	clips, err := l.Clips(ctx, player.ID)
	require.NoError(t, err)
	require.Len(t, clips, 2)
	for _, c := range clips {
		require.False(t, c.Missing)
		require.Equal(t, done.ID, c.Rep)
	}
	require.Len(t, d.Book.Clips(player.ID), 2)

	// The lens screen looks at the second camera.
	live.until(t, ctx, "the player is seen by the second camera", func(*runner.Snapshot) bool {
		p := d.Other.Picture(0)
		if p == nil {
			return false
		}
		defer p.Release()
		seen, ok := d.Other.Seen(p.Seconds())
		return ok && seen.Player
	})
	b := d.Other.Bay()
	b.Distance = 3.1
	require.NoError(t, d.Other.KeepBay(b))
	require.Equal(t, 3.1, d.Other.Bay().Distance)

	said, err = d.Work(app.Job{Do: app.Join})
	require.NoError(t, err)
	require.Contains(t, said, "One camera")
	require.Empty(t, d.Other.Camera())
	require.Nil(t, d.Other.Picture(0))
	said, err = d.Work(app.Job{Do: app.Join})
	require.NoError(t, err)
	require.Contains(t, said, "joins as the other view")
	require.Equal(t, stage.DrawnOther, d.Other.Camera())
	require.ErrorContains(t, live.join(ctx, stage.Drawn), "shows the first view")
	require.NoError(t, live.Finish(context.Background(), 20*time.Second))
}

// The bay remembers the second camera, and each camera its own lens.
func TestTheBayRemembersTheSecondCamera(t *testing.T) {
	synctest.Test(t, theBayRemembersTheSecondCamera)
}

func theBayRemembersTheSecondCamera(t *testing.T) {
	ctx, cancel := context.WithTimeout(context.Background(), 2*time.Minute)
	defer cancel()
	path := filepath.Join(t.TempDir(), ledger.FileName)
	open := func() (*Live, app.Deps, func()) {
		l, err := ledger.Open(path)
		require.NoError(t, err)
		cfg := Config{Ledger: l, Drawn: stage.Practice(2, 320, 180, 30)}
		stop, err := plan{Both: true}.spoil(&cfg)
		require.NoError(t, err)
		cfg.Second = ""
		live, err := Open(ctx, cfg)
		require.NoError(t, err)
		d, err := live.Deps(ctx)
		require.NoError(t, err)
		return live, d, stop
	}
	live, d, stop := open()
	require.Empty(t, d.Other.Camera())
	said, err := d.Work(app.Job{Do: app.Join})
	require.NoError(t, err)
	require.Contains(t, said, shakyOther+" joins")
	b := d.Other.Bay()
	require.True(t, b.FaceOn, "the view that the first has not")
	b.Distance, b.Set = 3.3, true
	require.NoError(t, d.Other.KeepBay(b))
	require.NoError(t, d.KeepBay(d.Bay), "the window's own copy knows nothing of it")
	require.NoError(t, live.Finish(context.Background(), 20*time.Second))
	stop()

	live, d, stop = open()
	require.Equal(t, shakyOther, d.Other.Camera())
	require.Equal(t, 3.3, d.Other.Bay().Distance)
	require.True(t, d.Other.Bay().Set)
	require.NoError(t, live.Finish(context.Background(), 20*time.Second))
	stop()
}

// The second camera's lens is set with what the first one's has: down the line lines
// on the ground are offered that give the target point, and a hung club gives the
// roll; its bay keeps both.
func TestTheSecondCamerasLensIsHelped(t *testing.T) {
	synctest.Test(t, theSecondCamerasLensIsHelped)
}

func theSecondCamerasLensIsHelped(t *testing.T) {
	ctx, cancel := context.WithTimeout(context.Background(), 2*time.Minute)
	defer cancel()
	s := standingBay()
	s.Width, s.Height, s.Camera = 960, 540, stage.FaceOnCamera()
	s.Reps[0].Before = []virtual.Interlude{virtual.Stand, virtual.Hang}
	live, d := openedBoth(t, ctx, s)
	b := d.Other.Bay()
	require.False(t, b.FaceOn)
	b.Lines, b.Target, b.TargetSd, b.Roll, b.RollSd = nil, drills.Pixel{X: math.NaN(), Y: math.NaN()}, 0, 5, 0
	until(t, ctx, "lines", func() bool { b.Lines = d.Other.Lens.Find(); return len(b.Lines) >= 2 })
	target, err := d.Other.Lens.Meet(b.Lines, s.Width, s.Height)
	require.NoError(t, err)
	drawn, err := virtual.New(stage.OtherView(s))
	require.NoError(t, err)
	x, y := drawn.TargetPoint()
	require.InDelta(t, x, target.X, 3)
	require.InDelta(t, y, target.Y, 3)
	b.Target, b.TargetSd = target.Pixel, target.Sd
	until(t, ctx, "the roll", func() bool { b.Roll, b.RollSd, err = d.Other.Lens.Roll(b); return err == nil })
	require.InDelta(t, 0, b.Roll, 0.6)
	require.NoError(t, d.Other.KeepBay(b))
	require.Equal(t, b.Lines, d.Other.Bay().Lines)
	until(t, ctx, "the kept bay", func() bool {
		kept, ok, err := live.book.Bay(ctx, stage.DrawnOther)
		require.NoError(t, err)
		return ok && len(kept.Lines) >= 2 && kept.Target == b.Target && kept.RollSd == b.RollSd
	})
	_, err = d.Work(app.Job{Do: app.Join})
	require.NoError(t, err)
	require.Empty(t, d.Other.Lens.Find(), "it was taken away")
	_, _, err = d.Other.Lens.Roll(b)
	require.Error(t, err)
	_, ok := d.Other.Lens.Level()
	require.False(t, ok)
}

// Face-on the second camera's roll comes from lines on the ground, or from a club
// that hangs.
func TestTheSecondCameraIsLevelledByLines(t *testing.T) {
	synctest.Test(t, theSecondCameraIsLevelledByLines)
}

func theSecondCameraIsLevelledByLines(t *testing.T) {
	ctx, cancel := context.WithTimeout(context.Background(), 2*time.Minute)
	defer cancel()
	s := standingBay()
	s.Width, s.Height, s.Light.Kind = 960, 540, virtual.Outdoor
	s.Reps[0].Before = []virtual.Interlude{virtual.Stand, virtual.Hang}
	_, d := openedBoth(t, ctx, s)
	b := d.Other.Bay()
	require.True(t, b.FaceOn)
	until(t, ctx, "level lines", func() bool {
		l, ok := d.Other.Lens.Level()
		if ok {
			require.InDelta(t, 0, l.Roll, 0.7)
			require.GreaterOrEqual(t, len(l.Lines), 2)
		}
		return ok
	})
	b.Roll = 5
	until(t, ctx, "the roll", func() bool {
		roll, _, err := d.Other.Lens.Roll(b)
		if err == nil {
			require.InDelta(t, 0, roll, 0.6)
		}
		return err == nil
	})
}

// A set of a session whose first camera looks face-on, and of one whose first looks
// down the line: each verdict is told once and comes from down the line, the set is
// over when the last one was told, and ledger and set count the same.
func TestASetSeenFromEitherSideFirst(t *testing.T) {
	for name, faceOn := range map[string]bool{"face-on first": true, "down the line first": false} {
		t.Run(name, func(t *testing.T) { synctest.Test(t, func(t *testing.T) { aSetSeenFrom(t, faceOn) }) })
	}
}

func aSetSeenFrom(t *testing.T, faceOn bool) {
	ctx, cancel := context.WithTimeout(context.Background(), 4*time.Minute)
	defer cancel()
	s := stage.Practice(2, 640, 360, 30)
	s.Reps = s.Reps[:3]
	for i := range s.Reps {
		s.Reps[i].Still, s.Reps[i].Before = 0.8, nil
	}
	if faceOn {
		s.Camera = stage.FaceOnCamera()
	}
	live, d := openedBoth(t, ctx, s)
	p, err := d.Book.AddPlayer("Ada", drills.Right, 94)
	require.NoError(t, err)
	drill := d.Book.Rungs(p.Player.ID)[0].Drill
	drill.Reps = 3
	d.Order(runner.Command{Do: runner.Begin, Player: p.Player, Bay: d.Bay.Name, Drill: drill})
	d.Order(runner.Command{Do: runner.Ready})
	told := map[string]drills.Rep{}
	snap := live.until(t, ctx, "the end of the set", func(s *runner.Snapshot) bool {
		for _, r := range s.All {
			if was, ok := told[r.ID]; ok {
				require.Equal(t, was.Verdict, r.Rep.Verdict, "what was told stays")
				require.Equal(t, fmt.Sprint(was.ShaftLine), fmt.Sprint(r.Rep.ShaftLine))
				require.Equal(t, was.Manner, r.Rep.Manner)
			} else {
				told[r.ID] = r.Rep
			}
		}
		return s.SetDone
	})
	d.Order(runner.Command{Do: runner.Pause})
	require.Len(t, snap.Reps, 3)
	fromLine := 0
	for _, r := range snap.Reps {
		t.Logf("%s, %.1f°, %s; %s; %s", r.Rep.Verdict, r.Rep.ShaftLine.Value, r.Rep.Manner, r.Rep.Views, r.Rep.Why)
		if r.Rep.Views.Line == drills.DownTheLine && r.Rep.Verdict != drills.NoReading {
			fromLine++
		}
	}
	if faceOn {
		require.Equal(t, 3, fromLine, "verdicts from down the line")
	} else {
		for _, r := range snap.Reps {
			require.False(t, r.Rep.FaceOn())
		}
	}
	counted := 0
	for _, r := range snap.Reps {
		if r.Rep.Counts() {
			counted++
		}
	}
	set, ok := d.Book.Set(p.Player.ID, snap.Session, 1)
	require.True(t, ok)
	require.Len(t, set, 3, "each rep is stored once")
	stored := 0
	for _, r := range set {
		if r.Counts() {
			stored++
		}
	}
	require.Equal(t, counted, stored)
}

// openedBoth is a session of a drawn bay's two cameras.
func openedBoth(t *testing.T, ctx context.Context, s virtual.Setup) (*Live, app.Deps) {
	t.Helper()
	return openedBeside(t, ctx, s, stage.DrawnOther)
}
