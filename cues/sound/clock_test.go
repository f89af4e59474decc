package sound

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/cues"
)

// Over eight hours a card whose clock is 300 ppm off goes nine seconds away
// from the session's clock; when its samples are heard is known to 2 ms all the
// while. Cards are usually within 100 ppm (common practice).
func TestTheClockFollowsACardThatDrifts(t *testing.T) {
	const block = 2400 // samples drawn at once, 50 ms
	for _, ppm := range []float64{-300, -20, 300} {
		random := rand.New(rand.NewPCG(7, uint64(ppm+1000)))
		c := clock{delay: buffered}
		heard := func(position int64) float64 { // truly
			return 5 + float64(position)/cues.Rate*(1+ppm*1e-6) + buffered + float64(cues.Delay)/cues.Rate
		}
		worst, position := 0.0, int64(0)
		for position < 8*3600*cues.Rate {
			late := random.ExpFloat64() * 0.002
			if random.IntN(50) == 0 {
				late += 0.03
			}
			c.drawn(heard(position)-buffered-float64(cues.Delay)/cues.Rate+late, position)
			position += block
			if position > 64*block {
				worst = max(worst, math.Abs(c.zero()+float64(position)/cues.Rate-heard(position)))
			}
		}
		away := heard(position) - heard(0) - float64(position)/cues.Rate
		t.Logf("%+.0f ppm: %.2f s away after eight hours, known to %.2f ms", ppm, away, worst*1000)
		require.Less(t, worst, 0.002)
	}
}
