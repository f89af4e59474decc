package rep

import (
	"drillbay/camera/sight"
	"drillbay/drills"
)

// Stand fills in how the body stood in a rep whose bay has a scale.
func Stand(r *drills.Rep, b sight.Body, k Known) {
	if !k.Scale {
		return
	}
	const cm = 100
	for _, x := range []struct {
		to   *drills.Reading
		from sight.Measure
		unit float64
	}{
		{&r.Body[drills.HandsUnder], b.HandsUnder, cm}, {&r.Body[drills.SpineTilt], b.Tilt, 1},
		{&r.Body[drills.HeadUp], b.HeadUp, cm}, {&r.Body[drills.HeadOut], b.HeadOut, cm}, {&r.Body[drills.HipsOut], b.HipsOut, cm},
		{&r.Body[drills.ArmBend], b.Bend, 1}, {&r.Body[drills.TrailElbow], b.Elbow, cm}, {&r.TopHeight, b.Top, cm},
	} {
		if x.from.OK() {
			*x.to = drills.Reading{Value: x.unit * x.from.Value, Sigma: x.unit * x.from.Sigma}
		}
	}
	r.BodyWhy = b.Missing()
}
