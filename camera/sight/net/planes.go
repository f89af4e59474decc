// Package net is a small convolutional network over planes of numbers: what
// finds hands and clubhead in a picture of a player, and what teaches it to.
//
// A plane of h × w values is kept with an empty value at the end of each row
// and an empty row above and below, so that a 3 × 3 convolution is nine sums of
// a whole shifted plane.
package net

import (
	"math"

	blas "gonum.org/v1/gonum/blas/gonum"
)

var kernel blas.Implementation

// Planes are c planes of h × w values.
type Planes struct {
	C, H, W int
	v       []float32
}

// NewPlanes has room for c planes of h × w, all 0.
func NewPlanes(c, h, w int) *Planes {
	p := &Planes{C: c, H: h, W: w}
	p.v = make([]float32, c*p.stride())
	return p
}

func (p *Planes) stride() int { return (p.H+2)*(p.W+1) + 2 }

func (p *Planes) first() int { return p.W + 2 }

// long is from the first value of a plane to its last.
func (p *Planes) long() int { return p.H*(p.W+1) - 1 }

// plane is all of plane c, its empty values too.
func (p *Planes) plane(c int) []float32 { n := p.stride(); return p.v[c*n : (c+1)*n] }

// row is row y of plane c.
func (p *Planes) row(c, y int) []float32 {
	i := c*p.stride() + p.first() + y*(p.W+1)
	return p.v[i : i+p.W]
}

// At is the value in plane c at column x of row y.
func (p *Planes) At(c, y, x int) float32 { return p.row(c, y)[x] }

// empty makes the empty values 0 again.
func (p *Planes) empty(c int) {
	v := p.plane(c)
	for y := range p.H - 1 {
		v[p.first()+y*(p.W+1)+p.W] = 0
	}
}

func (p *Planes) clear() { clear(p.v) }

// add is y += a·x.
func add(y, x []float32, a float32) { kernel.Saxpy(len(y), a, x, 1, y, 1) }

// conv is a convolution of 3 × 3 or of single values, and whether what is
// under 0 is cut off after it.
type conv struct {
	in, out, taps int // taps: 9 or 1
	cut           bool
	w, b          []float32 // w[out][in][taps]
	gw, gb        []float32 // their gradients, when it is taught
}

// offset of a tap in a plane.
func (c *conv) offset(p *Planes, tap int) int {
	if c.taps == 1 {
		return 0
	}
	return (tap/3-1)*(p.W+1) + tap%3 - 1
}

func (c *conv) forward(in, out *Planes) {
	n, at := in.long(), in.first()
	for o := range c.out {
		dst := out.plane(o)[at : at+n]
		for i := range dst {
			dst[i] = c.b[o]
		}
		for i := range c.in {
			src := in.plane(i)
			w := c.w[(o*c.in+i)*c.taps:]
			for t := range c.taps {
				f := at + c.offset(in, t)
				add(dst, src[f:f+n], w[t])
			}
		}
		if c.cut {
			for i, v := range dst {
				dst[i] = max(v, 0)
			}
		}
		out.empty(o)
	}
}

// backward takes the gradient of out (which it spoils), adds those of the
// weights and, when gin is not nil, that of in.
func (c *conv) backward(in, out, gout, gin *Planes) {
	n, at := in.long(), in.first()
	for o := range c.out {
		g, v := gout.plane(o)[at:at+n], out.plane(o)[at:at+n]
		var sum float32
		for i := range g {
			if c.cut && v[i] <= 0 {
				g[i] = 0
			}
		}
		gout.empty(o)
		for i := range g {
			sum += g[i]
		}
		c.gb[o] += sum
		for i := range c.in {
			src := in.plane(i)
			j := (o*c.in + i) * c.taps
			for t := range c.taps {
				f := at + c.offset(in, t)
				c.gw[j+t] += kernel.Sdot(n, src[f:f+n], 1, g, 1)
				if gin != nil {
					add(gin.plane(i)[f:f+n], g, c.w[j+t])
				}
			}
		}
	}
	if gin != nil {
		for i := range c.in {
			p := gin.plane(i)
			clear(p[:at])
			clear(p[at+n:])
			gin.empty(i)
		}
	}
}

// fold makes of each 2 × 2 values four planes of half the size.
func fold(in, out *Planes) {
	for c := range in.C {
		for y := range in.H {
			row := in.row(c, y)
			for x, v := range row {
				out.row(4*c+2*(y%2)+x%2, y/2)[x/2] = v
			}
		}
	}
}

func unfold(gout, gin *Planes) {
	for c := range gin.C {
		for y := range gin.H {
			row := gin.row(c, y)
			for x := range row {
				row[x] += gout.row(4*c+2*(y%2)+x%2, y/2)[x/2]
			}
		}
	}
}

// spread adds in, each value for 2 × 2, and beside to out.
func spread(in, beside, out *Planes) {
	for c := range out.C {
		for y := range out.H {
			dst, a, b := out.row(c, y), in.row(c, y/2), beside.row(c, y)
			for x := range dst {
				dst[x] = a[x/2] + b[x]
			}
		}
	}
}

func gather(gout, gin, gbeside *Planes) {
	for c := range gout.C {
		for y := range gout.H {
			g, a, b := gout.row(c, y), gin.row(c, y/2), gbeside.row(c, y)
			for x, v := range g {
				a[x/2] += v
				b[x] += v
			}
		}
	}
}

// he is the usual spread of the weights at first (He et al. 2015).
func (c *conv) he() float32 { return float32(math.Sqrt(2 / float64(c.in*c.taps))) }
