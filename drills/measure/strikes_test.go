package measure

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/dsp/fourier"
)

// Strikes at the same intervals lay two clips on each other, whatever else is heard
// in one of them; the offset is that of gonum's cross-correlation of both.
func TestStrikesLayTwoClipsOnEachOther(t *testing.T) {
	const offset = -1.234
	a := []float64{2.1, 4.0, 9.3, 15.75, 16.4}
	var b []float64
	dice := rand.New(rand.NewPCG(3, 1))
	for _, s := range []float64{4.0, 9.3, 15.75} {
		b = append(b, s+offset+0.003*dice.NormFloat64())
	}
	b = append([]float64{0.3}, append(b, 20)...) // a door, a cough
	s, err := ByStrikes(a, b)
	require.NoError(t, err)
	assert.InDelta(t, offset, s.Offset, 0.008)
	assert.Equal(t, 3, s.Both)
	assert.True(t, s.Sure)
	assert.Less(t, math.Abs(s.Offset-offset), 2*s.Sigma)
	back, err := ByStrikes(b, a)
	require.NoError(t, err)
	assert.InDelta(t, -s.Offset, back.Offset, 1e-9)

	const n, step = 8192, 1 / 200.0
	fft := fourier.NewFFT(n)
	wave := func(at []float64) []complex128 {
		x := make([]float64, n)
		for _, s := range at {
			for i := range x {
				d := (float64(i)*step - s - 3) / 0.01
				if math.Abs(d) < 6 {
					x[i] += math.Exp(-d * d)
				}
			}
		}
		return fft.Coefficients(nil, x)
	}
	x, y := wave(a), wave(b)
	for i := range x {
		x[i] = y[i] * complex(real(x[i]), -imag(x[i]))
	}
	cross, best := fft.Sequence(nil, x), 0
	for i, v := range cross {
		if v > cross[best] {
			best = i
		}
	}
	if best > n/2 {
		best -= n
	}
	assert.InDelta(t, float64(best)*step, s.Offset, 2*step)
}

// One sound alone, or several that fit more than one offset, is not sure; none says
// so.
func TestOneStrikeAloneIsNotSure(t *testing.T) {
	s, err := ByStrikes([]float64{3}, []float64{5})
	require.NoError(t, err)
	assert.Equal(t, Strikes{2, s.Sigma, 1, false}, s)
	s, err = ByStrikes([]float64{2, 4}, []float64{2, 4, 6})
	require.NoError(t, err)
	assert.False(t, s.Sure, "0 s and 2 s")
	s, err = ByStrikes([]float64{1, 7}, []float64{3, 20})
	require.NoError(t, err)
	assert.Equal(t, 1, s.Both)
	assert.False(t, s.Sure)
	for _, none := range [][2][]float64{{nil, {1}}, {{1}, nil}, {nil, nil}} {
		_, err = ByStrikes(none[0], none[1])
		assert.ErrorIs(t, err, ErrStrikes)
	}
}
