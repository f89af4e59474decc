package camera

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
)

// arrivals are late by an exponential delay and sometimes by much more.
func arrivals(rnd *rand.Rand, n int, period, mean float64) (at, truth []float64) {
	last := 0.0
	for i := range n {
		t := 1 + float64(i)*period
		late := rnd.ExpFloat64() * mean
		if rnd.IntN(40) == 0 {
			late += 0.012
		}
		last = max(last, t+0.002+late) // in order
		at, truth = append(at, last), append(truth, t)
	}
	return at, truth
}

func TestFitFindsPeriodAndPhaseUnderLateArrivals(t *testing.T) {
	for seed := range uint64(20) {
		rnd := rand.New(rand.NewPCG(seed, 1))
		period := 1 / (29.0 + 2*rnd.Float64())
		at, truth := arrivals(rnd, 600, period, 0.0025)
		var f Fit
		f.Reset(time.Second / 30)
		raw, fitted := 0.0, 0.0
		for i, a := range at {
			got := f.Add(seconds(a)).Seconds()
			if i >= 100 {
				raw = max(raw, a-truth[i]-0.002)
				fitted = max(fitted, math.Abs(got-truth[i]-0.002))
			}
		}
		assert.InDelta(t, period, f.Period().Seconds(), 20e-6, "seed %d", seed)
		assert.Less(t, fitted, 0.0015, "seed %d", seed)
		assert.Greater(t, raw, 0.01, "the arrivals themselves are much worse")
		assert.Zero(t, f.Drops(), "seed %d", seed)
	}
}

func TestFitCountsLostFrames(t *testing.T) {
	var f Fit
	f.Reset(0)
	last := time.Duration(-1)
	for i := range 300 {
		if i == 100 || i == 200 || i == 201 {
			continue
		}
		got := f.Add(time.Duration(i) * time.Second / 60)
		assert.Greater(t, got, last)
		last = got
	}
	assert.Equal(t, 3, f.Drops())
	assert.InDelta(t, 299.0/60, last.Seconds(), 1e-6)
}

func TestFitTakesALateBurstForNoLoss(t *testing.T) {
	var f Fit
	f.Reset(time.Second / 30)
	for i := range 200 {
		a := float64(i) / 30
		if i >= 100 && i < 104 { // four frames wait and come together
			a = 103.2/30 + float64(i-100)*1e-4
		}
		f.Add(seconds(a))
	}
	assert.Zero(t, f.Drops())
	assert.InDelta(t, 1.0/30, f.Period().Seconds(), 1e-5)
}

func TestFitFollowsAChangeOfRate(t *testing.T) {
	var f Fit
	f.Reset(time.Second / 30)
	at := 0.0
	for i := range 400 {
		at += 1.0 / 30
		if i >= 200 {
			at += 1.0 / 30 // the light fails, the camera halves its rate
		}
		f.Add(seconds(at))
	}
	assert.InDelta(t, 1.0/15, f.Period().Seconds(), 1e-6)
	assert.LessOrEqual(t, f.Drops(), 2*fitGaps)
}

// Over eight hours a camera whose clock is 200 ppm off what its mode says goes
// six seconds away; its pictures' times stay within 2 ms of when they were
// taken, but for the few that arrive a whole picture late.
func TestFitDoesNotDriftInEightHours(t *testing.T) {
	const pictures = 8 * 3600 * 30
	period := (1 + 200e-6) / 30
	at, truth := arrivals(rand.New(rand.NewPCG(4, 8)), pictures, period, 0.0025)
	var f Fit
	f.Reset(time.Second / 30)
	off := 0
	for i, a := range at {
		if got := f.Add(seconds(a)).Seconds(); i >= 100 && math.Abs(got-truth[i]-0.002) > 0.002 {
			off++
		}
	}
	t.Logf("%.2f s away after eight hours; %d of %d pictures more than 2 ms off", truth[pictures-1]-1-float64(pictures-1)/30, off, pictures)
	assert.Less(t, off, pictures/10000)
	assert.Zero(t, f.Drops())
}

func TestFitAllocatesNothing(t *testing.T) {
	var f Fit
	i := 0
	assert.Zero(t, testing.AllocsPerRun(1000, func() {
		i++
		f.Add(time.Duration(i) * time.Second / 60)
	}))
}

func BenchmarkFit(b *testing.B) {
	var f Fit
	b.ReportAllocs()
	i := 0
	for b.Loop() {
		i++
		f.Add(time.Duration(i)*time.Second/60 + time.Duration(i%7)*time.Millisecond)
	}
}
