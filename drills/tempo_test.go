package drills

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
)

// An ordinary swing takes about 0.75 s back and 0.25 s down (common practice).
func swing(start, top, impact float64) *Rep {
	r := &Rep{Moments: NoMoments()}
	r.Moments.Start, r.Moments.Top, r.Moments.Impact = start, top, impact
	return r
}

func TestTheTempoRatioIsBackToDown(t *testing.T) {
	r := swing(10, 10.75, 11)
	assert.True(t, r.SetTempo(0.01, 0.01))
	assert.InDelta(t, 3, r.Tempo, 1e-9)
	for name, r := range map[string]*Rep{
		"no start": swing(math.NaN(), 0.75, 1), "no top": swing(0, math.NaN(), 1), "no impact": swing(0, 0.75, math.NaN()),
		"hardly back": swing(0, 0.2, 0.5), "hardly down": swing(0, 0.75, 0.83),
	} {
		r.Tempo, r.TempoLow, r.TempoHigh = 3, 2, 4
		assert.False(t, r.SetTempo(0.01, 0.01), name)
		assert.Equal(t, [3]float64{3, 2, 4}, [3]float64{r.Tempo, r.TempoLow, r.TempoHigh}, name)
	}
	assert.True(t, swing(0, 0.21, 0.30).SetTempo(0.01, 0.01), "a quick one")
}

// 95 % of the ratios of moments with these deviations lie within the interval (propagation
// of distributions by a Monte Carlo: JCGM 101:2008), whether the impact is read off the
// pictures like the others or heard.
func TestTheTempoIntervalHoldsNineteenOfTwenty(t *testing.T) {
	dice := rand.New(rand.NewPCG(1, 2))
	for _, impact := range []float64{0.012, 0.003, 0.006} {
		r, held := swing(0, 0.75, 1), 0
		assert.True(t, r.SetTempo(0.012, impact))
		assert.InDelta(t, 3, (r.TempoLow+r.TempoHigh)/2, 1e-9)
		for range 100_000 {
			top := 0.75 + 0.012*dice.NormFloat64()
			ratio := (top - 0.012*dice.NormFloat64()) / (1 + impact*dice.NormFloat64() - top)
			if ratio > r.TempoLow && ratio < r.TempoHigh {
				held++
			}
		}
		assert.InDelta(t, 0.95, float64(held)/100_000, 0.006, "impact to %v s", impact)
	}
}

// A uniform deviation within a frame is frame / √12 (GUM, JCGM 100:2008, 4.3.7). Two
// moments together are read to 12 ms besides.
func TestAMomentLiesWithinAFrame(t *testing.T) {
	assert.InDelta(t, 0.012, math.Sqrt2*MomentSigma(0), 1e-12)
	assert.InDelta(t, (1.0/30)/math.Sqrt(12), math.Sqrt(math.Pow(MomentSigma(1.0/30), 2)-math.Pow(MomentSigma(0), 2)), 1e-12)
}
