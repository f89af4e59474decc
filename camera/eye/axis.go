package eye

import "math"

// axis is one direction of a window: how each of its n results is made of the
// samples of a picture's rows or columns. A result is the mean over its own
// width, or over one sample where it is narrower: area averaging when the
// window is made smaller, linear interpolation when it is made larger.
type axis struct {
	from, till int       // the samples that are needed
	taps       int       // samples a result takes at most
	start      []int32   // by result: its first sample, counted from from
	weight     []float32 // by result, tap; 0 outside the picture
	cover      []float32 // by result: the share of its width within the picture
}

// set prepares n results of width step each, the first beginning at origin,
// over length samples, the first of which lies at 0..1.
func (a *axis) set(n int, origin, step float64, length int) {
	wide := max(step, 1)
	a.taps = int(math.Ceil(wide)) + 1
	a.start, a.cover = resize(a.start, n), resize(a.cover, n)
	a.weight = resize(a.weight, n*a.taps)
	clear(a.weight)
	a.from, a.till = length, 0
	for i := range n {
		middle := origin + (float64(i)+0.5)*step
		lo, hi := middle-wide/2, middle+wide/2
		first := int(min(max(math.Floor(lo), 0), float64(length-1)))
		a.start[i], a.cover[i] = int32(first), 0
		for t := 0; t < a.taps && first+t < length; t++ {
			j := float64(first + t)
			if w := (min(hi, j+1) - max(lo, j)) / wide; w > 0 {
				a.weight[i*a.taps+t] = float32(w)
				a.cover[i] += float32(w)
				a.from, a.till = min(a.from, first+t), max(a.till, first+t+1)
			}
		}
	}
	if a.till == 0 {
		a.from = 0 // nothing of it is in the picture
	}
	for i := range n {
		a.start[i] = min(max(a.start[i]-int32(a.from), 0), int32(max(0, a.till-a.from-1)))
	}
}

// reserve makes room for n results of width step at most.
func (a *axis) reserve(n int, step float64) {
	a.start, a.cover = resize(a.start, n), resize(a.cover, n)
	a.weight = resize(a.weight, n*(int(math.Ceil(max(step, 1)))+1))
}

func resize[T any](v []T, n int) []T {
	if cap(v) < n {
		return make([]T, n)
	}
	return v[:n]
}
