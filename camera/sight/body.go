package sight

import (
	"math"
	"slices"
	"strings"

	"drillbay/camera/eye"
	"drillbay/camera/lens"
)

// Body is how the body stands where a rep is read, in the hold or as the shaft
// passes level, against address, seen down the line: lengths in m, angles in
// degrees. A Measure without its points, or of what this view does not tell, is
// not OK.
type Body struct {
	// HandsUnder is how far the hands are from the vertical under the lead
	// shoulder, + toward the ball.
	HandsUnder Measure
	// Tilt is by how much the spine, from the middle of the hips to the neck, is
	// bent more toward the ball than at address.
	Tilt Measure
	// HeadUp and HeadOut are the crown's way up and toward the ball.
	HeadUp, HeadOut Measure
	// HipsOut is the way of the middle of the hips toward the ball.
	HipsOut Measure
	// Bend is how far the lead arm is bent, 0 when it is straight.
	Bend Measure
	// Elbow is how far the trail elbow is behind the trail hip, away from the
	// ball; less than 0 before it.
	Elbow Measure
	// Top is how far the hands are above address at the top of a whole swing.
	Top Measure
	// Home and Held are where the points were seen at address and where the rep is
	// read, px of the analysed picture, sides as of a right-hander; NaN where not.
	Home, Held [eye.Points]lens.Point
	// Hidden are the joints that were not seen and would be needed; Unclear says
	// what this view does not tell of those that were.
	Hidden, Unclear []string

	reader *bodyReader // that read it, nil where nothing was read
}

// joint is a point of the body in bay axes from the lens, m, with its 1-sigma uncertainty
// across and up: the part that the picture leaves, and the whole.
type joint struct {
	at       lens.Vec
	seen     doubts // by the picture, m²
	side, up float64
	ok       bool
}

// bodyReader reads the joints of two stands.
type bodyReader struct {
	v            lens.View
	base         float64
	home, held   stand
	hands, sigma lens.Vec // where it is read, m
	hips         [2]joint // their middle at address and there, as it stands since somebody put joints right
	hidden       []string
}

// Body reads the body where the rep is read against address, from the looks
// that the track was made of.
func (m *Motion) Body(looks []Look) (b Body) {
	f := m.fit
	r := bodyReader{v: f.view(), base: f.base()}
	from, to := m.stillAt()
	r.home = f.set.standing(looks, from, to)
	none := noMeasure()
	b = Body{HandsUnder: none, Tilt: none, HeadUp: none, HeadOut: none, HipsOut: none, Bend: none, Elbow: none, Top: none}
	where := between{m.Hold, 0}
	if m.Hold >= 0 {
		r.held = f.set.standing(looks, m.To+arriving, m.Rest)
	} else {
		b.Top = r.top(&b, m, looks)
		level := m.Times().Level
		if math.IsNaN(level) {
			b.Unclear = append(b.Unclear, "the club was not followed through level")
			b.Home, b.Held = r.home.points(), r.held.points()
			b.Hidden = r.hidden
			return b
		}
		where = m.find(level)
		r.held = f.set.passing(looks, level, passes)
	}
	b.Home, b.Held = r.home.points(), r.held.points()
	r.hands, r.sigma = m.handsAt(where)
	r.read(&b)
	return b
}

// read reads all but the top.
func (r *bodyReader) read(b *Body) {
	r.under(b)
	r.head(b)
	r.spine(b)
	r.elbow(b)
	b.Bend = r.bend(b)
	b.Hidden, b.reader = r.hidden, r
}

// stillAt is when the player stood still at address, s.
func (m *Motion) stillAt() (from, to float64) {
	first := m.Poses[0].At
	last := m.Poses[m.Address].At
	to = m.From - leaving
	if m.Address == 0 {
		return first - (to - first), max(to, first)
	}
	return first - (last-first)/2, max(to, last)
}

// handsAt are the hands between two poses, m, with their uncertainty each way.
func (m *Motion) handsAt(b between) (at, sigma lens.Vec) {
	at = m.Poses[b.i].Hands
	share := func(axis int) float64 {
		c := []combination{{b.i, axis, 1 - b.share}}
		if b.share > 0 {
			c = append(c, combination{b.i + 1, axis, b.share})
		}
		return m.sigma(c...)
	}
	if b.share > 0 {
		at = at.Mul(1 - b.share).Add(m.Poses[b.i+1].Hands.Mul(b.share))
	}
	return at, lens.Vec{X: share(0), Y: share(1), Z: share(2)}
}

// see is a point of a stand that lies forward metres from the lens within
// sigma.
func (r *bodyReader) see(s *stand, p eye.Point, forward, sigma float64) joint {
	x := s[p]
	if !x.ok {
		r.miss(p)
		return joint{}
	}
	return jointAt(r.v, x, forward, sigma)
}

// jointAt is a point that is seen in the picture and lies forward metres from the
// lens within sigma.
func jointAt(v lens.View, x spread, forward, sigma float64) joint {
	at := v.At(x.at, forward)
	k := sq(forward / v.Focal)
	j := joint{at: at, seen: doubts{k * x.uu, k * x.uv, k * x.vv}, ok: true}
	j.side = math.Hypot(math.Sqrt(j.seen.aa), sigma/forward*at.Y)
	j.up = math.Hypot(math.Sqrt(j.seen.uu), sigma/forward*at.Z)
	return j
}

