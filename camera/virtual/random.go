package virtual

import "math"

// random is a small seeded generator (SplitMix64, Steele et al. 2014).
type random struct{ state uint64 }

func newRandom(seeds ...uint64) *random {
	r := &random{}
	for _, s := range seeds {
		r.state = mix64(r.state + s + 0x9e3779b97f4a7c15)
	}
	return r
}

func mix64(z uint64) uint64 {
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}

func (r *random) next() uint64 {
	r.state += 0x9e3779b97f4a7c15
	return mix64(r.state)
}

// float is uniform in 0..1.
func (r *random) float() float64 { return float64(r.next()>>11) / (1 << 53) }

// between is uniform in lo..hi.
func (r *random) between(lo, hi float64) float64 { return lo + (hi-lo)*r.float() }

// normal is standard normal (Box & Muller).
func (r *random) normal() float64 {
	return math.Sqrt(-2*math.Log(1-r.float())) * math.Cos(2*math.Pi*r.float())
}
