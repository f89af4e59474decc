package rep_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drillbay/camera/eye"
	"drillbay/camera/lens"
	"drillbay/camera/sight"
	"drillbay/camera/virtual"
	"drillbay/drills"
	"drillbay/drills/rep"
)

// followed is the track of a bay's first rep, from places as the bay has them
// to half a pixel, 30 a second, and the bay.
func followed(t *testing.T, s virtual.Setup) (sight.Motion, rep.Known, *virtual.Bay) {
	t.Helper()
	return followedBy(t, s, func(float64, *sight.Look) {})
}

// followedBy is followed by an eye that errs on the way back: change is given each
// look there with the shaft's elevation, degrees.
func followedBy(t *testing.T, s virtual.Setup, change func(lift float64, l *sight.Look)) (sight.Motion, rep.Known, *virtual.Bay) {
	t.Helper()
	looks, k, b := seen(t, s, change)
	m, err := k.Setting.Follow(looks, k.Doubt(), s.Drill == virtual.Ordinary)
	require.NoError(t, err)
	return m, k, b
}

// seen are the looks of followedBy and what is known beside them.
func seen(t *testing.T, s virtual.Setup, change func(lift float64, l *sight.Look)) ([]sight.Look, rep.Known, *virtual.Bay) {
	t.Helper()
	s.Width, s.Height = 640, 360
	b, err := virtual.New(s)
	require.NoError(t, err)
	x, y := b.TargetPoint()
	v, err := lens.NewView(lens.Camera{Width: s.Width, Height: s.Height, Focal: b.Focal(), Target: lens.Point{U: x, V: y}, Left: s.Player.Hand == virtual.LeftHand})
	require.NoError(t, err)
	k := rep.Known{Setting: sight.Setting{View: v, Distance: s.Camera.Distance, Reach: b.HandsToHead(), Grip: s.Club.Grip},
		Scale: true, Band: drills.Band, Distance: 0.06, Target: 1.3, Roll: 0.3, Focal: 0.01, Reach: 0.008, Forward: 0.06}
	e := b.Events()[0]
	var looks []sight.Look
	for at := e.StillFrom; at < e.HoldTo; at += 1 / 30.0 {
		w := b.Truth(at)
		l := sight.Look{At: at}
		for p, px := range map[eye.Point][2]float64{eye.Hands: w.HandsPX, eye.Head: w.HeadPX} {
			l.Places[p] = eye.Place{U: px[0], V: px[1], UU: 0.25, VV: 0.25, Here: 0.97, Seen: 0.95}
		}
		if at > e.BackStart {
			change(w.ElevationDeg, &l)
		}
		looks = append(looks, l)
	}
	return looks, k, b
}

func TestMannerIsToldWhateverTheTempo(t *testing.T) {
	cases := []struct {
		name   string
		manner virtual.Manner
		back   float64 // s
		want   drills.Manner
	}{
		{"a swing", virtual.Swing, 0.6, drills.Swung},
		{"a gentle slow swing", virtual.GentleSwing, 1.2, drills.Swung},
		{"a slow smooth placement", virtual.Creep, 1.6, drills.Placed},
		{"a quick smooth placement", virtual.QuickPlace, 0.7, drills.Placed},
		{"a placement in moves", virtual.StopGo, 1.9, drills.Placed},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			s := virtual.Default()
			s.Reps = []virtual.RepSpec{{ShaftLineDeg: 6, Manner: c.manner, Back: c.back, Hold: 1}}
			m, k, _ := followed(t, s)
			r, ok := rep.Of(&m, k)
			require.True(t, ok)
			if c.manner == virtual.QuickPlace && r.Manner == drills.Unsure {
				return // quick and smooth lies between a swing and a placement
			}
			assert.Equal(t, c.want, r.Manner)
			assert.False(t, math.IsNaN(r.Smoothness))
		})
	}
}

