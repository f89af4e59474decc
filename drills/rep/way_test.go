package rep

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// way samples an angle, degrees, over a second by a share of the way at a share of
// the time.
func way(n int, of func(x float64) float64) (at, arc []float64) {
	for i := range n + 1 {
		x := float64(i) / float64(n)
		at, arc = append(at, 10+x), append(arc, 20+100*of(x))
	}
	return at, arc
}

// A minimum-jerk movement, s = 10τ³ − 15τ⁴ + 6τ⁵ (Flash & Hogan 1985), takes 0.282
// of its time for the last 14 % of its way (s(0.718) = 0.86); an even one 0.14; one whose speed grows
// evenly until it is stopped 1 − √0.86 = 0.073.
func TestTheTimeOfTheLastPartOfTheWay(t *testing.T) {
	jerk := func(x float64) float64 { return x * x * x * (10 - 15*x + 6*x*x) }
	for name, c := range map[string]struct {
		of   func(x float64) float64
		want float64
	}{"minimum jerk": {jerk, 0.2819}, "even": {func(x float64) float64 { return x }, 0.14}, "stopped": {func(x float64) float64 { return x * x }, 0.0726}} {
		at, arc := way(400, c.of)
		assert.InDelta(t, c.want, lastShare(at, arc), 0.003, name)
		at, arc = way(30, c.of)
		assert.InDelta(t, c.want, lastShare(at, arc), 0.006, "%s at 30 frames a second", name)
	}
	assert.InDelta(t, 0.5, jerk(0.5), 1e-12, "s(0.5), as published")
	// Two samples, and one jump over the limit.
	assert.InDelta(t, 0.14, lastShare([]float64{0, 1}, []float64{0, 100}), 1e-9)
	assert.InDelta(t, 0.57, lastShare([]float64{0, 0.5, 1}, []float64{0, 100, 100}), 1e-9)
}

// A pause in the middle of the way is a dwell; near either end it is not. An even
// motion of 100° a second stays within 6 % of its way for 0.06 s.
func TestADwellOnTheWay(t *testing.T) {
	paused := func(where float64) (at, arc []float64) { // 0.3 s
		for i := range 1301 {
			x := float64(i) / 1000
			at = append(at, x)
			switch {
			case x < where:
				arc = append(arc, 100*x)
			case x < where+0.3:
				arc = append(arc, 100*where)
			default:
				arc = append(arc, 100*(x-0.3))
			}
		}
		return at, arc
	}
	for where, want := range map[float64]float64{0.5: 0.36, 0.3: 0.36, 0.75: 0.36, 0.1: 0.06, 0.93: 0.06} {
		at, arc := paused(where)
		assert.InDelta(t, want, dwells(at, arc), 0.004, "a pause after %v of the way", where)
	}
	at, arc := way(1000, func(x float64) float64 { return x })
	assert.InDelta(t, 0.06, dwells(at, arc), 0.002)
	at, arc = way(3, func(x float64) float64 { return math.Round(x) })
	assert.Zero(t, dwells(at, arc), "nothing between the ends")
}

func TestAnArcThatNeverFalls(t *testing.T) {
	arc := []float64{0, 2, 1, 3, 2.5, 4}
	rise(arc)
	assert.Equal(t, []float64{0, 1.5, 1.5, 2.75, 2.75, 4}, arc)
	arc = []float64{3, 1}
	rise(arc)
	assert.Equal(t, []float64{2, 2}, arc)
}

func TestTheArcBetweenSamples(t *testing.T) {
	at, arc := []float64{1, 2, 4}, []float64{0, 10, 40}
	for x, want := range map[float64]float64{0: 0, 1: 0, 1.5: 5, 2: 10, 3: 25, 3.5: 32.5, 4: 40, 9: 40} {
		assert.InDelta(t, want, turned(at, arc, x), 1e-12, "at %v s", x)
	}
}

