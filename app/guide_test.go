package app

import (
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/camera/sight"
	"drillbay/drills"
	"drillbay/drills/bay"
)

// A camera that is off is told over the live picture, at address only, until it
// stands well.
func TestTheLensGuideComesWhenTheCameraIsOff(t *testing.T) {
	a := martaPractises()
	for range 4 {
		a.key(PageOn)
	}
	a.App.bay = bay.Bay{Width: 64, Height: 36, Target: drills.Pixel{X: 30, Y: 12}, Club: 0.94, Grip: 0.09, Distance: 3, Set: true}
	a.hands = drills.Pixel{X: 26, Y: 18}
	a.offset = bay.Offset{UpCm: -19, NearCm: 11, Cm: 2, Angle: 4.2}
	a.snap.Phase = sight.Address
	const says = "Camera off: lower it 19 cm, 11 cm nearer the ball"
	require.True(t, a.step().Says(says))
	a.snap.Phase = sight.Back
	require.False(t, a.step().Says(says), "not while somebody swings")
	a.snap.Phase, a.offset = sight.Address, bay.Offset{UpCm: 1, NearCm: 1, Cm: 2, Angle: 0.4}
	require.False(t, a.step().Says(says))
	for _, text := range a.step().Texts() {
		require.NotContains(t, text, "Camera off")
	}
}
