package app

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/drills"
	"drillbay/drills/runner"
)

// The wedge is as wide as a pinhole camera sees a level club turned by twice the
// uncertainty (Hartley & Zisserman, Multiple View Geometry, §6.1: u = f X / Z), worked
// out here from the places of hands and head.
func TestTheWedgeIsAsWideAsItsUncertainty(t *testing.T) {
	b := Bay{Distance: 3, Field: 70, Club: 0.94, Grip: 0.09, Width: 1280}
	focal := 640 / math.Tan(35*math.Pi/180)
	head := func(degrees float64) float64 {
		a := degrees * math.Pi / 180
		return focal * (0.1 + 0.85*math.Sin(a)) / (3 - 0.85*math.Cos(a))
	}
	for _, line := range []float64{0, 6, -14} {
		for _, sigma := range []float64{0.9, 2, 3.5} {
			r := runner.Done{Rep: drills.Rep{ShaftLine: drills.Reading{Value: line, Sigma: sigma}}}
			want := (head(line+1.96*sigma) - head(line-1.96*sigma)) / 2
			require.InDelta(t, want, wedgeHalf(r, b), 0.03*want+0.5, "%v° ± %v°", line, sigma)
		}
	}
	r := runner.Done{Rep: drills.Rep{ShaftLine: drills.Reading{Value: 3, Sigma: 1}}}
	b.Distance = 0
	require.True(t, math.IsNaN(wedgeHalf(r, b)), "the bay's lengths are not known")
}

// The wedge is drawn from level on, about the shaft's line.
func TestTheWedgeStandsAboutTheShaft(t *testing.T) {
	a := martaPractises()
	a.bay = Bay{Distance: 3, Field: 70, Club: 0.94, Grip: 0.09, Width: 64}
	a.tell(done("a", 20))
	edges := func() (n int) {
		c := a.canvas()
		l := a.top().(*practiceScreen).look
		pos := l.player.At(a.now)
		pos.At = l.rep.Rep.Moments.Level
		c.wedge(Rect{0, 0, 640, 360}, Rect{0, 0, 64, 36}, l.rep, pos, a.bay)
		for _, i := range c.Items {
			if i.Shape == Line {
				n++
			}
		}
		pos.At -= 0.1
		m := len(c.Items)
		c.wedge(Rect{0, 0, 640, 360}, Rect{0, 0, 64, 36}, l.rep, pos, a.bay)
		require.Len(t, c.Items, m, "not before level")
		return n
	}
	require.Equal(t, 6, edges(), "two sides and the far end, each in its casing")
	a.bay.Distance = 0
	require.Zero(t, edges())
}
