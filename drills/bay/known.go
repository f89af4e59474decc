package bay

import (
	"math"

	"drillbay/camera/lens"
	"drillbay/drills"
	"drillbay/drills/measure"
	"drillbay/drills/rep"
)

// Known gives the passes over pictures what they need of a bay, for a size in
// px, for a player's hand and a club's length in metres, 0 for the bay's.
func Known(b Bay, hand drills.Hand, club float64, width, height int) (rep.Known, error) {
	m := measure.Bay{Width: width, Height: height, Field: b.Field, Distance: b.Distance, Roll: b.Roll, Club: b.Club, Grip: b.Grip, Hand: b.Side(hand), FaceOn: b.FaceOn}
	if club > 0 {
		m.Club = club
	}
	if !b.FaceOn && b.Width > 0 && b.Height > 0 && !math.IsNaN(b.Target.X) && !math.IsNaN(b.Target.Y) {
		// The points of a bay are px of the picture they were set in.
		k := float64(width) / float64(b.Width)
		m.Target = &lens.Point{U: b.Target.X * k, V: b.Target.Y * float64(height) / float64(b.Height)}
		m.TargetSigma = max(b.TargetSd, 1) * k
	}
	k, err := m.Known()
	if b.RollSd > 0 {
		k.Roll = b.RollSd
	}
	return k, err
}
