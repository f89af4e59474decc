package sight

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"drillbay/camera/eye"
	"drillbay/camera/lens"
)

// limb is a place of shoulder, elbow or hand that is fitted: its place in the
// picture and how far it is from the lens, each by what is known of it.
type limb struct {
	see     spread
	forward Measure
}

// arm is the lead arm at address and where it is read, fitted together: both
// have the same two lengths.
type arm struct {
	view   lens.View
	limbs  [6]limb // shoulder, elbow, hands at address; the same later
	across float64 // the share of its length that lies across the view, by the last fit
}

// armOf is the lead arm as it is seen at address and later; what is not seen is
// told to miss.
func armOf(v lens.View, home, later *stand, miss func(eye.Point)) (a arm, ok bool) {
	a.view = v
	for i, s := range [2]*stand{home, later} {
		for k, p := range [3]eye.Point{eye.LeftShoulder, eye.LeftElbow, eye.Hands} {
			if !s[p].ok {
				miss(p)
				return a, false
			}
			a.limbs[3*i+k].see = s[p]
		}
	}
	return a, true
}

// numbers of the fit: for each limb U, V and how far away, then the lengths.
const armNumbers = 3*6 + 2

// bend is how far the lead arm is bent, degrees. One view shows how far the
// elbow is beside the line from shoulder to hands; how far before or behind it
// follows from the arm's two lengths, which address shows.
func (r *bodyReader) bend(b *Body) Measure {
	a, ok := armOf(r.v, &r.home, &r.held, r.miss)
	if !ok {
		return noMeasure()
	}
	at := [2]Measure{{r.base, handsSigma}, {r.hands.X, max(handsSigma, r.sigma.X)}}
	sure := [2]float64{elbowSigmaHome, math.Inf(1)}
	for i, s := range [2]*stand{&r.home, &r.held} {
		shoulder := Measure{r.base + shoulders + halfShoulders*math.Cos(r.turn(s)), shoulderSigma}
		elbow := Measure{(shoulder.Value + at[i].Value) / 2, sure[i]}
		a.limbs[3*i].forward, a.limbs[3*i+1].forward, a.limbs[3*i+2].forward = shoulder, elbow, at[i]
	}
	m, why := a.bend()
	if why != "" {
		b.Unclear = append(b.Unclear, why)
	}
	return m
}

// bend is the bend that fits best, and why there is none.
func (a *arm) bend() (m Measure, why string) {
	near, costNear := a.fit(-0.12)
	far, costFar := a.fit(0.12)
	best := near
	if !(costNear <= costFar) {
		best = far
	}
	switch {
	case !best.OK() || best.Sigma > mostBend || a.across < leastAcross:
		return noMeasure(), "the lead arm's bend cannot be told from here"
	case near.OK() && far.OK() && math.Abs(costNear-costFar) < 2 && math.Abs(near.Value-far.Value) > oneBend:
		return noMeasure(), "the lead arm may be bent either way"
	}
	return best, ""
}

// fit is the bend by least squares (Gauss-Newton), the elbow beginning so far
// beyond half way, m; the cost is the sum of squares.
func (a *arm) fit(beyond float64) (bend Measure, cost float64) {
	var x [armNumbers]float64
	for i, l := range a.limbs {
		x[3*i], x[3*i+1], x[3*i+2] = l.see.at.U, l.see.at.V, l.forward.Value
	}
	x[3*4+2] += beyond
	p := a.places(&x)
	x[18], x[19] = p[1].Sub(p[0]).Len(), p[2].Sub(p[1]).Len()
	var n normal
	for range bendRounds {
		n = normal{}
		cost = a.assemble(&x, &n)
		step, ok := n.solve(n.right)
		if !ok {
			return noMeasure(), math.Inf(1)
		}
		for i := range x {
			limit := 20.0 // px
			if i%3 == 2 || i >= 18 {
				limit = 0.06 // m
			}
			x[i] -= max(-limit, min(limit, step[i]))
		}
	}
	// The bend's slope, and its uncertainty by the law of propagation.
	const little = 1e-5
	value := a.bent(&x)
	var slope [armNumbers]float64
	for i := range x {
		y := x
		y[i] += little
		slope[i] = (a.bent(&y) - value) / little
	}
	out, ok := n.solve(slope)
	if !ok {
		return noMeasure(), math.Inf(1)
	}
	var variance float64
	for i := range slope {
		variance += slope[i] * out[i]
	}
	p = a.places(&x)
	d := p[5].Sub(p[3])
	a.across = math.Hypot(d.Y, d.Z) / d.Len()
	return Measure{value, math.Sqrt(max(0, variance))}, cost
}

