package lens

import "math"

// Club is one sight of the club: the two points in the analysed picture (px)
// and how far the hands are from the lens along the target line (m).
type Club struct {
	Hands, Head Point
	Forward     float64
	Reach       float64 // m, hands to head
}

// Sigmas are the 1-sigma uncertainties of what a reading is made from.
type Sigmas struct {
	Hands, Head float64 // px, along the picture's level
	Forward     float64 // m
	Reach       float64 // m
	Target      float64 // px, across
	Roll        float64 // degrees
	Focal       float64 // share
}

// Reading is the shaft line and the elevation, degrees, of the club as seen.
// ok is false when no club of that length can look so.
func (v View) Reading(c Club) (line, elevation float64, ok bool) {
	hands := v.At(c.Hands, c.Forward)
	head, ok := Meet(hands, v.Ray(c.Head), c.Reach, 0.05)
	if !ok {
		return 0, 0, false
	}
	line, elevation = Angles(hands, head)
	return line, elevation, true
}

// Uncertainty is the 1-sigma uncertainty of the shaft line of a club as seen,
// degrees: each input is moved by its sigma, and the moves of the reading are
// added in squares (first-order propagation).
func (v View) Uncertainty(c Club, s Sigmas) float64 {
	base, _, ok := v.Reading(c)
	if !ok {
		return math.Inf(1)
	}
	var sum float64
	try := func(w View, d Club) {
		if line, _, ok := w.Reading(d); ok {
			diff := math.Remainder(line-base, 360)
			sum += diff * diff
		}
	}
	d := c
	d.Hands.U += s.Hands
	try(v, d)
	d = c
	d.Head.U += s.Head
	try(v, d)
	d = c
	d.Forward += s.Forward
	try(v, d)
	d = c
	d.Reach += s.Reach
	try(v, d)
	with := func(change func(*Camera)) {
		cam := v.Camera
		change(&cam)
		if w, err := NewView(cam); err == nil {
			try(w, c)
		}
	}
	with(func(c *Camera) { c.Target.U += s.Target })
	with(func(c *Camera) { c.Roll += s.Roll })
	with(func(c *Camera) { c.Focal *= 1 + s.Focal })
	return math.Sqrt(sum)
}
