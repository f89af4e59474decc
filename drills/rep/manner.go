package rep

import (
	"math"
	"slices"
)

// lastShare is the share of the time that the last part of the way took.
func lastShare(at, arc []float64) float64 {
	return 1 - passed(at, arc, 1-lastPart)
}

// passed is the share of the time at which a share of the way is done. The arc never
// falls.
func passed(at, arc []float64, share float64) float64 {
	n := len(at)
	want := arc[0] + share*(arc[n-1]-arc[0])
	i := 1
	for i < n-1 && arc[i] < want {
		i++
	}
	part := 0.0
	if arc[i] > arc[i-1] {
		part = (want - arc[i-1]) / (arc[i] - arc[i-1])
	}
	return (at[i-1] + part*(at[i]-at[i-1]) - at[0]) / (at[n-1] - at[0])
}

// dwells is the longest dwell in the middle of the way, s.
func dwells(at, arc []float64) (longest float64) {
	n := len(at)
	way := arc[n-1] - arc[0]
	for a := range at {
		if arc[a] < arc[0]+0.18*way || arc[a] > arc[n-1]-0.16*way {
			continue
		}
		b := a
		for b+1 < n && math.Abs(arc[b+1]-arc[a]) <= dwellPart*way {
			b++
		}
		longest = max(longest, at[b]-at[a])
	}
	return longest
}

// rise makes an arc one that never falls: the middle of what has been reached
// and what is still to come.
func rise(arc []float64) {
	up := append([]float64(nil), arc...)
	for i := 1; i < len(up); i++ {
		up[i] = max(up[i], up[i-1])
	}
	down := append([]float64(nil), arc...)
	for i := len(down) - 2; i >= 0; i-- {
		down[i] = min(down[i], down[i+1])
	}
	for i := range arc {
		arc[i] = (up[i] + down[i]) / 2
	}
}

// speeds is the club's turning, degrees a second, on an even clock.
func speeds(at, arc []float64) []float64 {
	n := len(at)
	long := at[n-1] - at[0]
	half := max(0.04, 0.05*long)
	v := make([]float64, max(6, int(long*speedRate)+1))
	for i := range v {
		x := at[0] + float64(i)/speedRate
		a, b := max(x-half, at[0]), min(x+half, at[n-1])
		v[i] = max(0, (turned(at, arc, b)-turned(at, arc, a))/(b-a))
	}
	return v
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

// passage is what tells how a club came from the turn-round to the catch.
type passage struct {
	long       float64 // s
	smooth     float64 // SPARC
	fastest    float64 // degrees a second
	dwell      float64 // s, the longest on the way
	last, peak float64 // lastShare's and late's
}

// passageOf is the passage of angles, degrees, at their times, s; ok is false
// where it is too short to tell.
func passageOf(at, arc []float64) (p passage, ok bool) {
	rise(arc)
	n := len(at)
	long := at[n-1] - at[0]
	if long < 0.12 || arc[n-1]-arc[0] < 25 {
		return p, false
	}
	v := speeds(at, arc)
	return passage{long, SPARC(v, speedRate), slices.Max(v), dwells(at, arc), lastShare(at, arc), late(at, arc)}, true
}

// score is how much the passage looks like a placement rather than a swing, in
// sums of spreads, by how it ended; NaN where that is.
func (p passage) score(ending float64) float64 {
	return (ending-endingMiddle)/endingSpread + (p.last-lastMiddle)/lastSpread + (peakMiddle-p.peak)/peakSpread
}

// late is the share of the time at which the speed peaks.
func late(at, arc []float64) float64 {
	best, w := 0.0, 0.0
	for i := 1; i < len(at); i++ {
		if v := (arc[i] - arc[i-1]) / (at[i] - at[i-1]); v > best {
			best, w = v, (at[i]+at[i-1])/2
		}
	}
	return (w - at[0]) / (at[len(at)-1] - at[0])
}
