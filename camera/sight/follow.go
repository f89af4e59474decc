package sight

import "math"

// follower finds paths through a grid of nu × nv places over time by dynamic
// programming (Viterbi 1967): least sum of costs and of squared moves.
type follower struct{ nu, nv int }

// reach is how far a place may lie from the one before: up to fewer cells of
// u less, up to more cells of u more, across cells of v either way.
type reach struct{ fewer, more, across int }

// advance goes one frame on: from the sums so far to those with the costs of
// the frame, and for each place the one before it. Moves cost wu and wv times
// their squares.
func (f follower) advance(sum, cost []float64, r reach, wu, wv float64) (next []float64, from []int32) {
	n := f.nu * f.nv
	mid, midFrom := make([]float64, n), make([]int32, n)
	for v := range f.nv {
		for u := range f.nu {
			best, at := math.Inf(1), 0
			for w := max(0, v-r.across); w <= min(f.nv-1, v+r.across); w++ {
				d := float64(w - v)
				if c := sum[w*f.nu+u] + wv*d*d; c < best {
					best, at = c, w*f.nu+u
				}
			}
			mid[v*f.nu+u], midFrom[v*f.nu+u] = best, int32(at)
		}
	}
	next, from = make([]float64, n), make([]int32, n)
	for v := range f.nv {
		row := v * f.nu
		for u := range f.nu {
			best, at := math.Inf(1), row+u
			for w := max(0, u-r.more); w <= min(f.nu-1, u+r.fewer); w++ {
				d := float64(w - u)
				if c := mid[row+w] + wu*d*d; c < best {
					best, at = c, row+w
				}
			}
			next[row+u], from[row+u] = best+cost[row+u], midFrom[at]
		}
	}
	return next, from
}

// least is where the sums are least.
func least(sum []float64) int {
	at := 0
	for i, s := range sum {
		if s < sum[at] {
			at = i
		}
	}
	return at
}
