// Package rep turns what was seen over time into a rep: its moments, its
// measures with their uncertainty, its verdict.
package rep

import (
	"math"
	"math/bits"
)

// SPARC is the spectral arc length of a speed profile v sampled at rate
// (per second): Balasubramanian, Melendez-Calderon, Roby-Brami & Burdet,
// J NeuroEng Rehab 2015, 12:112, with padding 4, amplitude threshold 0.05
// and frequency limit 10 Hz. 0 is never reached; nearer to it is smoother.
// It is NaN for fewer than 4 samples or no motion.
func SPARC(v []float64, rate float64) float64 {
	const limit, threshold = 10.0, 0.05
	n := len(v)
	if n < 4 || !(rate > 0) {
		return math.NaN()
	}
	size := 1 << (bits.Len(uint(n-1)) + 4)
	mag := spectrum(v, size, limit, rate)
	peak := 0.0
	for _, m := range mag {
		peak = max(peak, m)
	}
	if peak == 0 {
		return math.NaN()
	}
	a, b := -1, -1
	for i, m := range mag {
		if m/peak >= threshold {
			if a < 0 {
				a = i
			}
			b = i
		}
	}
	if b <= a {
		return math.NaN()
	}
	step := 1 / float64(b-a)
	var arc float64
	for i := a + 1; i <= b; i++ {
		arc += math.Hypot(step, (mag[i]-mag[i-1])/peak)
	}
	return -arc
}

// spectrum is |DFT| of v padded to size, for frequencies up to limit. The
// profiles are short and only low frequencies matter, so it is summed
// directly.
func spectrum(v []float64, size int, limit, rate float64) []float64 {
	top := min(int(math.Floor(limit*float64(size)/rate+1e-9)), size-1)
	out := make([]float64, top+1)
	for k := range out {
		var re, im float64
		for i, x := range v {
			s, c := math.Sincos(2 * math.Pi * float64(k*i%size) / float64(size))
			re += x * c
			im -= x * s
		}
		out[k] = math.Hypot(re, im)
	}
	return out
}
