package rep_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drillbay/camera/virtual"
	"drillbay/drills"
	"drillbay/drills/rep"
)

// A track of places that are right gives shaft line, depth and height of the
// drawn club and hands within what it says of itself, on either side of the
// band and for either hand; the verdict is that of the drawn line.
func TestARepOfWhatWasSeenRightIsRight(t *testing.T) {
	for _, hand := range []virtual.Hand{virtual.RightHand, virtual.LeftHand} {
		for _, c := range []struct {
			line float64
			want drills.Verdict
		}{{-15, drills.Outside}, {2, drills.InLine}, {15, drills.Inside}} {
			s := virtual.Default()
			s.Player.Hand = hand
			s.Reps = []virtual.RepSpec{{ShaftLineDeg: c.line, Hold: 1}}
			still, err := virtual.New(s)
			require.NoError(t, err)
			s.Reps[0].HandsY = still.Truth(0).Hands[1] + 0.09 // deep
			m, k, b := followed(t, s)
			r, ok := rep.Of(&m, k)
			require.True(t, ok)
			assert.Equal(t, c.want, r.Verdict, "%v° of a %s-hander: %s", c.line, hand, r.Why)
			require.True(t, r.ShaftLine.OK())
			assert.InDelta(t, c.line, r.ShaftLine.Value, 2*r.ShaftLine.Sigma+0.1)
			e := b.Events()[0]
			home, at := b.Truth(e.StillFrom), b.Truth(e.Catch+0.1)
			assert.InDelta(t, 100*(at.Hands[1]-home.Hands[1]), r.Depth.Value, 2*r.Depth.Sigma)
			assert.InDelta(t, 100*(at.Hands[2]-home.Hands[2]), r.Height.Value, 2*r.Height.Sigma)
			assert.Greater(t, r.Depth.Value, 5.0)
			assert.Less(t, r.Depth.Sigma, 3.0)
			assert.Greater(t, r.Height.Sigma, 0.2, "cm")
			assert.Less(t, r.Height.Sigma, 5.0)
		}
	}
}

// A club that stops more than 12° before level is short: its line is not told.
func TestAShortBackswingIsShort(t *testing.T) {
	for lift, want := range map[float64]drills.Verdict{-25: drills.Short, -15: drills.Short, -12.8: drills.Short, -9: drills.InLine, -5: drills.InLine} {
		s := virtual.Default()
		s.Reps = []virtual.RepSpec{{ElevationDeg: lift, Hold: 1}}
		m, k, _ := followed(t, s)
		r, ok := rep.Of(&m, k)
		require.True(t, ok)
		assert.Equal(t, want, r.Verdict, "stopped at %v°", lift)
		assert.Equal(t, want != drills.Short, r.ShaftLine.OK())
		assert.InDelta(t, lift, r.Elevation.Value, 3)
		if want == drills.Short { // one-sided 95 % are 1.645 sigma
			assert.Equal(t, r.Elevation.Value+1.645*r.Elevation.Sigma > -12, r.Just, "%v°: %.2f ± %.2f", lift, r.Elevation.Value, r.Elevation.Sigma)
		}
	}
}

// Without a distance and a field of view there is no angle, whatever was seen,
// and the reason is told.
func TestWithoutAScaleThereIsNoAngle(t *testing.T) {
	s := virtual.Default()
	s.Reps = []virtual.RepSpec{{ShaftLineDeg: 6, Hold: 1}}
	m, k, _ := followed(t, s)
	k.Scale = false
	r, ok := rep.Of(&m, k)
	require.True(t, ok)
	assert.False(t, r.ShaftLine.OK())
	assert.Equal(t, drills.NoReading, r.Verdict)
	assert.Equal(t, rep.NoScale, r.Why)
	assert.Equal(t, drills.Swung, r.Manner, "how it was swung needs no scale")
}
