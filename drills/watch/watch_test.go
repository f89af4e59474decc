package watch

import (
	"math"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/camera/eye"
	"drillbay/camera/frame"
	"drillbay/camera/lens"
	"drillbay/camera/sight"
	"drillbay/camera/virtual"
	"drillbay/drills/measure"
	"drillbay/drills/rep"
)

// Several glances between two pictures, or none: that a rep was caught or ended
// is said with one picture each, in order, and once.
func TestWordOfARepIsGivenOnce(t *testing.T) {
	w := New(Camera{})
	g := w.Take(1)
	require.Equal(t, sight.Away, g.Phase)
	require.True(t, math.IsNaN(g.HandsX))
	for _, g := range []sight.Glance{{At: 1, Phase: sight.Back}, {At: 1.1, Phase: sight.Hold, Caught: true}, {At: 1.2, Phase: sight.Hold},
		{At: 1.3, Ended: true}, {At: 1.4, Caught: true, Ended: true}, {At: 1.5, Phase: sight.Address}} {
		w.glances <- g
	}
	type word struct {
		phase         sight.Phase
		caught, ended bool
	}
	for i, want := range []word{{sight.Hold, true, false}, {sight.Away, false, true}, {sight.Away, true, true}, {sight.Address, false, false}, {sight.Address, false, false}} {
		at := 2 + float64(i)
		g := w.Take(at)
		require.Equal(t, want, word{g.Phase, g.Caught, g.Ended}, "picture %d", i)
		require.Equal(t, at, g.At, "the time is that of the picture")
	}
	w.glances <- sight.Glance{At: 6, Phase: sight.Hold, Caught: true}
	require.True(t, w.Take(7).Caught)
	g = w.Take(7.1)
	require.False(t, g.Caught, "once, though nothing new was seen since")
	require.Equal(t, sight.Hold, g.Phase)
	// What was found until the end is given then.
	w.glances <- sight.Glance{At: 7, Phase: sight.Back}
	w.glances <- sight.Glance{At: 8, Caught: true}
	close(w.glances)
	var found []float64
	w.End(func(g sight.Glance) { found = append(found, g.At) })
	require.Equal(t, []float64{8}, found)
}

// While the eye gives glances as they come, none of what it says of reps is
// lost or said twice.
func TestNoWordOfARepIsLost(t *testing.T) {
	const words = 500
	w := New(Camera{})
	go func() {
		for i := range words {
			w.glances <- sight.Glance{At: float64(i), Span: sight.Span{Start: float64(i)}, Caught: i%3 == 0, Ended: i%5 == 0}
		}
		close(w.glances)
	}()
	var caught, ended []int
	note := func(g sight.Glance) {
		if g.Caught {
			caught = append(caught, int(g.Span.Start))
		}
		if g.Ended {
			ended = append(ended, int(g.Span.Start))
		}
	}
	for range 300 {
		note(w.Take(0))
	}
	w.End(note)
	var wantCaught, wantEnded []int
	for i := range words {
		if i%3 == 0 {
			wantCaught = append(wantCaught, i)
		}
		if i%5 == 0 {
			wantEnded = append(wantEnded, i)
		}
	}
	require.Equal(t, wantCaught, caught)
	require.Equal(t, wantEnded, ended)
}

// Capture leaves its pictures whether the eye looks or not: nothing is waited
// for, nothing allocated, and no picture is kept but the newest.
func TestCaptureNeitherWaitsNorAllocates(t *testing.T) {
	w := New(Camera{})
	pool := frame.NewPool(3 * 64 * 36 * 2)
	step := func() {
		p := pool.Get(64, 36, frame.Sub420)
		if p == nil {
			t.Fatal("the pictures are all in use")
		}
		w.Offer(p)
		w.Take(p.Seconds())
		p.Release()
	}
	for range 5 {
		step()
	}
	require.Zero(t, testing.AllocsPerRun(200, step))
}

// looking is an eye on a drawn bay, without a session.
func looking(t *testing.T, s virtual.Setup) (*Watcher, *virtual.Bay) {
	t.Helper()
	b, err := virtual.New(s)
	require.NoError(t, err)
	x, y := b.TargetPoint()
	bay := measure.Bay{Width: s.Width, Height: s.Height, Field: s.Camera.HFOVDeg, Distance: s.Camera.Distance, Club: s.Club.Length, Grip: s.Club.Grip, Target: &lens.Point{U: x, V: y}, TargetSigma: 1}
	known, err := bay.Known()
	require.NoError(t, err)
	return New(Camera{Known: func(int, int) rep.Known { return known }, Aimed: &atomic.Int64{}}), b
}