// miss notes a joint that was not seen, once.
func (r *bodyReader) miss(p eye.Point) { r.hidden = noted(r.hidden, p) }

// under reads the hands against the vertical under the lead shoulder.
func (r *bodyReader) under(b *Body) {
	if s := r.see(&r.held, eye.LeftShoulder, r.base+shoulders+halfShoulders*math.Cos(r.turn(&r.held)), shoulderSigma); s.ok {
		b.HandsUnder = Measure{s.at.Y - r.hands.Y, math.Hypot(s.side, r.sigma.Y)}
	}
}

// turn is how far the shoulders of a stand have turned from the target line,
// rad; 0 when they are not seen.
func (r *bodyReader) turn(s *stand) float64 {
	a, b := s[eye.LeftShoulder], s[eye.RightShoulder]
	if !a.ok || !b.ok {
		return 0
	}
	wide := r.base / r.v.Focal / (2 * halfShoulders) * apart(a.at, b.at)
	return math.Copysign(math.Asin(min(1, wide)), a.at.U-b.at.U)
}

// head reads the crown's way.
func (r *bodyReader) head(b *Body) {
	p := r.see(&r.home, eye.Crown, r.base, bodyForward)
	q := r.see(&r.held, eye.Crown, r.base-headGoes, bodyForward)
	if p.ok && q.ok {
		b.HeadOut, b.HeadUp = r.moved(p, q, headMoves)
	}
}

// moved is the way from one place of a joint to another, toward the ball and
// up: how far away it is scales both, so only the way's own share counts.
func (r *bodyReader) moved(p, q joint, moves float64) (out, up Measure) {
	way := q.at.Sub(p.at)
	lasting, nearer := bodyForward/r.base, moves/r.base
	out = Measure{-way.Y, math.Sqrt(p.seen.aa + q.seen.aa + sq(lasting*way.Y) + sq(nearer*q.at.Y))}
	up = Measure{way.Z, math.Sqrt(p.seen.uu + q.seen.uu + sq(lasting*way.Z) + sq(nearer*q.at.Z))}
	return out, up
}

// middle is the middle of the hips of a stand. They lie behind each other, and
// their errors are much the same.
func (r *bodyReader) middle(s *stand) joint {
	if i := slices.Index([]*stand{&r.home, &r.held}, s); i >= 0 && r.hips[i].ok {
		return r.hips[i]
	}
	a, b := r.see(s, eye.LeftHip, r.base, bodyForward), r.see(s, eye.RightHip, r.base, bodyForward)
	if !a.ok || !b.ok {
		return joint{}
	}
	half := func(x, y float64) float64 { return sq((math.Sqrt(x) + math.Sqrt(y)) / 2) }
	return joint{at: a.at.Add(b.at).Mul(0.5), side: (a.side + b.side) / 2, up: (a.up + b.up) / 2, ok: true,
		seen: doubts{half(a.seen.aa, b.seen.aa), (a.seen.au + b.seen.au) / 2, half(a.seen.uu, b.seen.uu)}}
}

// spine reads hips and tilt.
func (r *bodyReader) spine(b *Body) {
	p, q := r.middle(&r.home), r.middle(&r.held)
	if p.ok && q.ok {
		b.HipsOut, _ = r.moved(p, q, bodyMoves)
	}
	n, o := r.see(&r.home, eye.Neck, r.base, bodyForward), r.see(&r.held, eye.Neck, r.base, bodyForward)
	if !p.ok || !q.ok || !n.ok || !o.ok {
		return
	}
	lean := func(hip, neck joint) Measure {
		d := neck.at.Sub(hip.at)
		// Across is toward the ball: −Y, so what across and up share changes sign
		// with the picture's U, which runs that way already.
		return bearing(-d.Y, d.Z, doubts{hip.seen.aa + neck.seen.aa, -(hip.seen.au + neck.seen.au), hip.seen.uu + neck.seen.uu})
	}
	before, now := lean(p, n), lean(q, o)
	b.Tilt = Measure{now.Value - before.Value, math.Hypot(before.Sigma, now.Sigma)}
}

// elbow reads the trail elbow against the trail hip.
func (r *bodyReader) elbow(b *Body) {
	h := r.see(&r.held, eye.RightHip, r.base, bodyForward)
	e := r.see(&r.held, eye.RightElbow, r.base-elbowNearer, elbowSigma)
	if h.ok && e.ok {
		b.Elbow = Measure{e.at.Y - h.at.Y, math.Hypot(h.side, e.side)}
	}
}

// Missing says in one short sentence what of the body was not seen or this view
// does not tell; "" when all was read.
func (b Body) Missing() string {
	var say []string
	if len(b.Hidden) > 0 {
		say = append(say, strings.Join(b.Hidden, ", ")+" not seen")
	}
	return strings.Join(append(say, b.Unclear...), "; ")
}
