package rep

import (
	"math"

	"drillbay/camera/sight"
)

const (
	// Features is how many numbers tell how a club came to a catch.
	Features = 18 + leftTimes + doneTimes

	leftTimes, leftStep = 10, 0.03 // s before the catch
	doneTimes           = 9        // tenths of the time
)

// Passage tells by numbers how the club came from the turn-round to the catch, and
// gives the SPARC of that part; ok is false where too little was seen of it. Angles
// are those by which the club turned on its way (sight.Motion.Arcs).
func Passage(m *sight.Motion, t sight.Times) (f [Features]float64, smooth float64, ok bool) {
	var at, arc []float64
	arcs := m.Arcs()
	for i, p := range m.Poses[:m.Hold+1] {
		if p.At > t.Turn && (i == m.Hold || p.At < t.Catch) {
			at, arc = append(at, p.At), append(arc, arcs[i])
		}
	}
	if len(at) < 4 {
		return f, math.NaN(), false
	}
	at[len(at)-1] = t.Catch
	return features(at, arc, m.Frame(), t.Ending, t.Catch-m.To)
}

// features are the numbers of a way: angles, degrees, at their times, s, the last of
// them the catch. frame is the usual time between two looks, s, ending is
// sight.Times's, and rested is for how long the picture had rested at the catch, s.
func features(at, arc []float64, frame, ending, rested float64) (f [Features]float64, smooth float64, ok bool) {
	p, ok := passageOf(at, arc)
	if !ok {
		return f, math.NaN(), false
	}
	n := len(at)
	whole, catch := arc[n-1]-arc[0], at[n-1]
	gap, looks := 0.0, 0.0 // looks shortly before the catch, as a share of those that there could be
	for i := 1; i < n; i++ {
		gap = max(gap, at[i]-at[i-1])
		if at[i] > catch-lastLooks {
			looks += frame / lastLooks
		}
	}
	unseen := 0.0
	if math.IsNaN(ending) {
		unseen, ending = 1, endingMiddle
	}
	end := func(long float64) float64 { // the mean speed in the last seconds, as a share of the fastest
		return (arc[n-1] - turned(at, arc, catch-long)) / long / p.fastest
	}
	copy(f[:], []float64{
		math.Log(p.long), p.last, p.peak, min(ending, 1.5), unseen, p.fastest * p.long / whole, whole / 100, min(p.dwell, 0.5),
		min((catch-at[n-2])/frame, 6), min(gap/frame, 8), looks, 30 * frame, min(max(rested, -0.3), 0.3),
		end(0.06), end(0.1), passed(at, arc, 0.5), passed(at, arc, 0.7), passed(at, arc, 0.85),
	})
	curve := f[18:]
	for k := range leftTimes {
		curve[k] = (arc[n-1] - turned(at, arc, catch-leftStep*float64(k+1))) / whole
	}
	curve = curve[leftTimes:]
	for k := range doneTimes {
		curve[k] = (turned(at, arc, at[0]+p.long*float64(k+1)/(doneTimes+1)) - arc[0]) / whole
	}
	return f, p.smooth, true
}
