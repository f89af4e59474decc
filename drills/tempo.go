package drills

import "math"

// shortestBack and shortestDown are the times, s, up to which a way back and a way down
// are too short to be a swing's.
const shortestBack, shortestDown = 0.2, 0.08

// MomentSigma returns the standard deviation of a moment that is read off pictures a frame
// (s) apart: it lies evenly within a frame, and is read to 12/√2 ms besides, so that a time
// between two moments is read to 12 ms.
func MomentSigma(frame float64) float64 {
	return math.Hypot(frame/math.Sqrt(12), 0.012/math.Sqrt2)
}

// SetTempo sets the tempo ratio of the rep's moments, (top − start) / (impact − top), with
// its 95 % interval. sigma is the standard deviation of start and of top, impact that of the
// impact, s. As the top is part of both times, the relative variance of the ratio is
//
//	(sigma/back)² + (sigma·(1/back + 1/down))² + (impact/down)²
//
// (law of propagation of uncertainty, JCGM 100:2008, 5.1.2). Where a moment is missing, or
// back or down is too short to be a swing's, it sets nothing and returns false.
func (r *Rep) SetTempo(sigma, impact float64) bool {
	back, down := r.Moments.Top-r.Moments.Start, r.Moments.Impact-r.Moments.Top
	if !(back > shortestBack && down > shortestDown) {
		return false
	}
	off := 1.96 * math.Hypot(sigma/back, math.Hypot(sigma*(1/back+1/down), impact/down))
	r.Tempo = back / down
	r.TempoLow, r.TempoHigh = r.Tempo*(1-off), r.Tempo*(1+off)
	return true
}
