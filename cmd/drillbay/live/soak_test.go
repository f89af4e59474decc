//go:build linux

package live

import (
	"context"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"drillbay/assets"
	"drillbay/camera/frame"
	"drillbay/camera/lookback"
	"drillbay/camera/sight"
	"drillbay/camera/virtual"
	"drillbay/cmd/drillbay/book"
	"drillbay/cues"
	"drillbay/cues/soundtest"
	"drillbay/drills"
	"drillbay/drills/ledger"
	"drillbay/drills/measure"
	"drillbay/drills/runner"
)

// sample is what a process holds at a time of the practice, s.
type sample struct {
	At               float64
	Heap, RSS        float64 // MB
	Goroutines, Open float64
	// Of a session in real time, s: how far the beat that is shown is off the
	// one that is heard, and how old the newest picture is.
	BeatOff, Age float64
}

func hold(at float64) sample {
	debug.FreeOSMemory()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	pages := 0.0
	if text, err := os.ReadFile("/proc/self/statm"); err == nil {
		fmt.Sscan(strings.Fields(string(text))[1], &pages)
	}
	files, _ := os.ReadDir("/proc/self/fd")
	return sample{At: at, Heap: float64(m.HeapAlloc) / 1e6, RSS: pages * float64(os.Getpagesize()) / 1e6,
		Goroutines: float64(runtime.NumGoroutine()), Open: float64(len(files))}
}

// minutes is how long the soak lasts; 30 by make soak.
func minutes(t *testing.T) float64 {
	t.Helper()
	m, err := strconv.ParseFloat(os.Getenv("DRILLBAY_SOAK"), 64)
	if err != nil || m <= 0 {
		t.Skip("DRILLBAY_SOAK says how many minutes: make soak takes 30")
	}
	return m
}

// flat checks that what is held did not change by more than 5 % from the
// second eighth of a run to its last; a few of what is counted may come and go.
func flat(t *testing.T, what string, all []sample, of func(sample) float64, few float64) {
	t.Helper()
	require.GreaterOrEqual(t, len(all), 16, "too short to tell")
	n := len(all) / 8
	middle := func(part []sample) float64 {
		var v []float64
		for _, s := range part {
			v = append(v, of(s))
		}
		slices.Sort(v)
		return v[len(v)/2]
	}
	first, last := middle(all[n:2*n]), middle(all[len(all)-n:])
	t.Logf("%s: %.4g at first, %.4g at last (%+.1f %%)", what, first, last, 100*(last/first-1))
	require.LessOrEqual(t, math.Abs(last-first), max(0.05*first, few), what)
}

func allFlat(t *testing.T, all []sample) {
	t.Helper()
	flat(t, "heap, MB", all, func(s sample) float64 { return s.Heap }, 1)
	flat(t, "memory, MB", all, func(s sample) float64 { return s.RSS }, 2)
	flat(t, "goroutines", all, func(s sample) float64 { return s.Goroutines }, 1)
	flat(t, "open files", all, func(s sample) float64 { return s.Open }, 1)
}

// TestHelperSoak is no test: it practises in real time, with sound.
func TestHelperSoak(t *testing.T) {
	soundtest.Helper(t)
	var p plan
	require.NoError(t, json.Unmarshal([]byte(os.Getenv("DRILLBAY_PLAN")), &p))
	out := json.NewEncoder(os.Stdout)
	ctx := context.Background()
	l, err := ledger.Open(p.Ledger)
	require.NoError(t, err)
	live, err := Open(ctx, Config{Ledger: l, Virtual: true, Drawn: Practice(p.Seed, 320, 180, 30), Sound: true, Taps: true})
	require.NoError(t, err)
	d, err := live.Deps(ctx)
	require.NoError(t, err)
	who, err := d.Book.AddPlayer("Ada", drills.Right, 94)
	require.NoError(t, err)
	drill := d.Book.Rungs(who.Player.ID)[0].Drill
	drill.Beat = 72
	begin := func() {
		d.Order(runner.Command{Do: runner.Begin, Player: who.Player, Bay: "a bay", Drill: drill})
		d.Order(runner.Command{Do: runner.Ready})
	}
	begin()
	// Phrases are kept once they were said: all of them, before it is counted.
	var all []cues.Phrase
	for _, name := range assets.Phrases() {
		all = append(all, cues.Phrase(name))
	}
	live.sound.Say(all...)
	live.sound.Hush()
	end := p.Minutes * 60
	every := max(end/160, 1)
	next, session := every, 300.0
	for live.Now() < end {
		<-live.Wake()
		now := live.Now()
		if now > session { // a player is not there for hours
			session += 300
			begin()
		}
		if now < next {
			continue
		}
		next += every
		s := hold(now)
		shown, heard := d.Snapshot().Beat, live.sound.Beat(live.Now())
		if shown.On && heard.On {
			s.BeatOff = math.Remainder(shown.Zero-heard.Zero, heard.Round*60/heard.Rate)
		}
		if pic := d.Picture(0); pic != nil {
			s.Age = live.Now() - pic.Seconds()
			pic.Release()
		}
		require.NoError(t, out.Encode(line{Sample: &s}))
	}
	snap := d.Snapshot()
	require.NoError(t, live.Finish(20*time.Second))
	require.NoError(t, out.Encode(line{End: &outcome{Seen: snap.Counters.Reps, Stored: snap.Counters.Stored, Frames: snap.Counters.Frames, Late: snap.Counters.Dropped}}))
}