func (a *arm) places(x *[armNumbers]float64) (p [6]lens.Vec) {
	for i := range p {
		p[i] = a.view.At(lens.Point{U: x[3*i], V: x[3*i+1]}, x[3*i+2])
	}
	return p
}

// bent is the angle between upper arm and forearm where it is read, degrees.
func (a *arm) bent(x *[armNumbers]float64) float64 {
	p := a.places(x)
	u, w := p[4].Sub(p[3]).Unit(), p[5].Sub(p[4]).Unit()
	return math.Atan2(u.Cross(w).Len(), u.Dot(w)) * 180 / math.Pi
}

// assemble adds all that is known of the numbers, and gives the cost.
func (a *arm) assemble(x *[armNumbers]float64, n *normal) (cost float64) {
	for i, l := range a.limbs {
		det := l.see.uu*l.see.vv - l.see.uv*l.see.uv
		du, dv := x[3*i]-l.see.at.U, x[3*i+1]-l.see.at.V
		w := [3]float64{l.see.vv / det, -l.see.uv / det, l.see.uu / det}
		n.add(3*i, 3*i, w[0])
		n.add(3*i, 3*i+1, w[1])
		n.add(3*i+1, 3*i, w[1])
		n.add(3*i+1, 3*i+1, w[2])
		n.right[3*i] += w[0]*du + w[1]*dv
		n.right[3*i+1] += w[1]*du + w[2]*dv
		cost += w[0]*du*du + 2*w[1]*du*dv + w[2]*dv*dv
		if !math.IsInf(l.forward.Sigma, 1) {
			d, k := x[3*i+2]-l.forward.Value, 1/sq(l.forward.Sigma)
			n.add(3*i+2, 3*i+2, k)
			n.right[3*i+2] += k * d
			cost += k * d * d
		}
	}
	const little = 1e-5
	for k, ends := range [4][2]int{{0, 1}, {1, 2}, {3, 4}, {4, 5}} {
		length := 18 + k%2
		off := func(x *[armNumbers]float64) float64 {
			at := func(i int) lens.Vec { return a.view.At(lens.Point{U: x[3*i], V: x[3*i+1]}, x[3*i+2]) }
			return (at(ends[1]).Sub(at(ends[0])).Len() - x[length]) / lengthSigma
		}
		e := off(x)
		var slope [armNumbers]float64
		for _, i := range [7]int{3 * ends[0], 3*ends[0] + 1, 3*ends[0] + 2, 3 * ends[1], 3*ends[1] + 1, 3*ends[1] + 2, length} {
			y := *x
			y[i] += little
			slope[i] = (off(&y) - e) / little
		}
		for i := range slope {
			for j := range slope {
				n.add(i, j, slope[i]*slope[j])
			}
			n.right[i] += slope[i] * e
		}
		cost += e * e
	}
	return cost
}

// normal are the normal equations of an arm.
type normal struct {
	m     [armNumbers * armNumbers]float64
	right [armNumbers]float64
}

func (n *normal) add(i, j int, v float64) { n.m[i*armNumbers+j] += v }

// solve gives m⁻¹·right; ok is false when m is not positive.
func (n *normal) solve(right [armNumbers]float64) (x [armNumbers]float64, ok bool) {
	var c mat.Cholesky
	if !c.Factorize(mat.NewSymDense(armNumbers, n.m[:])) {
		return x, false
	}
	return x, c.SolveVecTo(mat.NewVecDense(armNumbers, x[:]), mat.NewVecDense(armNumbers, right[:])) == nil
}
