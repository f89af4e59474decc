package sight

import (
	"math"

	"drillbay/camera/eye"
	"drillbay/camera/lens"
)

// spread is a place in the analysed picture with its covariance, px.
type spread struct {
	at         lens.Point
	uu, uv, vv float64
	ok         bool
}

// sigma is the mean standard deviation, px.
func (p spread) sigma() float64 { return math.Sqrt((p.uu + p.vv) / 2) }

// apart is how far two points of the picture are from each other, px.
func apart(a, b lens.Point) float64 { return math.Hypot(a.U-b.U, a.V-b.V) }

// The points that the track is made of, and those of the body beside it.
const (
	gripEnd = iota
	handsAt
	shaftEnd
	headAt
	leadShoulder
	trailShoulder
	leadElbow
	neckAt
	seenPoints
)

// sight is what one look, or many joined, shows of the points.
type sighted struct {
	at    float64
	of    [seenPoints]spread
	looks int
	role  role
	// By how much the head's variance was raised above what the look itself says,
	// as looks beside it share its errors, or it is seen end-on; 0 is 1.
	raised float64
}

// ownSigma is how sure the look itself is of the head, px.
func (q *sighted) ownSigma() float64 {
	return q.of[headAt].sigma() / math.Sqrt(max(1, q.raised))
}

type role uint8

const (
	moving role = iota
	atAddress
	leavingAddress // at address still, or just about to go
	inHold
)

// sights are the looks in the analysed picture, without those in which the
// hands are not seen.
func (s Setting) sights(looks []Look) (out []sighted) {
	for _, l := range looks {
		if n := len(out); n > 0 && l.At <= out[n-1].at {
			continue
		}
		if q := s.sighted(l); q.of[handsAt].ok {
			out = append(out, q)
		}
	}
	return out
}

// sighted is a look in the analysed picture.
func (s Setting) sighted(l Look) sighted {
	q := sighted{at: l.At, looks: 1}
	for i, p := range [seenPoints]eye.Point{eye.GripEnd, eye.Hands, eye.ShaftEnd, eye.Head, eye.LeftShoulder, eye.RightShoulder, eye.LeftElbow, eye.Neck} {
		if s.View.Left {
			p = p.Mirrored()
		}
		q.of[i] = s.spread(l.Places[p])
	}
	return q
}

// spread is a place with all that its covariance should hold.
func (s Setting) spread(p eye.Place) spread {
	if !(p.Here >= leastHere) || !(p.UU > 0) || !(p.VV > 0) || !(p.UU*p.VV > p.UV*p.UV) {
		return spread{}
	}
	// A point that may be elsewhere, or hidden, is less sure by as much.
	k := unknown / (p.Here * (0.4 + 0.6*p.Seen))
	floor := sq(floorMetres*s.perMetre(s.Distance)) + sq(floorPixels)
	q := spread{at: s.View.Mirror(lens.Point{U: p.U, V: p.V}), uu: k*p.UU + floor, uv: k * p.UV, vv: k*p.VV + floor, ok: true}
	if s.View.Left {
		q.uv = -q.uv
	}
	return q
}
