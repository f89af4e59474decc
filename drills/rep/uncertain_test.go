package rep_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drillbay/camera/lens"
	"drillbay/camera/sight"
	"drillbay/camera/virtual"
	"drillbay/drills/rep"
)

// Roll and target point, which no picture of a swing tells, make the shaft line as
// unsure as the first-order propagation of the GUM (JCGM 100:2008, 5.1.2) says for
// a club that is seen so in one picture. Roll matters where the club is above
// level.
func TestARepIsAsUnsureAsWhatIsKnownMakesIt(t *testing.T) {
	s := virtual.Default()
	s.Camera.PitchDeg = 4
	s.Reps = []virtual.RepSpec{{ShaftLineDeg: 14, ElevationDeg: 25, Hold: 1}}
	looks, k, _ := seen(t, s, func(float64, *sight.Look) {})
	m, err := k.Setting.Follow(looks, k.Doubt(), false)
	require.NoError(t, err)
	p := m.Poses[m.Hold]
	v := k.Setting.View
	hands, ok := v.Project(p.Hands)
	require.True(t, ok)
	head, ok := v.Project(p.Head)
	require.True(t, ok)
	club := lens.Club{Hands: hands, Head: head, Forward: p.Hands.X, Reach: k.Setting.Reach}
	for name, c := range map[string]struct {
		more func(k *rep.Known)
		of   lens.Sigmas
	}{
		"roll":         {func(k *rep.Known) { k.Roll = 3 }, lens.Sigmas{Roll: 3}},
		"target point": {func(k *rep.Known) { k.Target = 12 }, lens.Sigmas{Target: 12}},
	} {
		t.Run(name, func(t *testing.T) {
			sigma := func(k rep.Known) float64 {
				m, err := k.Setting.Follow(looks, k.Doubt(), false)
				require.NoError(t, err)
				return m.Held().Line.Sigma
			}
			exact := k
			unsure := exact
			c.more(&unsure)
			part := math.Sqrt(math.Pow(sigma(unsure), 2) - math.Pow(sigma(exact), 2))
			want := v.Uncertainty(club, c.of)
			t.Logf("%.3f° in the track, %.3f° in one picture", part, want)
			assert.Greater(t, want, 1.0, "degrees")
			assert.InEpsilon(t, want, part, 0.2)
		})
	}
}

// What is seen right is read right, without a mean error: on either side, level or
// a little below, for right- and left-handers.
func TestShaftLinesOfWhatWasSeenRightHaveNoMeanError(t *testing.T) {
	var sum, n float64
	for _, hand := range []virtual.Hand{virtual.RightHand, virtual.LeftHand} {
		for _, line := range []float64{-12, 0, 12} {
			s := virtual.Default()
			s.Player.Hand = hand
			s.Reps = []virtual.RepSpec{{ShaftLineDeg: line, Hold: 1}}
			m, k, _ := followed(t, s)
			r, ok := rep.Of(&m, k)
			require.True(t, ok)
			require.True(t, r.ShaftLine.OK(), r.Why)
			t.Logf("%v° is read %.2f ± %.2f°", line, r.ShaftLine.Value, r.ShaftLine.Sigma)
			assert.InDelta(t, line, r.ShaftLine.Value, 0.7)
			sum, n = sum+r.ShaftLine.Value-line, n+1
		}
	}
	assert.InDelta(t, 0, sum/n, 0.3, "degrees")
}

// Focal length, distance and the club's length are told by how the club looks as it
// turns. One that is told wrong by its uncertainty is corrected: what was seen
// fits as well as with the right one. Told as if it were sure, it fits worse.
func TestWhatIsSaidToBeUnsureIsCorrectedByWhatIsSeen(t *testing.T) {
	s := virtual.Default()
	s.Camera.PitchDeg = 4
	s.Reps = []virtual.RepSpec{{ShaftLineDeg: 14, Hold: 1}}
	looks, right, _ := seen(t, s, func(float64, *sight.Look) {})
	misfit := func(k rep.Known) float64 {
		m, err := k.Setting.Follow(looks, k.Doubt(), false)
		require.NoError(t, err)
		return m.Misfit
	}
	for name, wrong := range map[string]func(k *rep.Known, sigma float64){
		"focal length": func(k *rep.Known, sigma float64) {
			k.Focal = 0.1 * sigma
			c := k.Setting.View.Camera
			c.Focal *= 1.1
			var err error
			k.Setting.View, err = lens.NewView(c)
			require.NoError(t, err)
		},
		"distance": func(k *rep.Known, sigma float64) { k.Distance, k.Setting.Distance = 0.3*sigma, k.Setting.Distance+0.3 },
		"length":   func(k *rep.Known, sigma float64) { k.Reach, k.Setting.Reach = 0.08*sigma, k.Setting.Reach+0.08 },
	} {
		sure, told := right, right
		wrong(&sure, 0)
		wrong(&told, 1)
		assert.InEpsilon(t, misfit(right), misfit(told), 0.3, name)
		assert.Greater(t, misfit(sure), 1.4*misfit(told), name)
	}
}
