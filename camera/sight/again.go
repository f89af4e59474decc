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

// Again reads the body once more with joints that were put right where the rep is
// read; address, hands and top stay as they were seen. A reading that no joint of
// j carries is as it was.
func (b Body) Again(j Joints) Body {
	if b.reader == nil {
		return b
	}
	r := *b.reader
	r.hidden = nil
	scale := r.v.Focal / r.base
	r.hips = r.middle(&r.held) // a trail hip that is put right does not move it
	j.in(&r.held, scale)
	if j.Hips != nil {
		r.hips = jointAt(r.v, put(*j.Hips, scale), r.base, bodyForward)
	}
	none := noMeasure()
	out := Body{HandsUnder: none, Tilt: none, HeadUp: none, HeadOut: none, HipsOut: none, Bend: none, Elbow: none, Top: b.Top}
	out.Home, out.Held = b.Home, r.held.points()
	r.read(&out)
	return out
}

// Again reads the body once more with joints that were put right, as Body's does.
func (f *Front) Again(j Joints) Front {
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
	r.middle = r.hips(&r.here)
	j.in(&r.here, scale)
	if j.Hips != nil {
		r.middle = jointAt(r.s.View, put(*j.Hips, scale), r.s.Distance+hipBehind, behindSigma)
	}
	out.Here = r.here.points()
	r.read()
	return out
}