// 100° in a second are 100° a second all the way, sixty times and at the end; what
// turns back has no speed; the mean is taken over 0.04 s each way, or over a
// twentieth of the time where that is longer.
func TestTheSpeedOfTheClub(t *testing.T) {
	at, arc := way(30, func(x float64) float64 { return x })
	v := speeds(at, arc)
	require.Len(t, v, 61)
	for _, s := range v {
		assert.InDelta(t, 100, s, 1e-6)
	}
	at, arc = way(30, func(x float64) float64 { return -x })
	for _, s := range speeds(at, arc) {
		assert.Zero(t, s)
	}
	// What gathers speed evenly has 200·x degrees a second at x.
	at, arc = way(600, func(x float64) float64 { return x * x })
	v = speeds(at, arc)
	for _, i := range []int{12, 30, 48} {
		assert.InDelta(t, 200*float64(i)/60, v[i], 0.5)
	}
	assert.Len(t, speeds([]float64{0, 0.01}, []float64{0, 1}), 6, "six at least")
	step := func(long float64) (at, arc []float64) { // a jump of 1° in the middle
		for i := range 2001 {
			x := long * float64(i) / 2000
			at = append(at, x)
			if x > long/2 {
				arc = append(arc, 1)
			} else {
				arc = append(arc, 0)
			}
		}
		return at, arc
	}
	for long, half := range map[float64]float64{0.5: 0.04, 2: 0.1} {
		at, arc := step(long)
		seen := 0
		for _, s := range speeds(at, arc) {
			if s > 0 {
				seen++
				assert.InDelta(t, 1/(2*half), s, 0.5, "%v s", long)
			}
		}
		assert.InDelta(t, 2*half*60, float64(seen), 1.01, "%v s", long)
	}
}

// The speed of what gathers speed peaks at the end, of a minimum-jerk movement in
// the middle (Flash & Hogan 1985).
func TestWhenTheClubIsFastest(t *testing.T) {
	at, arc := way(10, func(x float64) float64 { return x * x })
	assert.InDelta(t, 0.95, late(at, arc), 1e-9)
	at, arc = way(11, func(x float64) float64 { return x * x * x * (10 - 15*x + 6*x*x) })
	assert.InDelta(t, 0.5, late(at, arc), 1e-9)
}

// Less than 0.12 s or 25° of a way tell nothing.
func TestAWayThatIsTooShortTellsNothing(t *testing.T) {
	for _, c := range []struct {
		long, turn float64
		want       bool
	}{{0.13, 90, true}, {0.11, 90, false}, {0.5, 26, true}, {0.5, 24, false}} {
		var at, arc []float64
		for i := range 21 {
			x := float64(i) / 20
			at, arc = append(at, c.long*x), append(arc, c.turn*x)
		}
		p, ok := passageOf(at, arc)
		assert.Equal(t, c.want, ok, "%+v", c)
		if ok {
			assert.InDelta(t, c.long, p.long, 1e-9)
			assert.InDelta(t, 0.14, p.last, 0.01)
			assert.False(t, math.IsNaN(p.smooth))
		}
	}
	assert.True(t, math.IsNaN(SPARC([]float64{1, 2, 1}, 60)), "three samples")
	assert.False(t, math.IsNaN(SPARC([]float64{1, 2, 2, 1}, 60)))
	assert.True(t, math.IsNaN(SPARC([]float64{1, 2, 2, 1}, 0)))
	assert.True(t, math.IsNaN(SPARC([]float64{1, 2, 2, 1}, math.NaN())))
}

// Only what is slower than 10 times a second is smooth or not (Balasubramanian et
// al. 2015): a tremor of 15 Hz with a fifth of the speed changes nothing, one of 7 Hz
// does.
func TestATremorThatIsTooFastIsNotCounted(t *testing.T) {
	with := func(hz float64) float64 {
		v := make([]float64, 201)
		for i := range v {
			x := float64(i) / 100
			v[i] = math.Exp(-5*(x-1)*(x-1)) * (1 + 0.2*math.Sin(2*math.Pi*hz*x))
		}
		return SPARC(v, 100)
	}
	assert.InDelta(t, with(0), with(15), 0.01)
	assert.Less(t, with(7), with(0)-0.1)
}
