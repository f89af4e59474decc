package lens

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Points at the camera's height all fall on the horizon: K(1000, 1000, 640,
// 360) pitched by −5°, y = 0 at 2, 3, 5 and 10 m, v = 447.488664 each time
// (computed with OpenCV's projectPoints).
func TestPointsAtTheLensHeightFallOnTheHorizon(t *testing.T) {
	v, err := NewView(Camera{Width: 1280, Height: 720, Focal: 1000, Target: Point{640, 360 + 1000*math.Tan(radians(5))}})
	require.NoError(t, err)
	for _, z := range []float64{2, 3, 5, 10} {
		for _, y := range []float64{-0.5, 0, 1} {
			p, ok := v.Project(Vec{X: z, Y: y})
			require.True(t, ok)
			assert.InDelta(t, 447.488664, p.V, 1e-6)
		}
	}
}

// Rod of known length with one end known: K(900, 900, 640, 360), one end at
// (0, 0, 3), length 0.9398, the far end seen at (836.667394, 559.476928):
// near (.535642, .543294, 2.451235) in camera axes (computed with numpy).
func TestRodOfKnownLengthWithOneEndKnown(t *testing.T) {
	v, err := NewView(Camera{Width: 1280, Height: 720, Focal: 900, Target: Point{640, 360}})
	require.NoError(t, err)
	near, ok := Meet(Vec{X: 3}, v.Ray(Point{836.667394, 559.476928}), 0.9398, 0)
	require.True(t, ok)
	assert.InDelta(t, 2.451235, near.X, 1e-6)
	assert.InDelta(t, -0.535642, near.Y, 1e-6, "right in the picture is outside")
	assert.InDelta(t, -0.543294, near.Z, 1e-6, "down in the picture is down")
}

// A 7-iron's 0.9398 m at 3 m and 900 px span 282 px (computed).
func TestPixelsFocalLengthAndDistanceAreOneEquation(t *testing.T) {
	assert.InDelta(t, 900, FocalFromLength(281.94, 0.9398, 3), 1e-3)
	assert.InDelta(t, 685.511, FocalFromField(960, 70), 1e-3)
}

func TestUncertaintyGrowsWithEachCause(t *testing.T) {
	v := straight(t)
	hands := v.At(Point{470, 250}, 2.84)
	head, _ := v.Project(hands.Add(Direction(14, 0).Mul(0.85)))
	c := Club{Hands: Point{470, 250}, Head: head, Forward: 2.84, Reach: 0.85}
	line, lift, ok := v.Reading(c)
	require.True(t, ok)
	assert.InDelta(t, 14, line, 1e-9)
	assert.InDelta(t, 0, lift, 1e-9)
	assert.Zero(t, v.Uncertainty(c, Sigmas{}))
	// What each error costs at 14°, 2.84 m, 540 lines: hands 1 px 0.30,
	// head 1 px 0.21, 0.1 m of distance 0.80, target point 5 px 0.42
	// (computed from a drawn bay of the same geometry).
	assert.InDelta(t, 0.30, v.Uncertainty(c, Sigmas{Hands: 1}), 0.03)
	assert.InDelta(t, 0.21, v.Uncertainty(c, Sigmas{Head: 1}), 0.03)
	assert.InDelta(t, 0.80, v.Uncertainty(c, Sigmas{Forward: 0.1}), 0.12)
	assert.InDelta(t, 0.42, v.Uncertainty(c, Sigmas{Target: 5}), 0.05)
}

func TestImpossibleCamerasAreRefused(t *testing.T) {
	for _, c := range []Camera{{}, {Width: 640, Height: 480}, {Width: 640, Height: 480, Focal: math.NaN()},
		{Width: 640, Height: 480, Focal: 500, Roll: 90}, {Width: 640, Height: 480, Focal: 500, Target: Point{U: math.Inf(1)}}} {
		_, err := NewView(c)
		assert.ErrorIs(t, err, ErrCamera)
	}
}

// A left-hander's picture is a right-hander's in the mirror: the camera that
// is rolled clockwise is rolled the other way there.
func TestLeftHandersAreAnalysedInTheMirror(t *testing.T) {
	left, err := NewView(Camera{Width: 960, Height: 540, Focal: 700, Target: Point{452, 300}, Roll: 3, Left: true})
	require.NoError(t, err)
	right, err := NewView(Camera{Width: 960, Height: 540, Focal: 700, Target: Point{960 - 452, 300}, Roll: -3})
	require.NoError(t, err)
	q := Vec{X: 2.5, Y: 0.4, Z: -0.3}
	a, _ := left.Project(q)
	b, _ := right.Project(q)
	assert.InDelta(t, b.U, a.U, 1e-9)
	assert.InDelta(t, b.V, a.V, 1e-9)
	assert.InDelta(t, 960-452, left.TargetPoint().U, 1e-12)
}
