package sight

import "math"

// law is how a way from rest grows with time: inverse gives the time of a way
// in some unit, and how fast the way grows there.
type law func(way float64) (time, rate float64)

// power is a way that grows with a power of time.
func power(p float64) law {
	return func(way float64) (float64, float64) {
		t := math.Pow(way, 1/p)
		return t, p * way / t
	}
}

// even is one movement from rest to rest over the whole of a way: the least
// jerk of all (Flash & Hogan 1985), 10τ³ − 15τ⁴ + 6τ⁵.
func even(whole float64) law {
	return func(way float64) (float64, float64) {
		x := min(way/whole, 0.999)
		lo, hi := 0.0, 1.0
		for range 40 {
			if t := (lo + hi) / 2; t*t*t*(10-15*t+6*t*t) < x {
				lo = t
			} else {
				hi = t
			}
		}
		return lo, whole * 30 * sq(lo*(1-lo))
	}
}

// flank fits a law through what was seen on one side of a rest: when the rest
// is, how many of the law's units pass in a second, and the mean square by
// which the ways are off.
func flank(at, way []float64, l law) (rest, unit, off float64) {
	if len(at) == 1 {
		return at[0], 1, math.Inf(1)
	}
	var w, wx, wy, wxx, wxy, wyy float64
	for i, d := range way {
		y, rate := l(d)
		q := rate * rate // an error of the way is this much less of the time
		x := at[i] - at[0]
		w, wx, wy, wxx, wxy, wyy = w+q, wx+q*x, wy+q*y, wxx+q*x*x, wxy+q*x*y, wyy+q*y*y
	}
	k := (w*wxy - wx*wy) / (w*wxx - wx*wx)
	if k == 0 || math.IsNaN(k) {
		return at[0], 1, math.Inf(1)
	}
	c := (wy - k*wx) / w
	off = max(0, wyy-c*wy-k*wxy) / float64(len(way))
	return at[0] - c/k, math.Abs(k), off
}
