package lens

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// hung is the picture of a plumb line at a place from the lens, bay axes.
func hung(t *testing.T, v View, at Vec) Hung {
	t.Helper()
	p, ok := v.Project(at.Add(Vec{Z: 0.4}))
	require.True(t, ok)
	q, ok := v.Project(at.Add(Vec{Z: -0.4}))
	require.True(t, ok)
	return Hung{At: Point{(p.U + q.U) / 2, (p.V + q.V) / 2}, Lean: degrees(math.Atan2(q.U-p.U, q.V-p.V)), Sd: 0.1}
}

// Whatever the camera's turn, tilt and roll, and wherever the club hangs, the
// roll is the camera's.
func TestRollFollowsFromAPlumbLine(t *testing.T) {
	for _, roll := range []float64{-6, -1, 0, 2.5, 8} {
		for _, target := range []Point{{640, 360}, {560, 210}, {760, 420}} {
			v, err := NewView(Camera{Width: 1280, Height: 720, Focal: 914, Target: target, Roll: roll})
			require.NoError(t, err)
			for _, at := range []Vec{{3, 0, -0.2}, {3, 0.7, -0.1}, {2.5, -0.8, -0.4}} {
				got, sigma, err := RollFromHung(v.Camera, hung(t, v, at), 3, 0.02)
				require.NoError(t, err)
				assert.InDelta(t, roll, got, 0.05, "%v %v", target, at)
				assert.Greater(t, sigma, 0.3, "a club never hangs truer than that")
				assert.Less(t, sigma, 0.7)
			}
		}
	}
}

// A camera that is rolled clockwise sees a plumb line's lower end to the
// right: the sign is that of the roll everywhere.
func TestAClockwiseRollIsPositive(t *testing.T) {
	got, _, err := RollFromHung(Camera{Width: 1280, Height: 720, Focal: 914, Target: Point{640, 360}}, Hung{At: Point{640, 400}, Lean: 3}, 3, 0.02)
	require.NoError(t, err)
	assert.InDelta(t, 3, got, 0.01)
}

// Away from the middle, a target point that is not known well makes the roll
// less sure.
func TestTheRollsUncertaintyCoversTheTilts(t *testing.T) {
	v, err := NewView(Camera{Width: 1280, Height: 720, Focal: 914, Target: Point{600, 250}, Roll: 2})
	require.NoError(t, err)
	h := hung(t, v, Vec{3, 0.9, -0.2})
	_, sure, err := RollFromHung(v.Camera, h, 3, 0.02)
	require.NoError(t, err)
	_, unsure, err := RollFromHung(v.Camera, h, 90, 0.02)
	require.NoError(t, err)
	require.Greater(t, unsure, 1.5*sure)
	r := rand.New(rand.NewPCG(1, 2))
	within := 0
	for range 400 {
		c := v.Camera
		c.Target.U, c.Target.V = c.Target.U+90*r.NormFloat64(), c.Target.V+90*r.NormFloat64()
		n := h
		n.Lean += math.Hypot(h.Sd, hangsTrue) * r.NormFloat64()
		got, s, err := RollFromHung(c, n, 90, 0.02)
		require.NoError(t, err)
		if math.Abs(got-2) < s {
			within++
		}
	}
	require.InDelta(t, 0.68, float64(within)/400, 0.1)
	_, _, err = RollFromHung(v.Camera, Hung{At: Point{600, 300}, Lean: 60}, 3, 0.02)
	require.ErrorIs(t, err, ErrHung)
}
