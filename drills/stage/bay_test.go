package stage

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/camera/lens"
	"drillbay/camera/virtual"
	"drillbay/drills"
	"drillbay/drills/bay"
	"drillbay/drills/measure"
)

// Two lines on the ground of the virtual bay meet in its target point, which
// the bay knows by a projection of its own.
func TestLinesOnTheGroundGiveTheTargetPoint(t *testing.T) {
	s := Practice(1, 1280, 720, 30)
	s.Camera.YawDeg, s.Camera.PitchDeg = 3, -4
	b, err := virtual.New(s)
	require.NoError(t, err)
	x, y := b.TargetPoint()
	set, err := BayOf(s)
	require.NoError(t, err)
	target, err := bay.Meet(set.Lines, s.Width, s.Height)
	require.NoError(t, err)
	require.InDelta(t, x, target.X, 0.01)
	require.InDelta(t, y, target.Y, 0.01)
	require.Greater(t, target.Sd, 0.5)
	_, err = bay.Meet(set.Lines[:1], s.Width, s.Height)
	require.Error(t, err)
	far := []bay.Segment{{A: drills.Pixel{X: 100, Y: 600}, B: drills.Pixel{X: 150, Y: 300}}, {A: drills.Pixel{X: 700, Y: 600}, B: drills.Pixel{X: 700, Y: 300}}}
	_, err = bay.Meet(far, s.Width, s.Height)
	require.ErrorContains(t, err, "outside the picture")
}

// The way to move the camera is that from the lens to the hands, as the
// virtual bay has placed them.
func TestTheCameraIsMovedToTheHands(t *testing.T) {
	for _, hand := range []virtual.Hand{virtual.RightHand, virtual.LeftHand} {
		s := Practice(1, 1280, 720, 30)
		s.Player.Hand, s.Player.Sway = hand, 0
		s.Camera.Lateral, s.Camera.Height, s.Camera.YawDeg = 0.30, 0.62, 2
		b, err := virtual.New(s)
		require.NoError(t, err)
		set, err := BayOf(s)
		require.NoError(t, err)
		truth, at := b.Truth(b.Events()[0].StillFrom+0.3), b.Lens()
		h := drills.Right
		if hand == virtual.LeftHand {
			h = drills.Left
		}
		o, err := bay.OffsetOf(set, drills.Pixel{X: truth.HandsPX[0], Y: truth.HandsPX[1]}, h)
		require.NoError(t, err)
		require.InDelta(t, 100*(truth.Hands[2]-at[2]), o.UpCm, 0.6, hand)
		require.InDelta(t, -100*(truth.Hands[1]-at[1]), o.NearCm, 0.6, hand)
		require.Greater(t, o.SigmaNow, o.SigmaThere)
		require.Less(t, o.SigmaThere, drills.MaxSigma)
	}
}

func TestWithoutScaleNoUncertaintyIsPromised(t *testing.T) {
	b := bay.Bay{Width: 1280, Height: 720, Target: drills.Pixel{X: 640, Y: 360}}
	o, err := bay.OffsetOf(b, drills.Pixel{X: 650, Y: 350}, drills.Right)
	require.NoError(t, err)
	require.True(t, math.IsNaN(o.SigmaNow))
}

// A bay's points are px of the picture that it was set in.
func TestABayFitsAnotherSizeOfPicture(t *testing.T) {
	b := bay.Bay{Width: 1280, Height: 720, Distance: 3, Target: drills.Pixel{X: 700, Y: 300}, TargetSd: 4}
	k, err := bay.Known(b, drills.Right, 0, 640, 360)
	require.NoError(t, err)
	require.Equal(t, lens.Point{U: 350, V: 150}, k.Setting.View.Target)
	require.InDelta(t, 2, k.Target, 1e-9)
	k, err = bay.Known(b, drills.Right, 1.10, 640, 360)
	require.NoError(t, err)
	require.InDelta(t, 1.10-measure.DefaultGrip, k.Setting.Reach, 1e-9, "the player's own club")
	b.Distance = 0.2
	_, err = bay.Known(b, drills.Right, 0, 640, 360)
	require.ErrorIs(t, err, measure.ErrBay)
}
