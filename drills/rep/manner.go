package rep

import (
	"math"

	"drillbay/camera/sight"
	"drillbay/drills"
)

// Limits of the speed just before the catch as a share of the greatest, above
// which a catch is swung and below which it is placed; between them lies
// "unsure". A swing is stopped; a placement stops by itself.
const (
	swungFrom = 0.42
	placedTo  = 0.30
)

// manner judges how the club came to the catch, from the turn-round on, and
// gives the SPARC of that part.
func manner(t sight.Track) (drills.Manner, float64) {
	at, arc := backward(t)
	n := len(at)
	if n < 4 {
		return drills.Unsure, math.NaN()
	}
	long := at[n-1] - at[0]
	if long < 0.12 {
		return drills.Unsure, math.NaN()
	}
	// Speed of the club's turning, on an even clock, smoothed.
	const rate = 60.0
	m := max(6, int(long*rate)+1)
	v := make([]float64, m)
	half := max(0.034, 0.05*long)
	for i := range v {
		x := at[0] + float64(i)/rate
		v[i] = max(0, (turned(at, arc, x+half)-turned(at, arc, x-half))/(min(x+half, at[n-1])-max(x-half, at[0])))
	}
	peak, peakAt := 0.0, 0
	for i, x := range v {
		if x > peak {
			peak, peakAt = x, i
		}
	}
	if peak <= 0 {
		return drills.Placed, math.NaN()
	}
	end := max(0.067, 0.11*long)
	share := (arc[n-1] - turned(at, arc, at[n-1]-end)) / end / peak
	late := float64(peakAt) / float64(m-1)
	smooth := SPARC(v, rate)
	humps := peaks(v, 0.3*peak)
	switch {
	case humps >= 2 && share < swungFrom+0.1:
		return drills.Placed, smooth
	case share >= swungFrom && late > 0.4:
		return drills.Swung, smooth
	case share <= placedTo:
		return drills.Placed, smooth
	default:
		return drills.Unsure, smooth
	}
}

// backward is the arc over time from the turn-round to the catch; the hold is
// the last.
func backward(t sight.Track) (at, arc []float64) {
	for _, s := range t.Samples {
		if s.At >= t.Turn-0.02 {
			at, arc = append(at, s.At), append(arc, s.Arc)
		}
	}
	return at, arc
}

// turned is the arc at a time, between samples.
func turned(at, arc []float64, x float64) float64 {
	n := len(at)
	if x <= at[0] {
		return arc[0]
	}
	if x >= at[n-1] {
		return arc[n-1]
	}
	i := 1
	for at[i] < x {
		i++
	}
	f := (x - at[i-1]) / (at[i] - at[i-1])
	return arc[i-1] + f*(arc[i]-arc[i-1])
}

// peaks counts the maxima of v that stand out by at least rise from the
// lows on both sides.
func peaks(v []float64, rise float64) int {
	n := 0
	low, high := v[0], v[0]
	up := true
	for _, x := range v {
		if up {
			high = max(high, x)
			if x < high-rise {
				if high-low >= rise {
					n++
				}
				up, low = false, x
			}
			continue
		}
		low = min(low, x)
		if x > low+rise {
			up, high = true, x
		}
	}
	if up && high-low >= rise {
		n++
	}
	return n
}
