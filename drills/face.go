package drills

import "math"

// Face is the state of the clubface at the level moment, as the coach marked it.
type Face uint8

const (
	Unmarked Face = iota
	Open          // toe beyond the vertical, toward the player
	Neutral       // between the vertical and the spine
	Shut          // toe beyond the spine, toward the ball
)

var faceNames = [...]string{"", "open", "neutral", "shut"}

func (f Face) String() string { return name(faceNames[:], int(f)) }

// ParseFace is the inverse of String.
func ParseFace(s string) (Face, error) {
	i, err := parse("face", faceNames[:], s)
	return Face(i), err
}

// FaceOf reads a face from four marks on the picture of the level moment: the
// leading edge, heel and toe, and the spine line, hip and neck. roll is that of
// the camera, degrees, clockwise as it sees: its picture leans the other way. ok is false when marks fall
// together or the spine points down.
func FaceOf(heel, toe, hip, neck Pixel, hand Hand, roll float64) (f Face, ok bool) {
	edge, ok1 := fromVertical(heel, toe, hand, roll)
	spine, ok2 := fromVertical(hip, neck, hand, roll)
	if !ok1 || !ok2 || math.Abs(spine) > 80 {
		return Unmarked, false
	}
	// A spine that leans away from the ball leaves the vertical as both limits.
	switch {
	case edge < 0:
		return Open, true
	case edge > max(spine, 0):
		return Shut, true
	}
	return Neutral, true
}

// fromVertical returns how far a line leans from the vertical toward the ball, degrees. A
// right-hander's ball is on the right of the picture.
func fromVertical(from, to Pixel, hand Hand, roll float64) (degrees float64, ok bool) {
	x, y := to.X-from.X, from.Y-to.Y
	if math.Hypot(x, y) < 2 {
		return 0, false
	}
	if degrees = math.Atan2(x, y)*180/math.Pi + roll; hand == Left {
		degrees = -degrees
	}
	return math.Remainder(degrees, 360), true
}

// UnderShoulder is within how many cm of the lead shoulder the hands lie
// under it (common practice).
const UnderShoulder = 5.0