// A swing of the usual tempo is read at 30 frames a second, though its head is
// seen twice or three times about level, and not after it. Where it passed level
// unseen, there is no reading.
func TestASwingIsReadWhereItsHeadWasSeenAboutLevel(t *testing.T) {
	s := virtual.Default()
	s.Drill, s.Arms = virtual.Ordinary, virtual.BothArms
	hidden := func(from, to float64) func(float64, *sight.Look) {
		return func(lift float64, l *sight.Look) {
			if lift > from && lift < to {
				l.Places[eye.Head] = eye.Place{}
			}
		}
	}
	for name, c := range map[string]struct {
		back   float64 // s
		change func(float64, *sight.Look)
		why    string // no reading
	}{
		"quick":           {0.75, hidden(0, 0), ""},
		"slow":            {1, hidden(0, 0), ""},
		"unseen at level": {1, hidden(-22, 22), "the club passed level unseen"},
		"unseen after it": {1, hidden(1, 60), ""},
	} {
		s.Reps = []virtual.RepSpec{{ShaftLineDeg: -17, Back: c.back}}
		m, k, b := followedBy(t, s, c.change)
		r, ok := rep.Of(&m, k)
		require.True(t, ok)
		assert.Equal(t, c.why, r.Why, "%s: read %.1f ± %.1f, %.1f flat", name, r.ShaftLine.Value, r.ShaftLine.Sigma, m.Flatness(r.Moments.Level))
		if c.why == "" {
			w, x := b.Truth(r.Moments.Level-0.02), b.Truth(r.Moments.Level+0.02)
			assert.InDelta(t, math.Abs((x.ShaftLineDeg-w.ShaftLineDeg)/(x.ElevationDeg-w.ElevationDeg)), m.Flatness(r.Moments.Level), 0.15)
			assert.InDelta(t, -17, r.ShaftLine.Value, 2*r.ShaftLine.Sigma)
		}
	}
}

// Where hands and head are seen as they are, a swing's shaft line is what it is,
// however far inside or outside and however quick: no part of the track draws it
// to one side.
func TestTheTrackOfASwingDoesNotBend(t *testing.T) {
	for _, line := range []float64{-17, -8, 0, 5, 12, 20} {
		for _, back := range []float64{0.75, 1, 1.3} {
			s := virtual.Default()
			s.Drill, s.Arms = virtual.Ordinary, virtual.BothArms
			s.Reps = []virtual.RepSpec{{ShaftLineDeg: line, Back: back}}
			m, k, _ := followed(t, s)
			r, ok := rep.Of(&m, k)
			require.True(t, ok)
			require.True(t, r.ShaftLine.OK(), r.Why)
			assert.InDelta(t, line, r.ShaftLine.Value, 1, "degrees; back in %.2f s", back)
		}
	}
}

// By how much too far outside the eye sees a swinging club at level is taken off its
// reading, before it is judged; what is held is seen without it.
func TestWhatTheEyeGetsWrongInPassingIsTakenOffASwing(t *testing.T) {
	s := virtual.Default()
	s.Drill, s.Arms = virtual.Ordinary, virtual.BothArms
	s.Reps = []virtual.RepSpec{{ShaftLineDeg: 5, Back: 1}}
	m, k, _ := followed(t, s)
	plain, ok := rep.Of(&m, k)
	require.True(t, ok)
	require.Equal(t, drills.InLine, plain.Verdict)
	k.Passing = 6
	r, ok := rep.Of(&m, k)
	require.True(t, ok)
	assert.InDelta(t, plain.ShaftLine.Value+6, r.ShaftLine.Value, 1e-9)
	assert.Equal(t, drills.Inside, r.Verdict)

	s = virtual.Default()
	s.Reps = []virtual.RepSpec{{ShaftLineDeg: 5}}
	m, k, _ = followed(t, s)
	plain, ok = rep.Of(&m, k)
	require.True(t, ok)
	k.Passing = 6
	r, ok = rep.Of(&m, k)
	require.True(t, ok)
	assert.Equal(t, plain.ShaftLine, r.ShaftLine)
}

// A catch whose shaft passed level on its way is read there, and is no surer than
// its hold: what passes is not seen better.
func TestACatchIsNoSurerInPassingThanInItsHold(t *testing.T) {
	s := virtual.Default()
	s.Reps = []virtual.RepSpec{{ShaftLineDeg: 6, ElevationDeg: 12}}
	m, k, _ := followedBy(t, s, func(lift float64, l *sight.Look) {
		if lift > 10 { // held, and seen badly
			l.Places[eye.Head].UU, l.Places[eye.Head].VV = 36, 36
		}
	})
	r, ok := rep.Of(&m, k)
	require.True(t, ok)
	require.Less(t, r.Moments.Level, r.Moments.Catch, "read in passing")
	held := m.Held().Line.Sigma
	require.Less(t, m.AtLevel(r.Moments.Level).Line.Sigma, held)
	assert.InDelta(t, held, r.ShaftLine.Sigma, 1e-9)
}
