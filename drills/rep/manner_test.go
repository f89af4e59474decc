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
	return followedWhere(t, s, func(lift float64) bool { return true })
}

// followedWhere is followed by an eye that sees the head of the club only at some
// elevations of the shaft on the way back, degrees.
func followedWhere(t *testing.T, s virtual.Setup, seen func(lift float64) bool) (sight.Motion, rep.Known, *virtual.Bay) {
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
			if p == eye.Head && at > e.BackStart && !seen(w.ElevationDeg) {
				continue
			}
			l.Places[p] = eye.Place{U: px[0], V: px[1], UU: 0.25, VV: 0.25, Here: 0.97, Seen: 0.95}
		}
		looks = append(looks, l)
	}
	m, err := k.Setting.Follow(looks, k.Doubt(), s.Drill == virtual.Ordinary)
	require.NoError(t, err)
	return m, k, b
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
			assert.Equal(t, c.want, r.Manner)
			assert.False(t, math.IsNaN(r.Smoothness))
		})
	}
}

// A swing of the usual tempo is read at 30 frames a second, though its head is
// seen twice or three times about level; where it passed unseen, there is no
// reading.
func TestASwingIsReadWhereItsHeadWasSeenAboutLevel(t *testing.T) {
	s := virtual.Default()
	s.Drill, s.Arms = virtual.Ordinary, virtual.BothArms
	for _, c := range []struct {
		back   float64 // s
		hidden float64 // degrees each way of level
		why    string  // no reading
	}{{0.75, 0, ""}, {1, 0, ""}, {1, 22, "the club passed level unseen"}} {
		s.Reps = []virtual.RepSpec{{ShaftLineDeg: 5, Back: c.back}}
		m, k, _ := followedWhere(t, s, func(lift float64) bool { return math.Abs(lift) >= c.hidden })
		r, ok := rep.Of(&m, k)
		require.True(t, ok)
		assert.Equal(t, c.why, r.Why, "back in %g s, hidden within %g°", c.back, c.hidden)
		if c.why == "" {
			assert.InDelta(t, 5, r.ShaftLine.Value, 2*r.ShaftLine.Sigma)
		}
	}
}

// A swing's shaft line is the track's at level, without the mean error of a head
// in passing (1.2°, measured on drawn and rendered swings), and as unsure as
// those differ.
func TestASwingIsReadWithoutTheMeanErrorInPassing(t *testing.T) {
	s := virtual.Default()
	s.Drill, s.Arms = virtual.Ordinary, virtual.BothArms
	s.Reps = []virtual.RepSpec{{ShaftLineDeg: 5, Back: 1.3}}
	m, k, _ := followed(t, s)
	r, ok := rep.Of(&m, k)
	require.True(t, ok)
	require.True(t, r.ShaftLine.OK(), r.Why)
	seen := m.AtLevel(r.Moments.Level).Line
	assert.InDelta(t, seen.Value+1.2, r.ShaftLine.Value, 1e-9)
	assert.InDelta(t, math.Hypot(seen.Sigma, 1.8), r.ShaftLine.Sigma, 1e-9)
}