// A session in real time, with sound and microphone, holds no more at its end
// than at its beginning, and the clocks of picture, sound and wall stay
// together.
func TestSoakInRealTime(t *testing.T) {
	m := minutes(t)
	t.Parallel()
	server := soundtest.New(t)
	server.Start()
	g := begin(t, "soak", server.Program("TestHelperSoak"), plan{Ledger: filepath.Join(t.TempDir(), ledger.FileName), Seed: 1, Minutes: m})
	o := g.finish()
	t.Logf("%v minutes: %v", m, o)
	allFlat(t, g.samples)
	off, age := 0.0, 0.0
	for _, s := range g.samples {
		off, age = max(off, math.Abs(s.BeatOff)), max(age, s.Age)
	}
	t.Logf("the beat shown was %.1f ms off the one heard at most, a picture %.0f ms old", off*1000, age*1000)
	// ITU-R BT.1359-1: sound 45 ms before the picture can be noticed.
	require.Less(t, off, 0.045)
	require.Less(t, age, 0.5)
	require.Greater(t, o.Stored, int(m), "it practised")
}

// Hours of practice without a window, as fast as it goes: nothing grows.
func TestSoakAsFastAsItGoes(t *testing.T) {
	m := minutes(t)
	t.Parallel()
	const hours = 8.0
	ctx := context.Background()
	l, err := ledger.Open(filepath.Join(t.TempDir(), ledger.FileName))
	require.NoError(t, err)
	defer l.Close()
	b, err := book.Read(ctx, l, "")
	require.NoError(t, err)
	who, err := b.AddPlayer("Ada", drills.Right, 94)
	require.NoError(t, err)

	setup := Practice(1, 320, 180, 30)
	setup.Reps, setup.Loop = setup.Reps[:8], false
	bay, err := virtual.New(setup)
	require.NoError(t, err)
	var drawn []*frame.Picture
	for i := range bay.Frames() {
		p := frame.New(setup.Width, setup.Height, frame.Sub420)
		require.NoError(t, bay.Draw(i, p))
		drawn = append(drawn, p)
	}
	place, err := BayOf(setup)
	require.NoError(t, err)
	known, err := Known(place, drills.Right, 0, setup.Width, setup.Height)
	require.NoError(t, err)

	budget := lookback.Budget(setup.Width, setup.Height, setup.FPS)
	pool := frame.NewPool(budget + 32*setup.Width*setup.Height*3/2)
	reader, now := measure.Reader{}, 0.0
	analyse := func(take runner.Take) runner.Reading {
		r, ok := Read(take, known, &reader)
		if !ok {
			return runner.Reading{Void: true}
		}
		return Reading(r, known.Setting.View)
	}
	s := runner.NewStepper(runner.Options{
		Ring: lookback.NewRing(budget, lookback.Capacity(budget, setup.Width, setup.Height)), Analyse: analyse,
		Speaker: newVoice(Silent{}), Store: Store{Ledger: l, Book: b}, Now: func() float64 { return now }, Began: time.Now(),
	})
	drill := b.Rungs(who.Player.ID)[0].Drill
	watcher := sight.NewWatcher(known.Setting)
	began, session, next := time.Now(), 0.0, 0.0
	var all []sample
	for n := 0; now < hours*3600 && time.Since(began).Minutes() < m; n++ {
		if now >= session {
			session += 1200
			s.Order(runner.Command{Do: runner.Begin, Player: who.Player, Bay: "a bay", Drill: drill})
			s.Order(runner.Command{Do: runner.Ready})
		}
		p := pool.Get(setup.Width, setup.Height, frame.Sub420)
		require.NotNil(t, p, "pictures are left over")
		from := drawn[n%len(drawn)]
		copy(p.Y, from.Y)
		copy(p.Cb, from.Cb)
		copy(p.Cr, from.Cr)
		p.Full, p.Index, p.At = from.Full, int64(n), time.Duration(float64(n)/setup.FPS*float64(time.Second))
		now = p.Seconds()
		s.See(p, watcher.Step(p))
		p.Release()
		if passed := time.Since(began).Minutes(); passed >= next {
			next += m / 80
			all = append(all, hold(now))
		}
	}
	counters := s.Snapshot().Counters
	s.Close()
	t.Logf("%.2f hours of practice in %.1f minutes, %d reps stored", now/3600, time.Since(began).Minutes(), counters.Stored)
	require.Greater(t, counters.Stored, int(now/60))
	require.NoError(t, l.Check(ctx))
	allFlat(t, all)
}
