package lens

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A straight camera of 800 px sees (2, 0.4, −0.6) at u = cx − f·y/x and
// v = cy − f·z/x: their derivatives are worked out by hand.
func TestSlopeOfAStraightCamera(t *testing.T) {
	v, err := NewView(Camera{Width: 960, Height: 540, Focal: 800, Target: Point{480, 270}})
	require.NoError(t, err)
	du, dv := v.Slope(Vec{2, 0.4, -0.6})
	for i, want := range [...]Vec{{80, -400, 0}, {-120, 0, -400}} {
		got := [...]Vec{du, dv}[i]
		assert.InDelta(t, want.X, got.X, 1e-9)
		assert.InDelta(t, want.Y, got.Y, 1e-9)
		assert.InDelta(t, want.Z, got.Z, 1e-9)
	}
}

// However the camera is turned, the slope is how far the picture moves when
// the place moves a little (central differences).
func TestSlopeIsHowThePictureMoves(t *testing.T) {
	const h = 1e-5
	for _, left := range []bool{false, true} {
		v, err := NewView(Camera{Width: 960, Height: 540, Focal: 700, Target: Point{430, 190}, Roll: 6, Left: left})
		require.NoError(t, err)
		q := Vec{2.7, 0.5, -0.4}
		du, dv := v.Slope(q)
		along := func(step Vec) (u, w float64) {
			a, ok1 := v.Project(q.Sub(step.Mul(h)))
			b, ok2 := v.Project(q.Add(step.Mul(h)))
			require.True(t, ok1 && ok2)
			return (b.U - a.U) / (2 * h), (b.V - a.V) / (2 * h)
		}
		for _, axis := range []Vec{{X: 1}, {Y: 1}, {Z: 1}} {
			u, w := along(axis)
			assert.InDelta(t, u, du.Dot(axis), 1e-5)
			assert.InDelta(t, w, dv.Dot(axis), 1e-5)
		}
	}
}
