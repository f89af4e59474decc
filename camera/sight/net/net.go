package net

import (
	"math"
	"math/rand/v2"
)

// Size is the side of the patch that is looked at, and Cells that of the grid
// of places that are told apart, each a square of Cell patch px.
const (
	Size, Channels = 80, 3
	Cell           = 2
	Cells          = Size / Cell
)

// What is looked for.
const (
	Hands = iota
	Head
	points
)

const wide, mid, deep = 20, 40, 64

// Net finds hands and clubhead.
type Net struct{ convs []*conv }

const (
	a1 = iota
	a2
	b1
	b2
	d1
	d2
	d3
	e0
	e2
	f0
	f2
	f3
	last
	layers
)

// New is a network that knows nothing yet.
func New(seed uint64) *Net {
	c := func(in, out, taps int, cut bool) *conv {
		return &conv{in: in, out: out, taps: taps, cut: cut, w: make([]float32, in*out*taps), b: make([]float32, out)}
	}
	n := &Net{convs: make([]*conv, layers)}
	n.convs[a1] = c(4*Channels, wide, 9, true)
	n.convs[a2] = c(wide, wide, 9, true)
	n.convs[b1] = c(4*wide, mid, 9, true)
	n.convs[b2] = c(mid, mid, 9, true)
	n.convs[d1] = c(4*mid, deep, 9, true)
	n.convs[d2] = c(deep, deep, 9, true)
	n.convs[d3] = c(deep, deep, 9, true)
	n.convs[e0] = c(deep, mid, 1, false)
	n.convs[e2] = c(mid, mid, 9, true)
	n.convs[f0] = c(mid, wide, 1, false)
	n.convs[f2] = c(wide, wide, 9, true)
	n.convs[f3] = c(wide, wide, 9, true)
	n.convs[last] = c(wide, 3*points, 1, false)
	r := rand.New(rand.NewPCG(seed, 7))
	for _, c := range n.convs {
		for i := range c.w {
			c.w[i] = c.he() * float32(r.NormFloat64())
		}
	}
	return n
}

// sharing is n with gradients of its own.
func (n *Net) sharing() *Net {
	m := &Net{}
	for _, c := range n.convs {
		d := *c
		d.gw, d.gb = make([]float32, len(c.w)), make([]float32, len(c.b))
		m.convs = append(m.convs, &d)
	}
	return m
}

// eye is what a network works in.
type eye struct {
	whole                                 *Planes
	x, a1, a2, u1, b1, b2, u2, d1, d2, d3 *Planes
	e0, e1, e2, f0, f1, f2, f3, out       *Planes
}

func newEye() *eye {
	q, h, d := Cells, Cells/2, Cells/4
	p := NewPlanes
	return &eye{whole: p(Channels, Size, Size), x: p(4*Channels, q, q), a1: p(wide, q, q), a2: p(wide, q, q), u1: p(4*wide, h, h), b1: p(mid, h, h), b2: p(mid, h, h),
		u2: p(4*mid, d, d), d1: p(deep, d, d), d2: p(deep, d, d), d3: p(deep, d, d), e0: p(mid, d, d), e1: p(mid, h, h), e2: p(mid, h, h),
		f0: p(wide, h, h), f1: p(wide, q, q), f2: p(wide, q, q), f3: p(wide, q, q), out: p(3*points, q, q)}
}

func (e *eye) all() []*Planes {
	return []*Planes{e.x, e.a1, e.a2, e.u1, e.b1, e.b2, e.u2, e.d1, e.d2, e.d3, e.e0, e.e1, e.e2, e.f0, e.f1, e.f2, e.f3, e.out}
}

func (n *Net) forward(e *eye, patch []float32) {
	for c := range Channels {
		for y := range Size {
			copy(e.whole.row(c, y), patch[(c*Size+y)*Size:])
		}
	}
	fold(e.whole, e.x)
	c := n.convs
	c[a1].forward(e.x, e.a1)
	c[a2].forward(e.a1, e.a2)
	fold(e.a2, e.u1)
	c[b1].forward(e.u1, e.b1)
	c[b2].forward(e.b1, e.b2)
	fold(e.b2, e.u2)
	c[d1].forward(e.u2, e.d1)
	c[d2].forward(e.d1, e.d2)
	c[d3].forward(e.d2, e.d3)
	c[e0].forward(e.d3, e.e0)
	spread(e.e0, e.b2, e.e1)
	c[e2].forward(e.e1, e.e2)
	c[f0].forward(e.e2, e.f0)
	spread(e.f0, e.a2, e.f1)
	c[f2].forward(e.f1, e.f2)
	c[f3].forward(e.f2, e.f3)
	c[last].forward(e.f3, e.out)
}

// backward goes from the gradient g.out to those of the weights.
func (n *Net) backward(e, g *eye) {
	for _, p := range g.all() {
		if p != g.out {
			p.clear()
		}
	}
	c := n.convs
	c[last].backward(e.f3, e.out, g.out, g.f3)
	c[f3].backward(e.f2, e.f3, g.f3, g.f2)
	c[f2].backward(e.f1, e.f2, g.f2, g.f1)
	gather(g.f1, g.f0, g.a2)
	c[f0].backward(e.e2, e.f0, g.f0, g.e2)
	c[e2].backward(e.e1, e.e2, g.e2, g.e1)
	gather(g.e1, g.e0, g.b2)
	c[e0].backward(e.d3, e.e0, g.e0, g.d3)
	c[d3].backward(e.d2, e.d3, g.d3, g.d2)
	c[d2].backward(e.d1, e.d2, g.d2, g.d1)
	c[d1].backward(e.u2, e.d1, g.d1, g.u2)
	unfold(g.u2, g.b2)
	c[b2].backward(e.b1, e.b2, g.b2, g.b1)
	c[b1].backward(e.u1, e.b1, g.b1, g.u1)
	unfold(g.u1, g.a2)
	c[a2].backward(e.a1, e.a2, g.a2, g.a1)
	c[a1].backward(e.x, e.a1, g.a1, nil)
}

// softmax is the likelihood of each cell for a point.
func softmax(out *Planes, point int, dst []float64) {
	most := float32(math.Inf(-1))
	for y := range Cells {
		for _, v := range out.row(3*point, y) {
			most = max(most, v)
		}
	}
	sum := 0.0
	for y := range Cells {
		for x, v := range out.row(3*point, y) {
			p := math.Exp(float64(v - most))
			dst[y*Cells+x] = p
			sum += p
		}
	}
	for i := range dst {
		dst[i] /= sum
	}
}

// offset is where the point is from the middle of a cell, patch px.
func offset(out *Planes, point, y, x int) (dx, dy float64) {
	return Cell * float64(out.At(3*point+1, y, x)), Cell * float64(out.At(3*point+2, y, x))
}
