package lens

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func offsetView(t *testing.T, left bool) View {
	t.Helper()
	v, err := NewView(Camera{Width: 1280, Height: 720, Focal: 914, Target: Point{655, 340}, Roll: 1.5, Left: left})
	require.NoError(t, err)
	return v
}

// Hands that are 12 cm above the lens and 5 cm toward the player need the
// camera 12 cm higher and 5 cm nearer the player; the angles are those of the
// right triangles (atan 0.12/3 = 2.2906°, atan 0.05/3 = 0.9548°, computed).
func TestTheCameraIsMovedToTheLineOfTheHands(t *testing.T) {
	for _, left := range []bool{false, true} {
		v := offsetView(t, left)
		p, ok := v.Project(Vec{3, 0.05, 0.12})
		require.True(t, ok)
		o, err := v.OffsetOf(p, 3)
		require.NoError(t, err)
		require.InDelta(t, 0.12, o.Up, 1e-9)
		require.InDelta(t, -0.05, o.Near, 1e-9)
		require.InDelta(t, 2.2906, o.UpAngle, 1e-3)
		require.InDelta(t, -0.9548, o.NearAngle, 1e-3)
	}
}

func TestHandsOnTheTargetPointNeedNoMove(t *testing.T) {
	v := offsetView(t, true)
	o, err := v.OffsetOf(v.TargetPoint(), 3.2)
	require.NoError(t, err)
	require.InDelta(t, 0, o.Up, 1e-12)
	require.InDelta(t, 0, o.Near, 1e-12)
}

func TestHandsFarOffAreRefused(t *testing.T) {
	v := offsetView(t, false)
	_, err := v.OffsetOf(Point{9e5, 340}, 3)
	require.ErrorIs(t, err, ErrBehind)
	_, err = v.OffsetOf(Point{640, 340}, 0)
	require.ErrorIs(t, err, ErrBehind)
}

// A lens that is off makes the reading less sure, for the distance and the
// club's length then matter; it never makes it surer.
func TestAnOffsetCostsCertainty(t *testing.T) {
	v := offsetView(t, false)
	s := Sigmas{Hands: 2, Head: 2, Forward: 0.08, Reach: 0.008, Target: 2.5, Roll: 0.3, Focal: 0.01}
	last := 0.0
	for _, y := range []float64{0.05, 0.2, 0.4, 0.6} {
		p, ok := v.Project(Vec{3, y, 0})
		require.True(t, ok)
		now, there := v.Foresee(p, 3, 0.85, s)
		require.Greater(t, now, there)
		require.Greater(t, now, last)
		last = now
	}
}
