package read

import (
	"math"

	"drillbay/drills"
)

// sureTo is the largest difference between a strike and the impact that was seen, s.
const sureTo = 0.06

// strikeSigma is the standard deviation of a strike that was heard, s.
const strikeSigma = 0.003

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
	r.Moments.Impact = best
	if !r.SetTempo(drills.MomentSigma(frame), strikeSigma) {
		r.Moments.Impact = seen
	}
}
