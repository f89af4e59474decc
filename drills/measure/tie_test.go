package measure

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat"

	"drillbay/camera/frame"
	"drillbay/camera/sight"
	"drillbay/camera/virtual"
)

// known is a swing whose angle is known at each time: forward by 50° as a normal
// curve, then back to 90° as its integral.
func known(late, first, rate, noise float64, dice *rand.Rand) (s Swing) {
	for at := first; at < 3; at += 1 / rate {
		t := at - late
		forward := -50 * math.Exp(-math.Pow((t-1.2)/0.2, 2)/2)
		back := 45 * (1 + math.Erf((t-1.8)/0.15))
		s.At, s.Arc = append(s.At, at), append(s.Arc, forward+back+noise*dice.NormFloat64())
	}
	return s
}

// The lag of two cameras with other phases and rates, by a motion that is known:
// within a few milliseconds of what it is.
func TestTheLagOfAKnownMotion(t *testing.T) {
	dice := rand.New(rand.NewPCG(7, 2))
	for _, late := range []float64{0, 0.021, 0.057, -0.133, 0.31} {
		a, b := known(0, 0.004, 30, 1, dice), known(late, 0.017, 24, 1, dice)
		got, alike, err := Lag(a, b)
		require.NoError(t, err, late)
		assert.InDelta(t, late, got, 0.005, "alike %.3f", alike)
		back, _, err := Lag(b, a)
		require.NoError(t, err)
		assert.InDelta(t, -got, back, 0.002, "the other way round")
		// The middle of the swing was not seen by one of them.
		hole := Swing{}
		for i, at := range b.At {
			if at < 1.3+late || at > 1.7+late {
				hole.At, hole.Arc = append(hole.At, at), append(hole.Arc, b.Arc[i])
			}
		}
		got, _, err = Lag(a, hole)
		require.NoError(t, err)
		assert.InDelta(t, late, got, 0.008, "with a hole")
	}
	a := known(0, 0, 30, 1, dice)
	_, _, err := Lag(a, known(0.7, 0, 30, 1, dice))
	assert.ErrorIs(t, err, ErrLag, "more than two cameras can be apart")
	still := known(5, 0, 30, 1, dice)
	_, _, err = Lag(a, still)
	assert.ErrorIs(t, err, ErrLag, "nobody moves")
	_, _, err = Lag(a, Swing{})
	assert.ErrorIs(t, err, ErrLag)
	_, _, err = Lag(a, Swing{a.At[:12], a.Arc[:12]})
	assert.ErrorIs(t, err, ErrLag, "too little is shared")
}

// Where both saw all, the lag is where gonum's correlation of the two is greatest.
func TestTheLagIsThatOfGonumsCorrelation(t *testing.T) {
	dice := rand.New(rand.NewPCG(3, 3))
	const step, late = 1 / 120.0, 12
	a, b := known(0, 0, 120, 2, dice), known(late*step, 0, 120, 2, dice)
	best, top := 0, -1.0
	for lag := -40; lag <= 40; lag++ {
		i0, i1 := max(0, -lag), min(len(a.Arc), len(b.Arc)-lag)
		if v := stat.Correlation(a.Arc[i0:i1], b.Arc[i0+lag:i1+lag], nil); v > top {
			best, top = lag, v
		}
	}
	got, alike, err := Lag(a, b)
	require.NoError(t, err)
	assert.InDelta(t, float64(best)*step, got, step/2)
	assert.InDelta(t, top, alike, 0.002)
}

// The tie is a median: one rep that is wrong does not move it. Its standard error
// is that of the median of normal errors, 1.253 σ/√n (from memory).
func TestTheTieIsAMedian(t *testing.T) {
	var tie Tie
	lag, sigma, n := tie.Lag()
	assert.Zero(t, n)
	assert.Zero(t, lag)
	assert.True(t, math.IsNaN(sigma))
	dice := rand.New(rand.NewPCG(5, 5))
	var errs []float64
	said := 0.0
	const rounds = 400
	for range rounds {
		tie = Tie{}
		for range 11 {
			tie.Add(0.05 + 0.02*dice.NormFloat64())
		}
		lag, sigma, n = tie.Lag()
		require.Equal(t, 11, n)
		errs, said = append(errs, lag-0.05), said+sigma/rounds
	}
	assert.InDelta(t, stat.StdDev(errs, nil), said, 0.0015, "what it says of its error")
	before := lag
	tie.Add(0.39)
	lag, _, _ = tie.Lag()
	assert.InDelta(t, before, lag, 0.012)
	for range 40 {
		tie.Add(0.2)
	}
	lag, _, n = tie.Lag()
	assert.Equal(t, tieKept, n)
	assert.InDelta(t, 0.2, lag, 1e-9, "what was long ago is forgotten")
}

// Two cameras at one drawn player, the second late by what is no whole number of
// frames: each rep's lag is found to within a frame by what the eye saw of it.
func TestTwoCamerasAreTiedByADrawnRep(t *testing.T) {
	const late = 0.083
	reps := []virtual.RepSpec{{ShaftLineDeg: 4, Still: 1, Hold: 0.8}, {ShaftLineDeg: -6, Manner: virtual.Creep, Back: 1.5, Still: 1.2, Hold: 1}, {ShaftLineDeg: 15, Manner: virtual.GentleSwing, Still: 1, Hold: 1}}
	var swings [2][]Swing
	for i := range swings {
		s := virtual.Default()
		s.Width, s.Height, s.Seed, s.Reps = 960, 540, 3, reps
		shift := 0.0
		if i == 1 {
			shift = late
			s.Camera = virtual.Camera{Distance: 3.3, Height: 0.85, HFOVDeg: 72, FaceOn: true, Late: late}
		}
		b, err := virtual.New(s)
		require.NoError(t, err)
		bay := bayOf(s, b)
		if bay.FaceOn = i == 1; bay.FaceOn {
			bay.Target = nil
		}
		k, err := bay.Known()
		require.NoError(t, err)
		r := &Reader{Known: k, Drill: Catch}
		var pics []*frame.Picture
		for n := range b.Frames() {
			p := frame.New(s.Width, s.Height, frame.Sub420)
			require.NoError(t, b.Draw(n, p))
			pics = append(pics, p)
		}
		for _, e := range b.Events() {
			// The live pass knows the times to a frame or two, and nothing of the lag.
			x, ok := r.Analyse(pics, sight.Span{From: e.StillFrom + shift/2, Start: e.ForwardStart + shift/2, BackStart: e.BackStart + shift/2, Catch: e.Catch + shift/2, End: math.NaN()})
			require.True(t, ok)
			swings[i] = append(swings[i], x.Swing())
		}
	}
	var tie Tie
	for i := range reps {
		lag, alike, err := Lag(swings[0][i], swings[1][i])
		require.NoError(t, err)
		t.Logf("rep %d: %.0f ms of %.0f, alike %.3f", i+1, 1000*lag, 1000*late, alike)
		assert.InDelta(t, late, lag, 1/30.0)
		tie.Add(lag)
	}
	lag, sigma, n := tie.Lag()
	t.Logf("%.1f ± %.1f ms by %d", 1000*lag, 1000*sigma, n)
	assert.InDelta(t, late, lag, 0.015)
}
