package lens

import (
	"errors"
	"math"
)

// Offset is the way from the lens to where the line to the hands at address runs parallel
// to the target line. Up and Near say how far to move the camera, metres: up, and nearer
// the ball; UpAngle and NearAngle are the same as angles at the lens, degrees. Turning the
// camera changes none of it.
type Offset struct{ Up, Near, UpAngle, NearAngle float64 }

// ErrBehind says that the hands cannot be where they are said to be.
var ErrBehind = errors.New("the hands cannot be there: check the target point and the distance")

// OffsetOf is the lens offset with the hands at a point of the analysed
// picture, forward metres from the lens along the target line.
func (v View) OffsetOf(hands Point, forward float64) (Offset, error) {
	at := v.At(hands, forward)
	if !(forward > 0) || !(v.Ray(hands).X > 0.2) {
		return Offset{}, ErrBehind
	}
	// The place of the hands as seen from the lens: the camera goes there.
	return Offset{
		Up: at.Z, Near: -at.Y,
		UpAngle: degrees(math.Atan2(at.Z, forward)), NearAngle: degrees(math.Atan2(-at.Y, forward)),
	}, nil
}

// How the hands get from address to the level moment, metres (common
// practice): toward the lens, and up.
const (
	handsTravel = 0.33
	handsRise   = 0.10
)

// Foresee is the 1-sigma uncertainty, degrees, of the reading of a club in
// line and level that is swung back from hands at a point of the analysed
// picture: as the camera stands, and with the lens offset taken away.
func (v View) Foresee(hands Point, forward, reach float64, s Sigmas) (now, there float64) {
	from := v.At(hands, forward)
	at := func(y, z float64) float64 {
		place := Vec{forward - handsTravel, y, z + handsRise}
		h, ok1 := v.Project(place)
		head, ok2 := v.Project(place.Add(Direction(0, 0).Mul(reach)))
		if !ok1 || !ok2 {
			return math.Inf(1)
		}
		return v.Uncertainty(Club{Hands: h, Head: head, Forward: place.X, Reach: reach}, s)
	}
	return at(from.Y, from.Z), at(0, 0)
}
