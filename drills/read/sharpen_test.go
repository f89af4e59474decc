package read

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/drills"
)

func TestTheStrikeTellsTheImpact(t *testing.T) {
	const frame = 1.0 / 30
	rep := func() drills.Rep {
		r := drills.Rep{Moments: drills.NoMoments(), Tempo: 3}
		r.Moments.Start, r.Moments.Top, r.Moments.Impact = 10, 10.75, 11
		r.TempoLow, r.TempoHigh = 2.2, 3.8
		return r
	}
	r := rep()
	sharpen(&r, []float64{4, 11.02, 11.6}, frame)
	require.InDelta(t, 11.02, r.Moments.Impact, 1e-9)
	require.InDelta(t, 0.75/0.27, r.Tempo, 1e-9)
	// 95 % of what start and top, evenly within a frame and 12/√2 ms besides,
	// and an impact to 3 ms would give: drawn a hundred thousand times.
	random, inside := rand.New(rand.NewPCG(1, 1)), 0
	moment := func() float64 { return frame*(random.Float64()-0.5) + 0.012/math.Sqrt2*random.NormFloat64() }
	for range 100_000 {
		start, top, impact := moment(), moment(), 0.003*random.NormFloat64()
		if ratio := (0.75 + top - start) / (0.27 + impact - top); ratio > r.TempoLow && ratio < r.TempoHigh {
			inside++
		}
	}
	require.InDelta(t, 0.95, float64(inside)/100_000, 0.015)
	for name, strikes := range map[string][]float64{"none": nil, "the neighbour's": {10.2, 12}, "just too late": {11.1}} {
		r := rep()
		sharpen(&r, strikes, frame)
		require.Equal(t, rep().Moments.Impact, r.Moments.Impact, name)
		require.Equal(t, 3.0, r.Tempo, name)
	}
	r = rep()
	r.Moments.Impact = math.NaN()
	sharpen(&r, []float64{11}, frame)
	require.True(t, math.IsNaN(r.Moments.Impact), "no impact was seen")
}
