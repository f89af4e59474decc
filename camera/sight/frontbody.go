package sight

import (
	"math"
	"slices"

	"drillbay/camera/eye"
)

// frontReader reads the body of a rep face-on from two stands.
type frontReader struct {
	s          Setting
	f          *Front
	home, here stand
	middle     [2]joint // of the hips, as in bodyReader
}

// see is a point of a stand that lies so far behind the hands at address: Y is
// away from the target.
func (r *frontReader) see(s *stand, p eye.Point, behind float64) joint {
	x := s[p]
	if !x.ok {
		r.miss(p)
		return joint{}
	}
	return jointAt(r.s.View, x, r.s.Distance+behind, behindSigma)
}

// miss notes a joint that was not seen, once.
func (r *frontReader) miss(p eye.Point) { r.f.Hidden = noted(r.f.Hidden, p) }

// read reads where the shaft is level or held, against address.
func (r *frontReader) read() {
	f := r.f
	if f.Held {
		f.Lift.Sigma = r.tilted()
	}
	f.HeadBack = r.moved(r.see(&r.home, eye.Crown, crownBehind), r.see(&r.here, eye.Crown, crownBehind))
	f.HipsBack = r.moved(r.hips(&r.home), r.hips(&r.here))
	hands := r.see(&r.here, eye.Hands, 0)
	hip, knee := r.see(&r.here, eye.RightHip, hipBehind), r.see(&r.here, eye.RightKnee, thighBehind)
	if hands.ok && hip.ok && knee.ok {
		// The thigh a third down from the hip.
		f.HandsThigh = Measure{hands.at.Y - (2*hip.at.Y+knee.at.Y)/3, math.Hypot(hands.side, math.Hypot(2*hip.side, knee.side)/3)}
	}
	shoulder := r.see(&r.here, eye.LeftShoulder, shoulderBehind)
	if hands.ok && shoulder.ok {
		d := hands.at.Sub(shoulder.at)
		f.ArmBack = bearing(d.Y, -d.Z, doubts{shoulder.seen.aa + hands.seen.aa, shoulder.seen.au + hands.seen.au, shoulder.seen.uu + hands.seen.uu})
	}
	f.Bend = r.bend()
}

// tilted is the 1-sigma uncertainty of the shaft's elevation, degrees.
func (r *frontReader) tilted() float64 {
	end := r.here[eye.Head]
	if !end.ok {
		end = r.here[eye.ShaftEnd]
	}
	hands := r.here[eye.Hands]
	if !end.ok || !hands.ok {
		return math.NaN()
	}
	d := end.at.V - hands.at.V
	u := end.at.U - hands.at.U
	return math.Hypot(bearing(u, d, doubts{end.uu + hands.uu, end.uv + hands.uv, end.vv + hands.vv}).Sigma, tiltSigma)
}

// moved is the way of a joint away from the target.
func (r *frontReader) moved(p, q joint) Measure {
	if !p.ok || !q.ok {
		return noMeasure()
	}
	way, d := q.at.Y-p.at.Y, r.s.Distance
	return Measure{way, math.Sqrt(p.seen.aa + q.seen.aa + sq(behindSigma/d*way) + sq(bodyMoves/d*q.at.Y) + sq(0.02*way))}
}

// hips is the middle of the hips, whose errors are their own here.
func (r *frontReader) hips(s *stand) joint {
	if i := slices.Index([]*stand{&r.home, &r.here}, s); i >= 0 && r.middle[i].ok {
		return r.middle[i]
	}
	a, b := r.see(s, eye.LeftHip, hipBehind), r.see(s, eye.RightHip, hipBehind)
	if !a.ok || !b.ok {
		return joint{}
	}
	return joint{at: a.at.Add(b.at).Mul(0.5), ok: true, side: (a.side + b.side) / 2, up: (a.up + b.up) / 2,
		seen: doubts{(a.seen.aa + b.seen.aa) / 2, (a.seen.au + b.seen.au) / 2, (a.seen.uu + b.seen.uu) / 2}}
}

// bend is the lead arm's bend, which lies across the view from here.
func (r *frontReader) bend() Measure {
	a, ok := armOf(r.s.View, &r.home, &r.here, r.miss)
	if !ok {
		return noMeasure()
	}
	behind := [3]float64{shoulderBehind, elbowBehind, 0}
	for i := range a.limbs {
		a.limbs[i].forward = Measure{r.s.Distance + behind[i%3], frontArmSigma}
	}
	a.limbs[2].forward.Sigma = handsSigma
	m, why := a.bend()
	if why != "" {
		r.f.Unclear = append(r.f.Unclear, why)
	}
	return m
}

// ball reads where the ball lies between the feet at address.
func (r *frontReader) ball() {
	if !r.home[eye.Ball].ok {
		return // most drills have none
	}
	b := r.see(&r.home, eye.Ball, ballBehind)
	lead, trail := r.see(&r.home, eye.LeftAnkle, ankleBehind), r.see(&r.home, eye.RightAnkle, ankleBehind)
	if !lead.ok || !trail.ok {
		return
	}
	wide := trail.at.Y - lead.at.Y
	if !(wide > 0.1) {
		r.f.Unclear = append(r.f.Unclear, "the feet are not beside each other")
		return
	}
	share := (trail.at.Y - b.at.Y) / wide
	r.f.Ball = Measure{share, math.Sqrt(sq(b.side)+sq((1-share)*trail.side)+sq(share*lead.side)) / wide}
}

// noted adds the name of a joint that was not seen to a list, once; sides as of a
// right-hander, whose left is the lead side.
func noted(list []string, p eye.Point) []string {
	name := map[eye.Point]string{eye.Hands: "hands", eye.Crown: "top of the head", eye.Neck: "neck", eye.LeftShoulder: "lead shoulder", eye.LeftElbow: "lead elbow", eye.RightElbow: "trail elbow",
		eye.LeftHip: "lead hip", eye.RightHip: "trail hip", eye.RightKnee: "trail knee", eye.LeftAnkle: "lead foot", eye.RightAnkle: "trail foot"}[p]
	if slices.Contains(list, name) {
		return list
	}
	return append(list, name)
}

// Missing says what was not seen or this view does not tell, as Body's does.
func (f *Front) Missing() string { return Body{Hidden: f.Hidden, Unclear: f.Unclear}.Missing() }
