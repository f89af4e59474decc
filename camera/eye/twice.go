package eye

import "drillbay/camera/frame"

// Twice looks at a window as it is and mirrored, and joins what the two show:
// their errors have less in common than those of two pictures of a thing that
// rests.
func (e *Eye) Twice(at Window, now, before, still *frame.Picture, mirrored bool) Look {
	a, b := e.Look(at, now, before, still, mirrored), e.Look(at, now, before, still, !mirrored)
	for p := range a.Places {
		a.Places[p] = joined(a.Places[p], b.Places[p])
	}
	return a
}

// joined is the mean of two places, each by its chance and covariance, and as
// unsure as the two are and as they differ.
func joined(a, b Place) Place {
	weight := func(p Place) float64 { return p.Here * p.Here / (p.UU + p.VV + 1e-9) }
	wa, wb := weight(a), weight(b)
	if wa+wb == 0 {
		return a
	}
	wa, wb = wa/(wa+wb), wb/(wa+wb)
	du, dv := a.U-b.U, a.V-b.V
	apart := wa * wb
	return Place{
		U: wa*a.U + wb*b.U, V: wa*a.V + wb*b.V,
		UU: wa*a.UU + wb*b.UU + apart*du*du, UV: wa*a.UV + wb*b.UV + apart*du*dv, VV: wa*a.VV + wb*b.VV + apart*dv*dv,
		Here: max(a.Here, b.Here), Seen: wa*a.Seen + wb*b.Seen,
	}
}
