package sight

import (
	"math"

	"drillbay/camera/lens"
)

// speeds are how fast the shaft turns and the hands move about each node,
// rad/s and m/s: the most within a short time.
func (f *fit) speeds() (turn, hands []float64) {
	n := len(f.nodes)
	a, b := make([]float64, n), make([]float64, n)
	for i := range f.nodes {
		j, k := i, i
		for j > 0 && f.nodes[i].at-f.nodes[j].at < speedOver {
			j--
		}
		for k < n-1 && f.nodes[k].at-f.nodes[i].at < speedOver {
			k++
		}
		p, q := &f.nodes[j], &f.nodes[k]
		long := max(q.at-p.at, 1e-3)
		a[i] = math.Acos(max(-1, min(1, p.shaft.Dot(q.shaft)))) / long
		b[i] = q.hands.Sub(p.hands).Len() / long
	}
	turn, hands = make([]float64, n), make([]float64, n)
	for i := range f.nodes {
		for j := max(0, i-8); j <= min(n-1, i+8); j++ {
			if j == i || math.Abs(f.nodes[j].at-f.nodes[i].at) < 1.5*speedOver || j == i-1 || j == i+1 {
				turn[i], hands[i] = max(turn[i], a[j]), max(hands[i], b[j])
			}
		}
	}
	return turn, hands
}

// smooth ties each node to its neighbours: speeds change by random pushes, so
// that their second differences are what they are per second.
func (f *fit) smooth() {
	turns, moves := f.speeds()
	for i := 1; i+1 < len(f.nodes); i++ {
		p, n, q := &f.nodes[i-1], &f.nodes[i], &f.nodes[i+1]
		h1, h2 := n.at-p.at, q.at-n.at
		span := lasting * (h1 + h2) / 3
		sigmaTurn := f.turns * max(turns[i], calmTurn) * math.Sqrt(span)
		sigmaMove := f.moves * max(moves[i], calmHands) * math.Sqrt(span)
		// The shaft's, across the shaft: going on along a great circle is no change.
		v := q.shaft.Sub(n.shaft).Mul(1 / h2).Sub(n.shaft.Sub(p.shaft).Mul(1 / h1))
		radial := v.Dot(n.shaft)
		pa, pb := axes(p.shaft)
		na, nb := axes(n.shaft)
		qa, qb := axes(q.shaft)
		ra, rb := v.Dot(na)/sigmaTurn, v.Dot(nb)/sigmaTurn
		weight := f.believe(ra*ra+rb*rb, 2)
		for k, e := range [2]lens.Vec{na, nb} {
			var r row
			c := (i - 1) * blockSize
			r.put(c+3, e.Dot(pa)/h1/sigmaTurn)
			r.put(c+4, e.Dot(pb)/h1/sigmaTurn)
			c += blockSize
			r.put(c+3+k, (-(1/h1+1/h2)-radial)/sigmaTurn)
			c += blockSize
			r.put(c+3, e.Dot(qa)/h2/sigmaTurn)
			r.put(c+4, e.Dot(qb)/h2/sigmaTurn)
			f.sys.add(&r, [2]float64{ra, rb}[k], weight)
		}
		w := q.hands.Sub(n.hands).Mul(1 / h2).Sub(n.hands.Sub(p.hands).Mul(1 / h1)).Mul(1 / sigmaMove)
		weight = f.believe(w.Dot(w), 3)
		for k, x := range [3]float64{w.X, w.Y, w.Z} {
			var r row
			c := (i - 1) * blockSize
			r.put(c+k, 1/h1/sigmaMove)
			r.put(c+blockSize+k, -(1/h1+1/h2)/sigmaMove)
			r.put(c+2*blockSize+k, 1/h2/sigmaMove)
			f.sys.add(&r, x, weight)
		}
	}
}

// believe is the weight of a change of speed: a stop is abrupt.
func (f *fit) believe(d2, of float64) float64 {
	d2 /= sq(f.loose) * f.loose
	f.cost += (smoothFreedom + of) * math.Log1p(d2/smoothFreedom)
	return (smoothFreedom + of) / (smoothFreedom + d2)
}

// say adds that one of a node's numbers, less the hands' distance at address
// when base is set, is want within sigma.
func (f *fit) say(col int, value, want, sigma float64, base bool) {
	var r row
	r.put(col, 1/sigma)
	if base {
		r.put(f.sys.n+knobDistance, -f.doubt.Distance/sigma)
	}
	d := (value - want) / sigma
	f.cost += d * d
	f.sys.add(&r, d, 1)
}

