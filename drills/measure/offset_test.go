package measure

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/dsp/fourier"
	"gonum.org/v1/gonum/stat"

	"drillbay/camera/frame"
	"drillbay/camera/virtual"
)

// The correlation at a lag is that of gonum's stat, and where no edge matters its
// peak is that of the cross-correlation by gonum's Fourier transform.
func TestCorrelationIsGonums(t *testing.T) {
	dice := rand.New(rand.NewPCG(1, 2))
	x, y := make([]float64, 600), make([]float64, 600)
	const shift = 47
	for i := range x {
		x[i] = math.Exp(-math.Pow(float64(i-200)/20, 2)) + 0.6*math.Exp(-math.Pow(float64(i-290)/30, 2)) + 0.05*dice.NormFloat64()
		y[i] = 2*math.Exp(-math.Pow(float64(i-200-shift)/20, 2)) + 1.2*math.Exp(-math.Pow(float64(i-290-shift)/30, 2)) + 0.1*dice.NormFloat64()
	}
	for _, lag := range []int{-80, 0, shift, 300} {
		i0, i1 := max(0, -lag), min(len(x), len(y)-lag)
		want := stat.Correlation(x[i0:i1], y[i0+lag:i1+lag], nil) * math.Sqrt(float64(i1-i0)/600)
		assert.InDelta(t, want, alikeAt(x, y, lag), 1e-9, "lag %d", lag)
	}
	fft := fourier.NewFFT(2048)
	pad := func(v []float64) []complex128 {
		out := make([]float64, 2048)
		mean := stat.Mean(v, nil)
		for i := range v {
			out[i] = v[i] - mean
		}
		return fft.Coefficients(nil, out)
	}
	a, b := pad(x), pad(y)
	for i := range a {
		a[i] = b[i] * complex(real(a[i]), -imag(a[i]))
	}
	cross := fft.Sequence(nil, a)
	peak := 0
	for i, v := range cross {
		if v > cross[peak] {
			peak = i
		}
	}
	assert.Equal(t, shift, peak)
	best := 0
	for lag := -300; lag <= 300; lag++ {
		if alikeAt(x, y, lag) > alikeAt(x, y, best) {
			best = lag
		}
	}
	assert.Equal(t, peak, best)
}

// Clips of one drawn session, down the line and face-on, whose clocks differ, are
// laid on each other to a frame; another session's is refused.
func TestTwoViewsAreLaidOnEachOther(t *testing.T) {
	const offset = 0.735 // s
	setup := func(faceOn bool, seed uint64, reps []virtual.RepSpec) (virtual.Setup, *virtual.Bay) {
		s := virtual.Default()
		s.Width, s.Height, s.Seed, s.Reps = 640, 360, seed, reps
		if faceOn {
			s.Camera = virtual.Camera{Distance: 3.3, Height: 0.85, HFOVDeg: 72, FaceOn: true}
		}
		b, err := virtual.New(s)
		require.NoError(t, err)
		return s, b
	}
	pulses := func(s virtual.Setup, b *virtual.Bay, skip float64) []Pulse {
		p, err := Pulses(&drawn{bay: b, s: s, next: int(skip * s.FPS), pool: frame.NewPool(1 << 30)}, false)
		require.NoError(t, err)
		for i := range p {
			p[i].At -= skip
		}
		return p
	}
	reps := []virtual.RepSpec{{ShaftLineDeg: 4, Still: 1, Hold: 0.8}, {ShaftLineDeg: -6, Manner: virtual.Creep, Back: 1.5, Still: 1.4, Hold: 1.2}}
	line, lineBay := setup(false, 3, reps)
	front, frontBay := setup(true, 3, reps)
	skip := math.Round(offset*front.FPS) / front.FPS
	a, b := pulses(line, lineBay, 0), pulses(front, frontBay, skip)
	got, alike, err := Offset(a, b)
	require.NoError(t, err)
	t.Logf("offset %.3f s of %.3f, alike %.2f", got, -skip, alike)
	assert.InDelta(t, -skip, got, 1/line.FPS)
	back, _, err := Offset(b, a)
	require.NoError(t, err)
	assert.InDelta(t, -got, back, 0.002, "the other way round")
	_, _, err = Offset(a, a[:30])
	assert.ErrorIs(t, err, ErrOffset)
	still := make([]Pulse, 300)
	for i := range still {
		still[i] = Pulse{float64(i) / 30, 0.01 * rand.New(rand.NewPCG(uint64(i), 1)).Float64()}
	}
	_, _, err = Offset(a, still)
	assert.ErrorIs(t, err, ErrOffset)
}
