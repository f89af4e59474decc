package rep

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drillbay/camera/lens"
	"drillbay/camera/sight"
	"drillbay/drills"
)

// The motion before a catch was followed to the hands at the catch: where
// those are doubtful, a motion that goes smoothly makes nothing sure.
func TestAMotionIsNoSurerThanTheHandsItEndsIn(t *testing.T) {
	v, err := lens.NewView(lens.Camera{Width: 960, Height: 540, Focal: 600, Target: lens.Point{U: 480, V: 270}})
	require.NoError(t, err)
	k := Known{Setting: sight.Setting{View: v, Distance: 3, Reach: 0.85}, Scale: true, Band: 8, Target: 2, Roll: 0.3, Focal: 0.01, Reach: 0.008, Forward: 0.06, Distance: 0.06}
	hands := lens.Point{U: 480, V: 250}
	club := lens.Club{Hands: hands, Head: lens.Point{U: 502, V: 250}, Forward: 2.7, Reach: 0.85}
	same, _, ok := v.Reading(club) // the motion and the hold agree
	require.True(t, ok)
	sigma := func(evidence, away float64) float64 {
		tr := sight.Track{Stance: sight.Stance{Hands: lens.Point{U: 480, V: 270}}}
		for i := range 31 {
			part := float64(i) / 30
			tr.Samples = append(tr.Samples, sight.Sample{At: part / 2, Hands: hands, Line: same, Lift: -50 + 50*part, Arc: 14 + 60*part, Fit: 5})
		}
		tr.Held = &sight.Held{Hands: hands, Head: club.Head, AcrossHands: 2, AcrossHead: 2, Sum: evidence, Away: away}
		r := drills.Rep{Moments: drills.NoMoments()}
		line(&r, tr, k)
		require.True(t, r.ShaftLine.OK(), r.Why)
		return r.ShaftLine.Sigma
	}
	sure := sigma(2*plain, 1)
	doubted := func(degrees float64) float64 { return 0.99 * math.Hypot(sure, held*alike*degrees) }
	assert.Equal(t, sure, sigma(plain, mostAway), "nothing is doubted up to the limits")
	assert.GreaterOrEqual(t, sigma(plain/2, 1), doubted(doubtful/2))
	assert.GreaterOrEqual(t, sigma(2*plain, mostAway+1.2), doubted(1.2*elsewhere))
}
