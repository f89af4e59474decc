package sight

import (
	"math"

	"drillbay/camera/lens"
)

// Setting is what the passes must know of the bay and the club.
type Setting struct {
	View     lens.View
	Distance float64 // m, from the lens to the hands at address along the target line
	Reach    float64 // m, from the hands point to where the shaft axis meets the sole
	Grip     float64 // m, from the club's end to the hands point; 0: as usual
	Front    bool    // the camera is before the player's chest
}

// perMetre is the size in px of a metre square on at forward metres.
func (s Setting) perMetre(forward float64) float64 { return s.View.Focal / forward }

// ArmRadius is from the middle of the shoulders to the hands, m: a prior.
const ArmRadius = 0.70

// Towards is how far toward the lens the hands have come, m, by how far they
// have risen, m: they hang on arms of ArmRadius.
func Towards(rise float64) float64 {
	rise = max(0, min(rise, ArmRadius))
	return math.Sqrt(2*ArmRadius*rise - rise*rise)
}

func sq(x float64) float64 { return x * x }
