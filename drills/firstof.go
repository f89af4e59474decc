package drills

import "math"

// FirstOf is the first value that is known, 0 when none is.
func FirstOf(values ...float64) float64 {
	for _, v := range values {
		if !math.IsNaN(v) {
			return v
		}
	}
	return 0
}
