package sight

import (
	"drillbay/camera/eye"
	"drillbay/camera/lens"
)

// Joints are places of a body where a rep is read, as somebody who looks at the
// picture puts them right: px of the analysed picture, sides as of a right-hander.
type Joints struct {
	At   map[eye.Point]lens.Point
	Hips *lens.Point // the middle of the hips, nil: as it was seen
}

// put is a place that somebody put, in a picture that has so many pixels a metre
// there.
func put(at lens.Point, perMetre float64) spread {
	k := sq(putSigma * perMetre)
	return spread{at: at, uu: k, vv: k, ok: true}
}

// in puts the joints of a stand right.
func (j Joints) in(s *stand, perMetre float64) {
	for p, at := range j.At {
		s[p] = put(at, perMetre)
	}
}

// Again reads the body once more with joints that were put right, those of home at
// address and those of here where the rep is read; hands and top stay as they were seen.
// A reading that no such joint carries is as it was.
func (b Body) Again(home, here Joints) Body {
	if b.reader == nil {
		return b
	}
	r := *b.reader
	r.hidden = nil
	scale := r.v.Focal / r.base
	hips := [2]joint{r.middle(&r.home), r.middle(&r.held)} // a trail hip that is put right does not move it
	for i, j := range [2]Joints{home, here} {
		j.in([2]*stand{&r.home, &r.held}[i], scale)
		if j.Hips != nil {
			hips[i] = jointAt(r.v, put(*j.Hips, scale), r.base, bodyForward)
		}
	}
	r.hips = hips
	none := noMeasure()
	out := Body{HandsUnder: none, Tilt: none, HeadUp: none, HeadOut: none, HipsOut: none, Bend: none, Elbow: none, Top: b.Top}
	out.Home, out.Held = r.home.points(), r.held.points()
	r.read(&out)
	return out
}

// Again reads the body once more with joints that were put right, as Body's does.
func (f *Front) Again(home, here Joints) Front {
	out := *f
	if f.reader == nil {
		return out
	}
	none := noMeasure()
	out.HeadBack, out.HipsBack, out.HandsThigh, out.ArmBack, out.Bend = none, none, none, none, none
	out.Hidden, out.Unclear = nil, nil
	r := *f.reader
	r.f = &out
	scale := r.s.perMetre(r.s.Distance)
	hips := [2]joint{r.hips(&r.home), r.hips(&r.here)}
	for i, j := range [2]Joints{home, here} {
		j.in([2]*stand{&r.home, &r.here}[i], scale)
		if j.Hips != nil {
			hips[i] = jointAt(r.s.View, put(*j.Hips, scale), r.s.Distance+hipBehind, behindSigma)
		}
	}
	r.middle = hips
	out.Home, out.Here = r.home.points(), r.here.points()
	r.read()
	return out
}
