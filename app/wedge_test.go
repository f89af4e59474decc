package app

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/drills"
	"drillbay/drills/runner"
)

// The wedge lies about the reading, spans 1.96 standard deviations to each side
// (95 % of a normal distribution: NIST/SEMATECH e-Handbook, 1.3.6.7.1), and inside
// is where the player stands.
func TestTheWedgeSpansWhatIsPossible(t *testing.T) {
	a := martaPractises()
	wedge := func(line, sigma float64, hand drills.Hand) (middle, half float64, there bool) {
		c := a.canvas()
		v := drills.InLine
		c.wedge(Rect{0, 0, 720, 400}, runner.Done{Rep: drills.Rep{Verdict: v, ShaftLine: drills.Reading{Value: line, Sigma: sigma}}}, 8, hand)
		for _, i := range c.Items {
			if i.Shape == Wedge {
				long := math.Hypot(i.W-i.X, i.H-i.Y)
				return math.Atan2(i.W-i.X, i.H-i.Y) * 180 / math.Pi, math.Atan(i.R/long) * 180 / math.Pi, true
			}
		}
		return 0, 0, false
	}
	for _, line := range []float64{0, 6, -14} {
		for _, sigma := range []float64{1.5, 2, 3.5} {
			middle, half, _ := wedge(line, sigma, drills.Right)
			require.InDelta(t, -line, middle, 1e-6, "inside lies at the left of a right-hander's picture")
			require.InDelta(t, 1.96*sigma, half, 1e-6)
			middle, _, _ = wedge(line, sigma, drills.Left)
			require.InDelta(t, line, middle, 1e-6)
		}
	}
	_, _, there := wedge(math.NaN(), math.NaN(), drills.Right)
	require.False(t, there, "without a reading nothing is possible to draw")
}
