package sight_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/camera/lens"
	"drillbay/camera/sight"
	"drillbay/camera/virtual"
)

// On drawn bays seen from the front, with a mat and a player on it, the roll is
// right within what it says, or none is told.
func TestTheRollOfDrawnBaysFaceOn(t *testing.T) {
	told, worst := 0, 0.0
	r := rand.New(rand.NewPCG(1, 2))
	for i, s := range virtual.Spread(33, 12) {
		s.Light.Kind, s.Scene.Stick = virtual.Outdoor, i%2 == 0
		if i%3 == 0 {
			s.Light.Kind = virtual.Indoor
		}
		s.Camera = virtual.Camera{Distance: 3 + r.Float64(), Height: 0.85, HFOVDeg: 70, FaceOn: true, RollDeg: 6*r.Float64() - 3, YawDeg: 6*r.Float64() - 3, PitchDeg: 4*r.Float64() - 2}
		_, roll, sigma, err := lens.LevelBy(sight.Edges(pictures(t, s, 0.1, 0.5, 0.05)), s.Width, s.Height)
		if err != nil {
			continue
		}
		told++
		worst = max(worst, math.Abs(roll-s.Camera.RollDeg))
		require.Less(t, math.Abs(roll-s.Camera.RollDeg), max(3*sigma, 0.3), "bay %d: %.2f ± %.2f of %.2f", i, roll, sigma, s.Camera.RollDeg)
	}
	t.Logf("told in %d of 12, at worst %.2f° off", told, worst)
	require.GreaterOrEqual(t, told, 6)
}