// The eye looks at the newest picture, says what it saw and where, and gives
// all pictures back in the end; a pass is begun anew when the aim changes.
func TestTheEyeLooksAtTheNewestPicture(t *testing.T) {
	s := virtual.Default()
	s.Width, s.Height, s.FPS = 640, 360, 10 // each is looked at
	s.Reps = []virtual.RepSpec{{Still: 1.6}}
	w, b := looking(t, s)
	pool := frame.NewPool(5 * s.Width * s.Height * 3 / 2)
	draw := func(i int) *frame.Picture {
		p := pool.Get(s.Width, s.Height, frame.Sub420)
		require.NotNil(t, p, "a picture was not given back")
		require.NoError(t, b.Draw(i, p))
		return p
	}
	go w.Run()
	var first, last float64
	for i := range 12 {
		p := draw(i)
		last = p.Seconds()
		w.Offer(p)
		g := <-w.glances
		p.Release()
		require.InDelta(t, last, g.At, 1e-9, "the newest picture")
		if first == 0 && g.Phase == sight.Address {
			first = g.At
			truth := b.Truth(g.At)
			require.Less(t, math.Hypot(g.HandsX-truth.HandsPX[0], g.HandsY-truth.HandsPX[1]), 6.0)
		}
	}
	require.Positive(t, first, "address was not seen")
	seen, ok := w.Seen.Near(last)
	require.True(t, ok)
	require.InDelta(t, last, seen.At, 0.15)
	truth := b.Truth(last)
	require.True(t, seen.Player && seen.Hands.Sure() && seen.Head.Sure(), "%+v", seen)
	require.Less(t, math.Hypot(seen.Hands.X-truth.HandsPX[0], seen.Hands.Y-truth.HandsPX[1]), 6.0)
	require.Less(t, math.Hypot(seen.Head.X-truth.MiddlePX[0], seen.Head.Y-truth.MiddlePX[1]), 12.0)
	require.Less(t, seen.Hands.SdX, 10.0)
	w.End(func(sight.Glance) {})
	for range 5 {
		require.NotNil(t, pool.Get(s.Width, s.Height, frame.Sub420), "a picture is still held")
	}

	w, b = looking(t, s)
	p := frame.New(s.Width, s.Height, frame.Sub420)
	require.NoError(t, b.Draw(0, p))
	w.look(p)
	pass := w.pass
	w.look(p)
	require.Same(t, pass, w.pass)
	w.camera.Aimed.Add(1)
	w.look(p)
	require.NotSame(t, pass, w.pass, "the aim changed")
	w.drop()
}

// What was seen is asked by the time of a picture, as long as a look-up picture
// may be late, and says for how long hands or head are not seen.
func TestWhatTheEyeSawIsKnownByTime(t *testing.T) {
	var s Sightings
	_, ok := s.Near(1)
	require.False(t, ok)
	look := func(at, hands, head float64) {
		l := sight.Look{At: at}
		if hands > 0 {
			l.Places[eye.Hands] = eye.Place{U: at, V: 7, UU: 4, VV: 9, Here: 1, Seen: hands}
			l.Places[eye.Head] = eye.Place{U: at, V: 8, UU: 1, VV: 1, Here: 1, Seen: head}
		}
		s.take(l)
	}
	for i := range 400 {
		at := float64(i) / 12
		look(at, 0.9, map[bool]float64{true: 0.9, false: 0.2}[at < 20])
	}
	for _, at := range []float64{33.2, 30.02, 26.5, 25} {
		got, ok := s.Near(at)
		require.True(t, ok, "%v s", at)
		require.InDelta(t, at, got.At, 0.05)
		require.InDelta(t, got.At, got.Hands.X, 1e-9)
	}
	_, ok = s.Near(2)
	require.False(t, ok, "too long ago")
	_, ok = s.Near(34)
	require.False(t, ok, "not looked at yet")
	got, _ := s.Near(33.2)
	require.Equal(t, 2.0, got.Hands.SdX)
	require.Equal(t, 3.0, got.Hands.SdY)
	require.Zero(t, got.Hands.Lost)
	require.InDelta(t, 13.2, got.Head.Lost, 0.2)
	look(40, 0, 0)
	got, _ = s.Near(40)
	require.False(t, got.Player)
	require.Zero(t, got.Head.Lost, "nobody is there")
	look(40.1, 0.9, 0.1)
	got, _ = s.Near(40.1)
	require.Zero(t, got.Head.Lost, "somebody just came")
	require.Greater(t, seenKept/12.0, 8.5, "the latest look-up picture is 8 s late")
}
