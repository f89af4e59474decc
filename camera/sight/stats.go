package sight

import "slices"

// median is the middle of values, of at most 4096 of them evenly picked.
func median(values []float32) float32 { return quantile(values, 0.5) }

// quantile is the value below which the share q of values lies.
func quantile(values []float32, q float64) float32 {
	if len(values) == 0 {
		return 0
	}
	step := max(1, len(values)/4096)
	var pick [8192]float32
	n := 0
	for i := 0; i < len(values) && n < len(pick); i += step {
		pick[n] = values[i]
		n++
	}
	slices.Sort(pick[:n])
	return pick[min(n-1, int(q*float64(n)))]
}

func average(values []float32) float32 {
	var s float64
	for _, v := range values {
		s += float64(v)
	}
	return float32(s / float64(max(1, len(values))))
}

// middle is the median.
func middle(x []float64) float64 {
	return sortedMiddle(slices.Clone(x))
}
