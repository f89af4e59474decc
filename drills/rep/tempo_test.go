package rep

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat"

	"drillbay/drills"
)

// swung is a swing by its three moments, s.
func swung(start, top, impact float64) drills.Rep {
	r := drills.Rep{Moments: drills.NoMoments()}
	r.Moments.Start, r.Moments.Top, r.Moments.Impact = start, top, impact
	return r
}

// An ordinary swing takes about three times as long back as down, 0.75 s and
// 0.25 s (common practice). Cochran & Stobbs, The Search for the Perfect Swing
// (1968), give 0.82 s and 0.23 s (values from memory).
func TestTheTempoRatioIsBackToDown(t *testing.T) {
	r := swung(10, 10.75, 11)
	tempo(&r, 1/60.0)
	assert.InDelta(t, 3, r.Tempo, 1e-9)
	r = swung(0, 0.82, 1.05)
	tempo(&r, 1/60.0)
	assert.InDelta(t, 3.565, r.Tempo, 1e-3)
	for _, quick := range [][2]float64{{0.75, 0.85}, {0.22, 0.5}} {
		r = swung(0, quick[0], quick[1])
		tempo(&r, 1/60.0)
		assert.InDelta(t, quick[0]/(quick[1]-quick[0]), r.Tempo, 1e-9)
	}
	for name, r := range map[string]drills.Rep{
		"no top": swung(0, math.NaN(), 1), "no impact": swung(0, 0.75, math.NaN()), "no start": swung(math.NaN(), 0.75, 1),
		"no backswing": swung(0, 0.2, 0.5), "no downswing": swung(0, 0.75, 0.83),
	} {
		tempo(&r, 1/60.0)
		assert.Zero(t, r.Tempo, name)
		assert.Zero(t, r.TempoHigh, name)
	}
}

// A moment lies anywhere within a frame. Of a swing of 0.75 s and 0.25 s, 95 % of
// the ratios then lie within 0.368 of 3 at 30 frames a second, and within 0.188 at
// 60 (JCGM 101:2008, propagation of distributions by a Monte Carlo; computed with
// numpy). The interval that is told is at least so wide.
func TestTheTempoIntervalHoldsWhatTheFrameTimeAllows(t *testing.T) {
	for _, c := range []struct{ rate, within float64 }{{30, 0.368}, {60, 0.188}} {
		r := swung(0, 0.75, 1)
		tempo(&r, 1/c.rate)
		assert.Less(t, r.TempoLow, 3-c.within, "%v frames a second", c.rate)
		assert.Greater(t, r.TempoHigh, 3+c.within, "%v frames a second", c.rate)
	}
}

// The same Monte Carlo with all that the interval is said to allow for: besides
// the frame, each duration is read to 12 ms. The true ratio lies in 95 of 100
// intervals, and they are no wider than that needs.
func TestTheTempoIntervalHoldsTheTruthInNineteenOfTwenty(t *testing.T) {
	for _, rate := range []float64{30, 60, 120} {
		dice := rand.New(rand.NewPCG(uint64(rate), 101))
		const swings = 20000
		held := 0
		var ratios, halves []float64
		for range swings {
			off := func() float64 { return (dice.Float64()-0.5)/rate + 0.012/math.Sqrt2*dice.NormFloat64() }
			r := swung(off(), 0.75+off(), 1+off())
			tempo(&r, 1/rate)
			require.Positive(t, r.Tempo)
			ratios, halves = append(ratios, r.Tempo), append(halves, (r.TempoHigh-r.TempoLow)/2/r.Tempo*3)
			if r.TempoLow <= 3 && 3 <= r.TempoHigh {
				held++
			}
		}
		share := float64(held) / swings
		assert.Greater(t, share, 0.94, "%v frames a second", rate)
		assert.Less(t, share, 0.985, "%v frames a second", rate)
		assert.InEpsilon(t, 1.96*stat.StdDev(ratios, nil), stat.Mean(halves, nil), 0.15, "%v frames a second", rate)
	}
}
