package sight

import (
	"math"

	"drillbay/camera/lens"
)

// Body is how the body stands where a rep is read, against address, as seen down
// the line: lengths in m, angles in degrees. A Measure without its points has a
// NaN value.
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
}

// How sure it is how far from the lens a point of the body is, m: beside the
// hands' own distance it is taken to be where it was at address; and how far it
// may have come toward the lens since then, m.
const bodyForward, bodyMoves = 0.12, 0.08

// Body reads the body in the hold against address. ok is false for a track
// without a hold.
func (m *Motion) Body() (b Body, ok bool) {
	if m.Hold < 0 {
		return Body{}, false
	}
	f := m.fit
	home, held := &f.nodes[m.Address], &f.nodes[m.Hold]
	v, base := f.view(), f.base()
	type point struct {
		at       lens.Vec // in bay axes from the lens, m
		side, up float64  // 1-sigma uncertainty across and up, m
		ok       bool
	}
	see := func(n *node, p int, forward, sigma float64) point {
		x := n.of[p]
		if !x.ok {
			return point{}
		}
		at := v.At(x.at, forward)
		px := forward / v.Focal
		return point{at, math.Hypot(px*math.Sqrt(x.uu), sigma/forward*at.Y), math.Hypot(px*math.Sqrt(x.vv), sigma/forward*at.Z), true}
	}
	middle := func(a, b point) point {
		if !a.ok || !b.ok {
			return point{}
		}
		// The two hips lie behind each other: their errors are much the same.
		return point{a.at.Add(b.at).Mul(0.5), (a.side + b.side) / 2, (a.up + b.up) / 2, true}
	}
	hips := func(n *node) point {
		return middle(see(n, leadHip, base, bodyForward), see(n, trailHip, base, bodyForward))
	}
	none := Measure{math.NaN(), math.NaN()}
	b = Body{none, none, none, none, none}
	ahead := base + shoulders + halfShoulders*math.Cos(f.turn(held))
	if s := see(held, leadShoulder, ahead, shoulderSigma); s.ok {
		b.HandsUnder = Measure{s.at.Y - held.hands.Y, math.Hypot(s.side, m.sigma(combination{m.Hold, 1, 1}))}
	}
	moved := func(p, q point) (out, up Measure) {
		// How far away it is scales both: only the way's own share counts.
		way := q.at.Sub(p.at)
		lasting, moves := bodyForward/base, bodyMoves/base
		out = Measure{-way.Y, math.Sqrt(sq(own(p.side, lasting*p.at.Y)) + sq(own(q.side, lasting*q.at.Y)) + sq(lasting*way.Y) + sq(moves*q.at.Y))}
		up = Measure{way.Z, math.Sqrt(sq(own(p.up, lasting*p.at.Z)) + sq(own(q.up, lasting*q.at.Z)) + sq(lasting*way.Z) + sq(moves*q.at.Z))}
		return out, up
	}
	if p, q := see(home, crownAt, base, bodyForward), see(held, crownAt, base, bodyForward); p.ok && q.ok {
		b.HeadOut, b.HeadUp = moved(p, q)
	}
	p, q := hips(home), hips(held)
	if p.ok && q.ok {
		b.HipsOut, _ = moved(p, q)
		n, o := see(home, neckAt, base, bodyForward), see(held, neckAt, base, bodyForward)
		if n.ok && o.ok {
			lean := func(hip, neck point) (angle, sigma float64) {
				d := neck.at.Sub(hip.at)
				return math.Atan2(-d.Y, d.Z) * 180 / math.Pi, math.Hypot(neck.side, hip.side) / math.Hypot(d.Y, d.Z) * 180 / math.Pi
			}
			a, sa := lean(p, n)
			c, sc := lean(q, o)
			b.Tilt = Measure{c - a, math.Hypot(sa, sc)}
		}
	}
	return b, true
}

// own is what of a sigma is left without a part that is known.
func own(sigma, part float64) float64 { return math.Sqrt(max(0, sigma*sigma-part*part)) }
