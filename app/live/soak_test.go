//go:build linux

package live

import (
	"context"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"drillbay/app/soaktest"
	"drillbay/assets"
	"drillbay/camera/frame"
	"drillbay/camera/lookback"
	"drillbay/camera/sight"
	"drillbay/camera/virtual"
	"drillbay/cues"
	"drillbay/cues/soundtest"
	"drillbay/drills"
	"drillbay/drills/bay"
	"drillbay/drills/book"
	"drillbay/drills/ledger"
	"drillbay/drills/measure"
	"drillbay/drills/read"
	"drillbay/drills/rep"
	"drillbay/drills/runner"
	"drillbay/drills/stage"
	"drillbay/drills/voice"
)

// sample holds what a session in real time uses at a moment, and how its clocks stand, s.
type sample struct {
	soaktest.Sample
	BeatOff float64 // the beat that is shown, off the one that is heard
	Age     float64 // of the newest picture
	Sound   float64 // when the sound's stream began, by the session's clock: it drifts with the card's
	Wall    float64 // the wall clock ahead of the session's
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
	began := time.Now()
	live, err := Open(ctx, Config{Ledger: l, Virtual: true, Drawn: stage.Practice(p.Seed, 320, 180, 30), Sound: true, Taps: true})
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
	var zero, since float64 // of the beat that is heard
	for live.Now() < end {
		<-live.Wake()
		now := live.Now()
		if now > session { // a player is not there for hours
			session += 300
			begin()
		}
		heard := live.sound.Beat(now)
		if math.Abs(heard.Zero-zero) > 0.05 { // it begins anew
			zero, since = heard.Zero, now
		}
		if now < next {
			continue
		}
		next += every
		s := sample{Sample: soaktest.Hold(now)}
		s.Wall = time.Now().Round(0).Sub(began.Round(0)).Seconds() - live.Now()
		// What is shown follows what is heard within half a second.
		if shown := d.Snapshot().Beat; shown.On && heard.On && now-since > 0.5 {
			s.BeatOff = math.Remainder(shown.Zero-heard.Zero, heard.Round*60/heard.Rate)
			s.Sound = heard.Zero - heard.Phase.Zero/cues.Rate
		}
		if pic := d.Picture(0); pic != nil {
			s.Age = live.Now() - pic.Seconds()
			pic.Release()
		}
		require.NoError(t, out.Encode(line{Sample: &s}))
	}
	snap := d.Snapshot()
	require.NoError(t, live.Finish(context.Background(), 20*time.Second))
	require.NoError(t, out.Encode(line{End: &outcome{Seen: snap.Counters.Reps, Stored: snap.Counters.Stored, Frames: snap.Counters.Frames, Late: snap.Counters.Dropped}}))
}

// A session in real time, with sound and microphone, holds no more at its end
// than at its beginning, and the clocks of picture, sound and wall stay
// together.
func TestSoakInRealTime(t *testing.T) {
	m := soaktest.Minutes(t)
	server := soundtest.New(t)
	server.Start()
	g := begin(t, "soak", server.Program("TestHelperSoak"), plan{Ledger: filepath.Join(t.TempDir(), ledger.FileName), Seed: 1, Minutes: m})
	o := g.finish()
	t.Logf("%v minutes: %v", m, o)
	var held []soaktest.Sample
	off, age := 0.0, 0.0
	for _, s := range g.samples {
		held = append(held, s.Sample)
		if math.Abs(s.BeatOff) > 0.045 {
			t.Logf("%.1f s: the beat shown is %.0f ms off", s.At, s.BeatOff*1000)
		}
		off, age = max(off, math.Abs(s.BeatOff)), max(age, s.Age)
	}
	soaktest.Flat(t, held, 0)
	t.Logf("the beat shown was %.1f ms off the one heard at most, a picture %.0f ms old at most", off*1000, age*1000)
	drift := func(of func(sample) float64) float64 {
		first, last := soaktest.Ends(t, g.samples, of)
		return last - first
	}
	sound := drift(func(s sample) float64 { return s.Sound })
	beat := drift(func(s sample) float64 { return s.BeatOff })
	picture := drift(func(s sample) float64 { return s.Age })
	clock := drift(func(s sample) float64 { return s.Wall })
	t.Logf("against the session's clock the card's drifted by %.1f ms and the wall's by %.1f ms; the beat shown drifted by %.1f ms, the picture by %.1f ms", sound*1000, clock*1000, beat*1000, picture*1000)
	require.Less(t, math.Abs(beat), 0.02)
	require.Less(t, math.Abs(picture), 0.034, "a picture")
	require.Less(t, math.Abs(clock), 1.0, "the network's time corrects 500 ppm at most")
	// ITU-R BT.1359-1: sound 45 ms before the picture can be noticed.
	require.Less(t, off, 0.045)
	require.Less(t, age, 0.5)
	require.Greater(t, o.Stored, int(m), "it practised")
}

