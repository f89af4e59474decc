package virtual

import (
	"encoding/json"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drillbay/camera/frame"
)

func small(reps ...RepSpec) Setup {
	s := Default()
	s.Width, s.Height, s.Reps = 320, 180, reps
	return s
}

func open(t testing.TB, s Setup) *Bay {
	t.Helper()
	b, err := New(s)
	require.NoError(t, err)
	return b
}

func TestTruthIsOneRigidClub(t *testing.T) {
	for _, drill := range []Drill{Catch, CatchTurnStrike, Ordinary, FreeReturn} {
		s := small(RepSpec{ShaftLineDeg: 7, Before: []Interlude{WalkIn, TeeUp, Waggle}}, RepSpec{ShaftLineDeg: -9, ElevationDeg: 12})
		s.Drill = drill
		b := open(t, s)
		assert.InDelta(t, s.Club.Length-s.Club.Grip, b.HandsToHead(), 1e-12)
		for i := range b.Frames() {
			r := b.Truth(float64(i) / s.FPS)
			d := math.Sqrt(sq(r.Head[0]-r.Hands[0]) + sq(r.Head[1]-r.Hands[1]) + sq(r.Head[2]-r.Hands[2]))
			require.InDelta(t, b.HandsToHead(), d, 1e-9, "%s, frame %d", drill, i)
			require.GreaterOrEqual(t, r.Head[2], 0.0, "%s, frame %d: the head is below ground", drill, i)
			off := math.Sqrt(sq(r.Middle[0]-r.Head[0]) + sq(r.Middle[1]-r.Head[1]) + sq(r.Middle[2]-r.Head[2]))
			require.InDelta(t, s.Club.HeadOffset, off, 0.02)
		}
	}
}

func TestCatchIsAsCommanded(t *testing.T) {
	for _, m := range []Manner{Swing, GentleSwing, StopGo, Creep, QuickPlace} {
		spec := RepSpec{ShaftLineDeg: -11, ElevationDeg: 6, HandsX: -0.3, HandsY: 0.5, FaceDeg: 40, Manner: m}
		s := small(spec)
		s.Player.Sway = 0
		b := open(t, s)
		e := b.Events()[0]
		r := b.Truth(e.Catch)
		assert.InDelta(t, -11, r.ShaftLineDeg, 0.01, m)
		assert.InDelta(t, 6, r.ElevationDeg, 0.05, m)
		assert.InDelta(t, 40, r.FaceDeg, 0.01, m)
		assert.InDelta(t, 0.5, r.Hands[1], 1e-3, m)
		assert.InDelta(t, -0.3, r.Hands[0], 1e-3, m)
		level := b.Truth(e.Level)
		assert.Less(t, e.Level, e.Catch, m)
		assert.InDelta(t, 0, level.ElevationDeg, 0.02, m)
		assert.InDelta(t, e.LevelShaftLineDeg, level.ShaftLineDeg, 0.01, m)
	}
}

func TestLevelMomentOfShortReps(t *testing.T) {
	b := open(t, small(RepSpec{ElevationDeg: -8}, RepSpec{ElevationDeg: -20}))
	e := b.Events()
	assert.Equal(t, e[0].Catch, e[0].Level, "a stop within 12° below level is the level moment")
	assert.True(t, math.IsNaN(e[1].Level), "a shorter one has none")
}

// A swing is still fast two frames before it stops, a placed club is not.
func TestMannersDifferBeforeTheCatch(t *testing.T) {
	speed := func(b *Bay, t float64) float64 {
		p, q := b.Truth(t-0.005), b.Truth(t+0.005)
		return math.Sqrt(sq(p.Head[0]-q.Head[0])+sq(p.Head[1]-q.Head[1])+sq(p.Head[2]-q.Head[2])) / 0.01
	}
	for _, m := range []Manner{Swing, GentleSwing, StopGo, Creep, QuickPlace} {
		for seed := range uint64(20) {
			s := small(RepSpec{Manner: m})
			s.Seed = seed
			b := open(t, s)
			e := b.Events()[0]
			peak, at := 0.0, 0.0
			for k := range 200 {
				x := e.BackStart + (e.Catch-e.BackStart)*float64(k)/200
				if v := speed(b, x); v > peak {
					peak, at = v, (x-e.BackStart)/(e.Catch-e.BackStart)
				}
			}
			last := speed(b, e.Catch-0.06)
			if m.Swung() {
				assert.Greater(t, at, 0.6, m)
				assert.Greater(t, last/peak, 0.4, m)
			} else {
				assert.Less(t, last/peak, 0.3, m)
			}
		}
	}
}

func TestOrdinarySwing(t *testing.T) {
	s := small(RepSpec{ShaftLineDeg: 5, Back: 0.8, Down: 0.25})
	s.Drill, s.Arms = Ordinary, BothArms
	b := open(t, s)
	e := b.Events()[0]
	assert.InDelta(t, 0.8, e.Top-e.BackStart, 1e-9)
	assert.InDelta(t, 0.25, e.Impact-e.Top, 1e-9)
	assert.InDelta(t, 5, e.LevelShaftLineDeg, 0.05)
	hit := b.Truth(e.Impact)
	assert.InDelta(t, 0, math.Hypot(hit.Head[0], hit.Head[1]), 0.06, "the head is at the ball")
	assert.True(t, b.Truth(e.BackStart).BallInPlace)
	assert.False(t, b.Truth(e.Impact+0.1).BallInPlace)
	fast := func(t float64) float64 { return (b.Truth(t + 0.002).Head[0] - b.Truth(t - 0.002).Head[0]) / 0.004 }
	assert.InEpsilon(t, fast(e.Impact-0.01), fast(e.Impact+0.01), 0.25, "no jerk at impact")
}

