package sight_test

import (
	"math"
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/camera/frame"
	"drillbay/camera/lens"
	"drillbay/camera/sight"
	"drillbay/camera/virtual"
)

// Over the ordinary conditions of a bay, with a player in it, the lines that
// are offered give the target point to 0.5°, or none are offered.
func TestLinesOnTheGroundAreFound(t *testing.T) {
	n := 8
	if os.Getenv("DRILLBAY_LONG") != "" {
		n = 60
	}
	offered, within, worst := 0, 0, 0.0
	for i, s := range virtual.Spread(32, n) {
		s.Scene.Stick = i%3 != 0
		b, err := virtual.New(s)
		require.NoError(t, err)
		lines, p, across, down, err := lens.Along(sight.Edges(pictures(t, s, 0.1, 0.5, 0.05)), s.Width, s.Height)
		if err != nil {
			require.ErrorIs(t, err, lens.ErrNoLines)
			continue
		}
		offered++
		require.GreaterOrEqual(t, len(lines), 2)
		x, y := b.TargetPoint()
		deg := 180 / math.Pi / b.Focal()
		off := math.Hypot(p.U-x, p.V-y) * deg
		require.Less(t, off, 0.5, "placement %d, degrees", i)
		worst = max(worst, off)
		if math.Abs(p.U-x) < 2*across && math.Abs(p.V-y) < 2*down {
			within++
		}
	}
	t.Logf("offered in %d of %d, at worst %.2f° off, within 2 sigma in %d", offered, n, worst, within)
	require.GreaterOrEqual(t, offered, n*7/10)
	require.GreaterOrEqual(t, within, offered*85/100)
}

// A straight edge is where it was drawn, and an edge that something stands in
// front of is one.
func TestEdgesAreWhereTheyAre(t *testing.T) {
	p := frame.New(640, 360, frame.Sub420)
	// Brightness steps along 0.5 x − 0.866 y = −100 (30° against level).
	for y := range 360 {
		for x := range 640 {
			d := 0.5*(float64(x)+0.5) - math.Sqrt(3)/2*(float64(y)+0.5) + 100
			v := 60 + 100*0.5*math.Erfc(-d)
			if x > 280 && x < 330 {
				v = 90
			}
			p.Y[y*p.YStride+x] = byte(v)
		}
	}
	edges := sight.Edges([]*frame.Picture{p})
	require.NotEmpty(t, edges)
	e := edges[0]
	for _, q := range []lens.Point{e.From, e.To} {
		require.InDelta(t, 0, 0.5*q.U-math.Sqrt(3)/2*q.V+100, 0.15, "px off")
	}
	require.Greater(t, e.Length(), 450.0)
	require.Less(t, e.Sd, 1.0)
	require.Empty(t, sight.Edges([]*frame.Picture{frame.New(640, 360, frame.Sub420)}))
	require.Empty(t, sight.Edges(nil))
}
