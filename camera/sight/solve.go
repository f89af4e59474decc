package sight

import (
	"math"

	"drillbay/camera/lens"
)

const (
	settled = 1e-4
)

// assemble makes the normal equations of the present nodes.
func (f *fit) assemble() {
	f.sys.clear()
	f.aim()
	f.chi, f.looks, f.cost = 0, 0, 0
	for i := range f.nodes {
		f.points(i)
	}
	f.smooth()
	f.priors()
}

// solve moves nodes and knobs until nothing changes (Gauss-Newton, with
// Student weights anew each round). The first rounds take outliers in, loosely,
// so that a poor start finds its way.
func (f *fit) solve() bool {
	for round := range rounds {
		f.loose = max(1, 4-float64(round))
		f.assemble()
		if !f.sys.factor() {
			return false
		}
		step := f.sys.right
		f.sys.solve(step)
		most := 0.0
		for i := range f.nodes {
			n, d := &f.nodes[i], step[i*blockSize:]
			h := lens.Vec{X: d[0], Y: d[1], Z: d[2]}
			if l := h.Len(); l > farHands {
				h = h.Mul(farHands / l)
			}
			n.hands = n.hands.Add(h)
			a, b := axes(n.shaft)
			k := 1.0
			if l := math.Hypot(d[3], d[4]); l > farTurn {
				k = farTurn / l
			}
			n.shaft = n.shaft.Add(a.Mul(k * d[3])).Add(b.Mul(k * d[4])).Unit()
			most = max(most, h.Len(), k*math.Hypot(d[3], d[4]))
			if n.hands.X < 0.3 || math.IsNaN(most) {
				return false
			}
		}
		for k := range f.knobs {
			f.knobs[k] = max(-3, min(3, f.knobs[k]+step[f.sys.n+k]))
		}
		if f.loose == 1 && most < settled {
			break
		}
	}
	f.assemble()
	return f.sys.factor()
}

// sees reports whether the head of the club is seen at node i, to 2.6 cm by what
// the look itself says, whatever the frame rate, and believed.
func (f *fit) sees(i int) bool {
	n := &f.nodes[i]
	return n.of[headAt].ok && n.weight[headAt] > 0.4 && n.ownSigma() < 0.026*f.set.perMetre(f.base())
}

// motion is the fit as a track, with the uncertainty of each pose.
func (f *fit) motion() Motion {
	m := Motion{Poses: make([]Pose, len(f.nodes)), Hold: -1, fit: f}
	m.Misfit = f.chi / max(1, f.looks-blockSize*float64(len(f.nodes))/2)
	for i := range f.nodes {
		n := &f.nodes[i]
		p := &m.Poses[i]
		*p = Pose{At: n.at, Hands: n.hands, Shaft: n.shaft, Head: n.hands.Add(n.shaft.Mul(f.reach())), Looks: n.looks}
		p.Line, p.Lift = lens.Angles(n.hands, p.Head)
		line, lift := gradients(n.shaft)
		p.LineSigma = m.sigma(combination{i, 3, line[0]}, combination{i, 4, line[1]})
		p.LiftSigma = m.sigma(combination{i, 3, lift[0]}, combination{i, 4, lift[1]})
		p.Forward = m.sigma(combination{i, 0, 1})
		switch n.role {
		case atAddress:
			m.Address = i
		case inHold:
			m.Hold = i
		}
	}
	return m
}

// gradients are how shaft line and elevation, degrees, move with the two turns
// of a shaft.
func gradients(s lens.Vec) (line, lift [2]float64) {
	a, b := axes(s)
	flat := max(1e-6, s.X*s.X+s.Y*s.Y)
	const deg = 180 / math.Pi
	for k, e := range [2]lens.Vec{a, b} {
		// line = atan2(y, −x), lift = asin(z).
		line[k] = deg * (-s.X*e.Y + s.Y*e.X) / flat
		lift[k] = deg * e.Z / math.Sqrt(flat)
	}
	return line, lift
}

// combination is a share of one of a node's numbers in what is asked.
type combination struct {
	node, number int
	share        float64
}

// sigma is the 1-sigma uncertainty of a sum of shares.
func (m *Motion) sigma(of ...combination) float64 {
	x := make([]float64, m.fit.sys.n+borders)
	for _, c := range of {
		x[c.node*blockSize+c.number] += c.share
	}
	m.fit.sys.solve(x)
	var v float64
	for _, c := range of {
		v += c.share * x[c.node*blockSize+c.number]
	}
	return math.Sqrt(max(0, v) * max(1, m.Misfit))
}