func TestLeftHanderIsTheMirrorImage(t *testing.T) {
	s := small(RepSpec{ShaftLineDeg: 9})
	right := open(t, s)
	s.Player.Hand = LeftHand
	left := open(t, s)
	for _, at := range []float64{0, 1, 1.6, 2} {
		r, l := right.Truth(at), left.Truth(at)
		assert.InDelta(t, 320-r.HeadPX[0], l.HeadPX[0], 1e-9)
		assert.InDelta(t, r.HeadPX[1], l.HeadPX[1], 1e-9)
		assert.Equal(t, r.ShaftLineDeg, l.ShaftLineDeg)
		assert.Equal(t, r.Head, l.Head)
	}
}

func TestFramesDoNotDependOnTheOrder(t *testing.T) {
	s := small(RepSpec{}, RepSpec{ShaftLineDeg: 20})
	s.Loop, s.Scene.PasserBy, s.Light.Flicker = true, true, 0.02
	a, b := open(t, s), open(t, s)
	n := a.Frames()
	p, q := frame.New(320, 180, frame.Sub420), frame.New(320, 180, frame.Sub420)
	for _, i := range []int{n + 50, 45, 0, 52, n + 50, 56} {
		require.NoError(t, a.Draw(i, p))
	}
	for _, i := range []int{56, n + 50, 45} {
		require.NoError(t, a.Draw(i, p))
		require.NoError(t, b.Draw(i, q))
		require.Equal(t, p.Y, q.Y, "frame %d", i)
		require.Equal(t, p.Cb, q.Cb, "frame %d", i)
		require.Equal(t, p.Cr, q.Cr, "frame %d", i)
	}
}

func TestDrawAllocatesNothing(t *testing.T) {
	s := small(RepSpec{})
	s.Scene.PasserBy = true
	b := open(t, s)
	p := frame.New(320, 180, frame.Sub420)
	i := 30
	assert.Zero(t, testing.AllocsPerRun(60, func() {
		if err := b.Draw(i, p); err != nil {
			panic(err)
		}
		i++
	}))
}

// The white glove is where the truth says that the lead hand is.
func TestGloveIsDrawnAtTheHands(t *testing.T) {
	s := small(RepSpec{})
	s.Width, s.Height, s.Noise = 1280, 720, 0
	b := open(t, s)
	p := frame.New(1280, 720, frame.Sub420)
	require.NoError(t, b.Draw(0, p))
	h := b.Truth(0).HandsPX
	at := func(x, y float64) int { return int(p.Y[int(y)*p.YStride+int(x)]) }
	assert.Greater(t, at(h[0], h[1]), 150)
	assert.Less(t, at(h[0]+30, h[1]), 120, "the net beside it is darker")
}

func TestSetupIsChecked(t *testing.T) {
	for name, change := range map[string]func(*Setup){
		"club too short": func(s *Setup) { s.Club.Length = 0.4571 }, // Equipment Rules: 18 in
		"club too long":  func(s *Setup) { s.Club.Length = 1.2193 }, // 48 in
		"odd size":       func(s *Setup) { s.Width = 321 },
		"no size":        func(s *Setup) { s.Height = 0 },
		"rate":           func(s *Setup) { s.FPS = 0 },
		"not a number":   func(s *Setup) { s.Camera.YawDeg = math.NaN() },
		"hand":           func(s *Setup) { s.Player.Hand = "both" },
		"drill":          func(s *Setup) { s.Drill = "" },
		"manner":         func(s *Setup) { s.Reps[0].Manner = "thrown" },
		"interlude":      func(s *Setup) { s.Reps[0].Before = []Interlude{"tea"} },
	} {
		s := small(RepSpec{})
		change(&s)
		_, err := New(s)
		assert.Error(t, err, name)
	}
	for _, l := range []float64{0.4572, 1.2192} {
		s := small(RepSpec{})
		s.Club.Length = l
		_, err := New(s)
		assert.NoError(t, err)
	}
	b := open(t, small(RepSpec{}))
	assert.Error(t, b.Draw(0, frame.New(322, 180, frame.Sub420)))
	assert.Error(t, b.Draw(0, frame.New(320, 180, frame.Sub422)))
	assert.Error(t, b.Draw(b.Frames(), frame.New(320, 180, frame.Sub420)))
	assert.Error(t, b.Draw(-1, frame.New(320, 180, frame.Sub420)))
}

func TestSetupGoesThroughJSON(t *testing.T) {
	s := small(RepSpec{ShaftLineDeg: 3, Before: []Interlude{Waggle}})
	tape := Colour{0.9, 0.3, 0}
	s.Club.Tape = &tape
	text, err := json.Marshal(s)
	require.NoError(t, err)
	var back Setup
	require.NoError(t, json.Unmarshal(text, &back))
	assert.Equal(t, s, back)
}

func BenchmarkDraw720(b *testing.B) {
	s := Default()
	s.Reps = []RepSpec{{}}
	s.FPS = 60
	bay := open(b, s)
	p := frame.New(s.Width, s.Height, frame.Sub420)
	for _, c := range []struct {
		name string
		at   float64
	}{{"address", 0.3}, {"swing", 1.8}, {"hold", 2.4}} {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if err := bay.Draw(int(c.at*s.FPS), p); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
