package ear

import "math"

// biquad is a second-order filter, direct form 2 transposed.
type biquad struct{ b0, b1, b2, a1, a2, s1, s2 float64 }

func (f *biquad) step(x float64) float64 {
	y := f.b0*x + f.s1
	f.s1 = f.b1*x - f.a1*y + f.s2
	f.s2 = f.b2*x - f.a2*y
	return y
}

// highPass and lowPass are second-order sections at a frequency in Hz for
// samples at Rate (bilinear transform with prewarping).
func highPass(hz, q float64) biquad {
	k := math.Tan(math.Pi * hz / Rate)
	a0 := 1 + k/q + k*k
	return biquad{b0: 1 / a0, b1: -2 / a0, b2: 1 / a0, a1: 2 * (k*k - 1) / a0, a2: (1 - k/q + k*k) / a0}
}

func lowPass(hz, q float64) biquad {
	k := math.Tan(math.Pi * hz / Rate)
	a0 := 1 + k/q + k*k
	return biquad{b0: k * k / a0, b1: 2 * k * k / a0, b2: k * k / a0, a1: 2 * (k*k - 1) / a0, a2: (1 - k/q + k*k) / a0}
}

// The Q of the two sections of a fourth-order Butterworth filter.
const (
	firstQ  = 0.5411961001461970
	secondQ = 1.3065629648763766
)

// band is one of the two bands that are listened to.
type band struct{ sections [4]biquad }

func (b *band) step(x float64) float64 {
	for i := range b.sections {
		x = b.sections[i].step(x)
	}
	return x
}

// lowBand is 3 to 7 kHz, highBand 6.5 kHz and up. The metronome's tones with
// their octaves lie below both.
func lowBand() band {
	return band{[4]biquad{highPass(3000, firstQ), highPass(3000, secondQ), lowPass(7000, math.Sqrt2/2), {b0: 1}}}
}

func highBand() band {
	return band{[4]biquad{highPass(6500, firstQ), highPass(6500, secondQ), {b0: 1}, {b0: 1}}}
}
