package cues

import "math"

// Loudness is the loudness of one channel of samples (−1 to 1) in LKFS by
// ITU-R BS.1770: K-weighting, blocks of 400 ms overlapping by three quarters,
// gates at −70 LKFS and at 10 LU below what passes the first. What is shorter
// than a block is one block. −Inf for silence.
func Loudness(samples []float64, rate int) float64 {
	k := newWeighting(rate)
	weighted := make([]float64, len(samples))
	for i, x := range samples {
		weighted[i] = k.step(x)
	}
	length := min(rate*4/10, len(weighted))
	if length == 0 {
		return math.Inf(-1)
	}
	var blocks []float64
	for from := 0; from+length <= len(weighted); from += max(length/4, 1) {
		sum := 0.0
		for _, w := range weighted[from : from+length] {
			sum += w * w
		}
		blocks = append(blocks, sum/float64(length))
	}
	const absolute, relative = -70, -10
	first := gated(blocks, absolute)
	return lkfs(gated(blocks, max(absolute, lkfs(first)+relative)))
}

// gated is the mean power of the blocks louder than a gate, LKFS.
func gated(blocks []float64, gate float64) float64 {
	sum, n := 0.0, 0
	for _, b := range blocks {
		if lkfs(b) > gate {
			sum, n = sum+b, n+1
		}
	}
	if n == 0 {
		return 0
	}
	return sum / float64(n)
}

func lkfs(power float64) float64 { return -0.691 + 10*math.Log10(power) }

// biquad is a second-order filter, direct form 2 transposed, a0 = 1.
type biquad struct{ b0, b1, b2, a1, a2, s1, s2 float64 }

func (f *biquad) step(x float64) float64 {
	y := f.b0*x + f.s1
	f.s1 = f.b1*x - f.a1*y + f.s2
	f.s2 = f.b2*x - f.a2*y
	return y
}

// weighting is the K filter: a shelf for the head, then a high-pass.
type weighting struct{ shelf, pass biquad }

func (k *weighting) step(x float64) float64 { return k.pass.step(k.shelf.step(x)) }

// newWeighting makes the K filter for a rate: the standard gives the
// coefficients at 48 kHz; these are the analogue filters they come from,
// brought to other rates by the bilinear transform.
func newWeighting(rate int) *weighting {
	const (
		shelfAt, shelfGain, shelfQ = 1681.974450955533, 3.999843853973347, 0.7071752369554196
		passAt, passQ              = 38.13547087602444, 0.5003270373238773
	)
	k := math.Tan(math.Pi * shelfAt / float64(rate))
	high := math.Pow(10, shelfGain/20)
	mid := math.Pow(high, 0.4996667741545416)
	a0 := 1 + k/shelfQ + k*k
	shelf := biquad{b0: (high + mid*k/shelfQ + k*k) / a0, b1: 2 * (k*k - high) / a0, b2: (high - mid*k/shelfQ + k*k) / a0,
		a1: 2 * (k*k - 1) / a0, a2: (1 - k/shelfQ + k*k) / a0}
	k = math.Tan(math.Pi * passAt / float64(rate))
	a0 = 1 + k/passQ + k*k
	pass := biquad{b0: 1, b1: -2, b2: 1, a1: 2 * (k*k - 1) / a0, a2: (1 - k/passQ + k*k) / a0}
	return &weighting{shelf, pass}
}

// Level scales samples in place to a loudness, LKFS, but to a peak of no more
// than 1. It returns the loudness reached.
func Level(samples []float64, rate int, want float64) float64 {
	have := Loudness(samples, rate)
	if math.IsInf(have, 0) {
		return have
	}
	peak := 0.0
	for _, x := range samples {
		peak = max(peak, math.Abs(x))
	}
	gain := min(math.Pow(10, (want-have)/20), 1/peak)
	for i := range samples {
		samples[i] *= gain
	}
	return have + 20*math.Log10(gain)
}