// Eight hours of practice without a window, a rep every minute, as fast as it
// goes: nothing grows. While the player rests the eye looks twice a second.
func TestSoakAsFastAsItGoes(t *testing.T) {
	m := soaktest.Minutes(t)
	const hours, rest = 8.0, 53.0
	ctx := context.Background()
	l, err := ledger.Open(filepath.Join(t.TempDir(), ledger.FileName))
	require.NoError(t, err)
	defer l.Close()
	b, err := book.Read(ctx, l, "")
	require.NoError(t, err)
	who, err := b.AddPlayer("Ada", drills.Right, 94)
	require.NoError(t, err)

	setup := stage.Practice(1, 320, 180, 30)
	setup.Reps, setup.Loop = setup.Reps[:8], false
	room, err := virtual.New(setup)
	require.NoError(t, err)
	var drawn []*frame.Picture
	for i := range room.Frames() {
		p := frame.New(setup.Width, setup.Height, frame.Sub420)
		require.NoError(t, room.Draw(i, p))
		drawn = append(drawn, p)
	}
	order, rests := withRests(t, setup, rest)
	place, err := stage.BayOf(setup)
	require.NoError(t, err)
	known, err := bay.Known(place, drills.Right, 0, setup.Width, setup.Height)
	require.NoError(t, err)

	budget := lookback.Budget(setup.Width, setup.Height, setup.FPS)
	pool := frame.NewPool(budget + 32*setup.Width*setup.Height*3/2)
	var seen measure.Recall
	reads, now := read.NewCamera(func(int, int) rep.Known { return known }, &seen), 0.0
	analyse := func(take runner.Take) runner.Analysis {
		_, told := reads.Read(take)
		return told
	}
	s := runner.NewStepper(runner.Options{
		Ring: lookback.NewRing(budget, lookback.Capacity(budget, setup.Width, setup.Height)), Analyse: analyse,
		Speaker: voice.New(cues.Silent{}, b.Drills(), nil), Store: book.Store{Ledger: l, Book: b}, Now: func() float64 { return now }, Began: time.Now(),
	})
	drill := b.Rungs(who.Player.ID)[0].Drill
	watch, err := measure.NewWatch(known.Setting, &seen)
	require.NoError(t, err)
	defer watch.Close()
	var pace measure.Pace
	var glance sight.Glance
	began, session, next := time.Now(), 0.0, 0.0
	var all []soaktest.Sample
	for n := 0; now < hours*3600 && time.Since(began).Minutes() < m; n++ {
		if now >= session {
			session += 1200
			s.Order(runner.Command{Do: runner.Begin, Player: who.Player, Bay: "a bay", Drill: drill})
			s.Order(runner.Command{Do: runner.Ready})
		}
		p := pool.Get(setup.Width, setup.Height, frame.Sub420)
		require.NotNil(t, p, "pictures are left over")
		from := drawn[order[n%len(order)]]
		copy(p.Y, from.Y)
		copy(p.Cb, from.Cb)
		copy(p.Cr, from.Cr)
		p.Full, p.Index, p.At = from.Full, int64(n), time.Duration(float64(n)/setup.FPS*float64(time.Second))
		now = p.Seconds()
		glance.Caught, glance.Ended = false, false
		if pace.Due(now) && (!rests[n%len(order)] || n%15 < 3) {
			glance, _ = watch.See(p)
		}
		glance.At = now
		s.See(p, glance)
		p.Release()
		if passed := time.Since(began).Minutes(); passed >= next {
			next += m / 80
			all = append(all, soaktest.Hold(now))
		}
	}
	counters := s.Snapshot().Counters
	s.Close()
	t.Logf("%.2f hours of practice in %.1f minutes, %d reps stored", now/3600, time.Since(began).Minutes(), counters.Stored)
	require.Greater(t, counters.Stored, int(now/90))
	require.NoError(t, l.Check(ctx))
	soaktest.Flat(t, all, 0)
	if m >= 30 {
		require.GreaterOrEqual(t, now/3600, hours, "hours in %v minutes", m)
	}
}

// withRests are the pictures of a pass of s in the order in which a player who
// rests before each rep, for so long, s, shows them: standing still they come
// backward and forward by turns. Where he rests, rests says so.
func withRests(t *testing.T, s virtual.Setup, rest float64) (order []int, rests []bool) {
	t.Helper()
	stills, pass, err := stage.Stills(s)
	require.NoError(t, err)
	next := 0
	for _, stand := range stills {
		for ; next < stand[1]; next++ {
			order, rests = append(order, next), append(rests, false)
		}
		long := stand[1] - stand[0]
		for i := range int(rest * s.FPS) {
			back := i % (2 * long)
			order = append(order, stand[1]-min(back, 2*long-back))
			// The first second and the last are looked at as ever.
			rests = append(rests, i > int(s.FPS) && i < int((rest-2)*s.FPS))
		}
	}
	for ; next < pass; next++ {
		order, rests = append(order, next), append(rests, false)
	}
	return order, rests
}
