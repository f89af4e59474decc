package lens

import "math"

// Direction is the shaft's unit direction from hands to head with the given
// shaft line and elevation, degrees: line = atan2(s.y, −s.x),
// elevation = asin(s.z).
func Direction(line, elevation float64) Vec {
	sl, cl := math.Sincos(radians(line))
	se, ce := math.Sincos(radians(elevation))
	return Vec{-cl * ce, sl * ce, se}
}

// Angles are the shaft line and the elevation, degrees, of the shaft from
// hands to head.
func Angles(hands, head Vec) (line, elevation float64) {
	s := head.Sub(hands).Unit()
	return degrees(math.Atan2(s.Y, -s.X)), degrees(math.Asin(max(-1, min(1, s.Z))))
}

// Reach gives the two places, from the lens, where the ray (unit) comes
// within length of hands: t = b ± √(b² − (c² − L²)). ok is false when it
// passes the hands farther away than that.
func Reach(hands, ray Vec, length float64) (near, far Vec, ok bool) {
	b := hands.Dot(ray)
	d := b*b - (hands.Dot(hands) - length*length)
	if d < 0 {
		return Vec{}, Vec{}, false
	}
	r := math.Sqrt(d)
	return ray.Mul(b - r), ray.Mul(b + r), true
}

// Meet gives the place on the ray within reach of hands that is nearer to the
// lens, or, when the ray just misses (by at most slack metres), the place on
// the sphere nearest to the ray.
func Meet(hands, ray Vec, length, slack float64) (Vec, bool) {
	if near, _, ok := Reach(hands, ray, length); ok {
		return near, true
	}
	foot := ray.Mul(hands.Dot(ray)).Sub(hands)
	if foot.Len() > length+slack {
		return Vec{}, false
	}
	return hands.Add(foot.Unit().Mul(length)), true
}
