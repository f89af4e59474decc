package read

import (
	"math"

	"drillbay/drills"
)

// sureTo is the largest difference between a strike and the impact that was seen, s.
const sureTo = 0.06

// sharpen takes the impact from the strike that was heard, where one fits
// the impact that was seen: sound tells it better than pictures. frame is the
// time between two pictures, s.
func sharpen(r *drills.Rep, strikes []float64, frame float64) {
	seen := r.Moments.Impact
	if math.IsNaN(seen) || math.IsNaN(r.Tempo) {
		return
	}
	best := math.NaN()
	for _, s := range strikes {
		if off := math.Abs(s - seen); off <= frame+sureTo && !(off >= math.Abs(best-seen)) {
			best = s
		}
	}
	back, down := r.Moments.Top-r.Moments.Start, best-r.Moments.Top
	if !(back > 0.2 && down > 0.08) {
		return
	}
	r.Moments.Impact, r.Tempo = best, back/down
	// Start and top lie evenly within a frame and are read to about 12 ms
	// besides; the strike is heard to 3 ms. The top is part of both times.
	moment, strike := math.Hypot(frame/math.Sqrt(12), 0.012/math.Sqrt2), 0.003
	rel := 1.96 * math.Hypot(moment/back, math.Hypot(moment*(1/back+1/down), strike/down))
	r.TempoLow, r.TempoHigh = r.Tempo*(1-rel), r.Tempo*(1+rel)
}
