package rep

import (
	"math"

	"drillbay/camera/sight"
	"drillbay/drills"
)

// Known is what is known beside the pictures, with 1-sigma uncertainties.
type Known struct {
	Setting  sight.Setting
	FaceOn   bool    // the camera is before the player's chest: sight.Setting.FaceOn reads it
	Scale    bool    // false: neither distance nor field of view is known
	Band     float64 // degrees each way
	Distance float64 // sigma of Setting.Distance, m
	Target   float64 // sigma of the target point, px
	Roll     float64 // sigma, degrees
	Focal    float64 // sigma, share
	Reach    float64 // sigma, m
	Forward  float64 // sigma of how far the hands come toward the lens, m
}

// NoScale says why there is no reading in degrees when Known.Scale is false.
const NoScale = "give the distance, the field of view or a known length"

// shortest and longest are the times from the turn-round to a catch that are
// believed, s.
const shortest, longest = 0.28, 2.7

// tempo is back to down with the interval that the frame time allows: each
// moment lies evenly within a frame, so a duration's sd is frame / √6.
func tempo(r *drills.Rep, frame float64) {
	back, down := r.Moments.Top-r.Moments.Start, r.Moments.Impact-r.Moments.Top
	if !(back > 0.2) || !(down > 0.08) {
		return
	}
	r.Tempo = back / down
	// The moments themselves are read to about a frame besides.
	sd := math.Hypot(frame/math.Sqrt(6), 0.012)
	rel := 1.96 * math.Hypot(sd/back, math.Hypot(sd, sd*r.Tempo/(1+r.Tempo))/down)
	r.TempoLow, r.TempoHigh = r.Tempo*(1-rel), r.Tempo*(1+rel)
}
