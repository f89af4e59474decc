package drills

import "math"

// FirstOf returns the first value that is a number, NaN when none is. Where something
// else than NaN should stand for unknown, it comes last.
func FirstOf(values ...float64) float64 {
	for _, v := range values {
		if !math.IsNaN(v) {
			return v
		}
	}
	return math.NaN()
}
