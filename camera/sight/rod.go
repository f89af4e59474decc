package sight

import (
	"math"

	"drillbay/camera/lens"
)

// node is hands and shaft at the time of a sight.
type node struct {
	sighted
	hands, shaft lens.Vec
	weight       [seenPoints]float64 // how far each point is believed, 0..1
}

// knob is one of the numbers that all nodes share: each is 0 where it is as
// told and 1 where it is a sigma more.
const (
	knobFocal = iota
	knobAcross
	knobDown
	knobRoll
	knobReach
	knobDistance
	knobArm
)

// fit is the least-squares problem of one track.
type fit struct {
	set   Setting
	doubt Doubt
	nodes []node
	knobs [borders]float64
	views [knobReach + 1]lens.View // the view, and those a knob farther on
	sys   *system
	loose float64 // by how much residuals are divided before they are weighed
	// The shaft's turning and the hands' speed change by their own size in one
	// over so much of a second.
	turns, moves float64

	chi, looks float64 // sum of squares of the looks, and how many they are
	cost       float64
}

func newFit(s Setting, d Doubt, sights []sighted) *fit {
	f := &fit{set: s, doubt: d, nodes: make([]node, len(sights)), sys: newSystem(len(sights)), loose: 1, turns: changes, moves: changes}
	for i, q := range sights {
		f.nodes[i].sighted = q
		for p := range f.nodes[i].weight {
			f.nodes[i].weight[p] = 1
		}
	}
	f.aim()
	return f
}

// aim makes the views of the present knobs.
func (f *fit) aim() {
	at := func(knobs [borders]float64) lens.View {
		c := f.set.View.Camera
		c.Focal *= 1 + knobs[knobFocal]*f.doubt.Focal
		c.Target.U += knobs[knobAcross] * f.doubt.Target
		c.Target.V += knobs[knobDown] * f.doubt.Target
		c.Roll += knobs[knobRoll] * f.doubt.Roll
		v, err := lens.NewView(c)
		if err != nil {
			return f.set.View
		}
		return v
	}
	for i := range f.views {
		k := f.knobs
		if i > 0 {
			k[i-1]++
		}
		f.views[i] = at(k)
	}
}

func (f *fit) view() lens.View { return f.views[0] }

// reach is hands to head, m.
func (f *fit) reach() float64 { return f.set.Reach + f.knobs[knobReach]*f.doubt.Reach }

// base is how far the hands at address are from the lens, m.
func (f *fit) base() float64 { return f.set.Distance + f.knobs[knobDistance]*f.doubt.Distance }

// axes are two directions across a shaft: the turns that a step makes.
func axes(shaft lens.Vec) (a, b lens.Vec) {
	side := lens.Vec{Y: 1}
	if math.Abs(shaft.Y) > 0.8 {
		side = lens.Vec{Z: 1}
	}
	a = shaft.Cross(side).Unit()
	return a, shaft.Cross(a)
}

// place is where a point of the club lies: m from the hands toward the head,
// and whether that grows with the club's length.
func (f *fit) place(p int) (along, sigma float64, grows bool) {
	switch p {
	case gripEnd:
		return -f.set.grip(), alongGrip, false
	case shaftEnd:
		return f.reach() - hosel, alongEnd, true
	case headAt:
		return f.reach(), alongHead, true
	}
	return 0, alongHands, false
}

// grip is from the club's end to the hands, m.
func (s Setting) grip() float64 {
	if s.Grip > 0 {
		return s.Grip
	}
	return 0.09
}

// points adds what a node's sight shows of the club.
func (f *fit) points(i int) {
	n := &f.nodes[i]
	a, b := axes(n.shaft)
	v := f.view()
	for p := gripEnd; p <= headAt; p++ {
		x := n.of[p]
		if !x.ok {
			continue
		}
		along, slack, grows := f.place(p)
		at := n.hands.Add(n.shaft.Mul(along))
		q, ok := v.Project(at)
		if !ok {
			continue
		}
		du, dv := v.Slope(at)
		// The covariance with what the point may be off along the shaft.
		su, sv := slack*du.Dot(n.shaft), slack*dv.Dot(n.shaft)
		uu, uv, vv := x.uu+su*su, x.uv+su*sv, x.vv+sv*sv
		if p == shaftEnd || p == gripEnd {
			uu, uv, vv = 2*uu, 2*uv, 2*vv // much the same evidence as head and hands
		}
		// Whitened: the Cholesky factor of the inverse covariance.
		l11 := math.Sqrt(uu)
		l21 := uv / l11
		l22 := math.Sqrt(vv - l21*l21)
		white := func(u, w float64) (float64, float64) {
			x := u / l11
			return x, (w - l21*x) / l22
		}
		ru, rv := white(q.U-x.at.U, q.V-x.at.V)
		d2 := ru*ru + rv*rv
		weight := (freedom + 2) / (freedom + 2 + d2/sq(f.loose))
		n.weight[p] = weight
		f.chi, f.looks = f.chi+min(d2, 9), f.looks+2
		f.cost += (freedom + 2) * math.Log1p(d2/sq(f.loose)/(freedom+2))
		var one, two row
		put := func(col int, u, w float64) {
			x, y := white(u, w)
			one.put(col, x)
			two.put(col, y)
		}
		c := i * blockSize
		put(c, du.X, dv.X)
		put(c+1, du.Y, dv.Y)
		put(c+2, du.Z, dv.Z)
		put(c+3, along*du.Dot(a), along*dv.Dot(a))
		put(c+4, along*du.Dot(b), along*dv.Dot(b))
		for k := range f.views[1:] {
			if o, ok := f.views[k+1].Project(at); ok {
				put(f.sys.n+k, o.U-q.U, o.V-q.V)
			}
		}
		if grows {
			put(f.sys.n+knobReach, f.doubt.Reach*du.Dot(n.shaft), f.doubt.Reach*dv.Dot(n.shaft))
		}
		f.sys.add(&one, ru, weight)
		f.sys.add(&two, rv, weight)
	}
}
