package book

import "math"

// wilson bounds a share with 95 % confidence (Wilson's score interval, by
// Newcombe 1998, Statistics in Medicine 17:857).
func wilson(k, n int) (low, high float64) {
	if n == 0 {
		return 0, 1
	}
	const z = 1.959963984540054
	p, m := float64(k)/float64(n), float64(n)
	middle := p + z*z/(2*m)
	half := z * math.Sqrt(p*(1-p)/m+z*z/(4*m*m))
	return max((middle-half)/(1+z*z/m), 0), min((middle+half)/(1+z*z/m), 1)
}

// passes is the least lower bound of the share of reps that count at which a
// rung is passed (a convention: 9 of 10, 16 of 20).
const passes = 0.55
