package rep

import (
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
	Passing  float64 // by how much too far outside the eye sees a club that passes level in a swing, degrees
}

// NoScale says why there is no reading in degrees when Known.Scale is false.
const NoScale = "give the distance, the field of view or a known length"

// tempo sets the tempo ratio of moments that were all read off pictures a frame (s) apart.
func tempo(r *drills.Rep, frame float64) {
	sigma := drills.MomentSigma(frame)
	r.SetTempo(sigma, sigma)
}