// lean adds that the shaft of a node, whose numbers begin at a column, leans
// toward the target by want within sigma, as the sine.
func (f *fit) lean(col int, n *node, want, sigma float64) {
	a, b := axes(n.shaft)
	var r row
	r.put(col+3, a.X/sigma)
	r.put(col+4, b.X/sigma)
	d := (n.shaft.X - want) / sigma
	f.cost += d * d
	f.sys.add(&r, d, 1)
}

// priors adds what is known of a swing beside the looks.
func (f *fit) priors() {
	for k := range borders {
		var r row
		r.put(f.sys.n+k, 1)
		f.cost += sq(f.knobs[k])
		f.sys.add(&r, f.knobs[k], 1)
	}
	address, home := f.nodes[0].hands, f.nodes[0].shaft.X
	for i := range f.nodes {
		n := &f.nodes[i]
		c := i * blockSize
		once := 1.0
		switch n.role {
		case atAddress:
			f.say(c, n.hands.X-f.base(), 0, 0.01, true)
			f.lean(c, n, leanAddress, leanSigma)
		case leavingAddress:
			// How far it points to the lens is hardly seen: as at address.
			f.lean(c, n, home, stillSigma)
			fallthrough
		case moving:
			h := 1 / 30.0
			if i > 0 && i+1 < len(f.nodes) {
				h = min(0.1, (f.nodes[i+1].at-f.nodes[i-1].at)/2)
			}
			once = math.Sqrt(sayOnce / h)
		}
		if n.role != atAddress {
			want, sigma := f.travel(n, address)
			f.say(c, n.hands.X-f.base(), -want, sigma*once, true)
		}
		f.arm(i, once)
	}
}

// travel is how far toward the lens the hands have come from address, m, with
// its sigma, by where the club points and by how far they have risen.
func (f *fit) travel(n *node, address lens.Vec) (want, sigma float64) {
	want, sigma = -goesWith*n.shaft.X, goesSigma+highSigma*max(0, n.shaft.Z)
	if n.shaft.X > -0.2 || n.shaft.Z > 0.3 {
		return want, sigma
	}
	rise := max(0.005, min(n.hands.Z-address.Z, ArmRadius))
	arc := Towards(rise)
	s := math.Hypot(riseSigma*(ArmRadius-rise)/arc, arcSigma*arc)
	w := sq(sigma) / (sq(sigma) + sq(s))
	return want + w*(arc-want), sigma * s / math.Hypot(sigma, s)
}

// arm adds that the lead arm, while it is straight, has one length.
func (f *fit) arm(i int, once float64) {
	n := &f.nodes[i]
	lead, elbow := n.of[leadShoulder], n.of[leadElbow]
	if !lead.ok || !elbow.ok {
		return
	}
	turn := f.turn(n)
	ahead := f.base() + shoulders + halfShoulders*math.Cos(turn)
	v := f.view()
	shoulder := v.At(lead.at, ahead)
	d := n.hands.Sub(shoulder)
	length := d.Len()
	// An elbow beside the line from shoulder to hands makes the way shorter.
	middle, ok := v.Project(shoulder.Add(n.hands).Mul(0.5))
	hands, ok2 := v.Project(n.hands)
	if !ok || !ok2 {
		return
	}
	long := apart(hands, lead.at)
	if long < 1 {
		return
	}
	beside := math.Abs((elbow.at.U-middle.U)*(hands.V-lead.at.V)-(elbow.at.V-middle.V)*(hands.U-lead.at.U)) / long * ahead / v.Focal
	u := d.Mul(1 / length)
	pixel := ahead / v.Focal * lead.sigma()
	sigma := math.Sqrt(sq(shoulderSigma*u.X) + (1-u.X*u.X)*sq(pixel) + sq(0.015) + sq(6*beside*beside/length))
	arm := usualArm + f.knobs[knobArm]*armSigma
	r := (length - arm) / sigma
	k := (freedom + 1) / (freedom + r*r) / sq(once)
	var e row
	c := i * blockSize
	e.put(c, u.X/sigma)
	e.put(c+1, u.Y/sigma)
	e.put(c+2, u.Z/sigma)
	e.put(f.sys.n+knobDistance, -u.X*f.doubt.Distance/sigma)
	e.put(f.sys.n+knobArm, -armSigma/sigma)
	f.cost += r * r * k
	f.sys.add(&e, r, k)
}

// turn is how far the shoulders have turned from the target line, rad, + as in
// the backswing, by how the two lie in the picture; 0 when they are not seen.
func (f *fit) turn(n *node) float64 {
	a, b := n.of[leadShoulder], n.of[trailShoulder]
	if !a.ok || !b.ok {
		return 0
	}
	k := f.base() / f.view().Focal / (2 * halfShoulders)
	wide := k * apart(a.at, b.at)
	return math.Copysign(math.Asin(min(1, wide)), a.at.U-b.at.U)
}
