package eye

import "drillbay/camera/frame"

// Again looks at a window mirrored and joins what is seen of the club with what
// was seen of it before: the errors of the two have less in common than those of
// two pictures of a thing that rests.
func (e *Eye) Again(places *[Points]Place, at Window, now, before, still *frame.Picture, mirrored bool) {
	l := e.Look(at, now, before, still, !mirrored)
	for p := GripEnd; p <= Head; p++ {
		places[p] = joined(places[p], l.Places[p])
	}
}

// joined is the mean of two places, each by its chance and covariance, and as
// unsure as the two are and as they differ. Two that exclude each other have no
// mean: of them the surer stays, with as much of its chance as it outweighs the
// other.
func joined(a, b Place) Place {
	weight := func(p Place) float64 { return p.Here * p.Here / (p.UU + p.VV + 1e-9) }
	wa, wb := weight(a), weight(b)
	if wa+wb == 0 {
		return a
	}
	wa, wb = wa/(wa+wb), wb/(wa+wb)
	du, dv, both := a.U-b.U, a.V-b.V, wa*wb
	if du*du+dv*dv > agree*agree*(a.UU+a.VV+b.UU+b.VV)/2 {
		if wa < wb {
			a, wa = b, wb
		}
		a.Here *= wa
		return a
	}
	return Place{
		U: wa*a.U + wb*b.U, V: wa*a.V + wb*b.V,
		UU: wa*a.UU + wb*b.UU + both*du*du, UV: wa*a.UV + wb*b.UV + both*du*dv, VV: wa*a.VV + wb*b.VV + both*dv*dv,
		Here: max(a.Here, b.Here), Seen: wa*a.Seen + wb*b.Seen,
	}
}
