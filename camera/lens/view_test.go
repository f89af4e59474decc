package lens

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func straight(t *testing.T) View {
	t.Helper()
	v, err := NewView(Camera{Width: 960, Height: 540, Focal: 685.5, Target: Point{480, 270}})
	require.NoError(t, err)
	return v
}

func TestBayAxesInTheStraightPicture(t *testing.T) {
	v := straight(t)
	p, ok := v.Project(Vec{X: 3, Y: 0.3, Z: 0.2})
	require.True(t, ok)
	assert.InDelta(t, 480-685.5*0.1, p.U, 1e-9, "inside is left for a right-hander")
	assert.InDelta(t, 270-685.5*0.2/3, p.V, 1e-9, "up is up")
}

func TestProjectUndoesRay(t *testing.T) {
	for _, left := range []bool{false, true} {
		v, err := NewView(Camera{Width: 960, Height: 540, Focal: 798.9, Target: Point{452.1, 300.7}, Roll: 7, Left: left})
		require.NoError(t, err)
		for _, p := range []Point{{100, 50}, {480, 270}, {900, 500}} {
			q, ok := v.Project(v.At(p, 2.7))
			require.True(t, ok)
			assert.InDelta(t, p.U, q.U, 1e-9)
			assert.InDelta(t, p.V, q.V, 1e-9)
		}
		q, ok := v.Project(Vec{X: 1e6})
		require.True(t, ok)
		assert.InDelta(t, v.TargetPoint().U, q.U, 1e-2)
		assert.InDelta(t, v.TargetPoint().V, q.V, 1e-2)
		assert.InDelta(t, 0, v.right.Dot(v.down), 1e-12)
		assert.InDelta(t, 1, v.right.Len(), 1e-12)
	}
}

// Ray and sphere: check values computed with numpy from t = b ± √D.
func TestReach(t *testing.T) {
	cases := []struct {
		ray, hands Vec
		length     float64
		near, far  float64
		hit        bool
	}{
		{Vec{.1, -.2, 1}, Vec{.2, .1, 3}, .9398, 2.291577109, 3.563823329, true},
		{Vec{.05, .25, 1}, Vec{.1, .15, 2.8}, 1.143, 1.744133347, 3.764649653, true},
		{Vec{0, 0, 1}, Vec{0, 0, 3}, 1, 2, 4, true},
		{Vec{.5, 0, 1}, Vec{0, 0, 3}, .9, 0, 0, false},
	}
	for _, c := range cases {
		near, far, ok := Reach(c.hands, c.ray.Unit(), c.length)
		require.Equal(t, c.hit, ok)
		if ok {
			assert.InDelta(t, c.near, near.Len(), 1e-8)
			assert.InDelta(t, c.far, far.Len(), 1e-8)
		}
	}
}

func TestAnglesUndoDirection(t *testing.T) {
	for _, line := range []float64{-80, -12, 0, 5, 60} {
		for _, el := range []float64{-62, -10, 0, 33} {
			h := Vec{3, .2, -.1}
			l, e := Angles(h, h.Add(Direction(line, el).Mul(.85)))
			assert.InDelta(t, line, l, 1e-9)
			assert.InDelta(t, el, e, 1e-9)
		}
	}
}
