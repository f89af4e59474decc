package virtual

import "math"

// texel is linear light and the distance along the optical axis, m.
type texel struct{ r, g, b, z float32 }

// far is the depth of everything that is drawn once.
const far = 1e6

// canvas is a layer over another one. A texel is copied from below when it is
// first touched after begin, so that a layer costs what is drawn on it.
type canvas struct {
	w, h   int
	px     []texel
	stamp  []uint32
	pass   uint32
	under  *canvas   // nil: over the backdrop
	back   []float32 // backdrop, r g b interleaved, where under is nil
	lo, hi []int32   // touched columns of each row, lo > hi: none
	top    int32     // touched rows
	bottom int32
}

func newCanvas(w, h int, under *canvas, back []float32) *canvas {
	return &canvas{w: w, h: h, px: make([]texel, w*h), stamp: make([]uint32, w*h), under: under, back: back,
		lo: make([]int32, h), hi: make([]int32, h), top: int32(h), bottom: -1}
}

// begin makes the layer empty.
func (c *canvas) begin() {
	c.pass++
	if c.pass == 0 { // wrapped: old stamps could look new
		clear(c.stamp)
		c.pass = 1
	}
	for y := range c.lo {
		c.lo[y], c.hi[y] = int32(c.w), -1
	}
	c.top, c.bottom = int32(c.h), -1
}

// below returns the texel of the layer beneath.
func (c *canvas) below(p int) texel {
	if u := c.under; u != nil {
		if u.stamp[p] == u.pass {
			return u.px[p]
		}
		return u.below(p)
	}
	return texel{c.back[3*p], c.back[3*p+1], c.back[3*p+2], far}
}

// at returns the texel for drawing.
func (c *canvas) at(p int) *texel {
	if c.stamp[p] != c.pass {
		c.stamp[p] = c.pass
		c.px[p] = c.below(p)
	}
	return &c.px[p]
}

// touch notes that columns x0 … x1 of row y are drawn on.
func (c *canvas) touch(y, x0, x1 int) {
	c.lo[y], c.hi[y] = min(c.lo[y], int32(x0)), max(c.hi[y], int32(x1))
	c.top, c.bottom = min(c.top, int32(y)), max(c.bottom, int32(y))
}

// put lays a colour over a texel where it is in front, a is its coverage.
func (t *texel) put(a, r, g, b, z float32) {
	if z >= t.z {
		return
	}
	if a >= 1 {
		*t = texel{r, g, b, z}
		return
	}
	t.r += (r - t.r) * a
	t.g += (g - t.g) * a
	t.b += (b - t.b) * a
	if a > 0.5 {
		t.z = z
	}
}

// lamp describes the light on surfaces, in the camera's frame.
type lamp struct {
	key     vec // unit, toward the main light
	sky     vec // unit, up
	keyTint [3]float32
	skyTint [3]float32
	floor   [3]float32 // bounced light from below
}

// light is the light that a surface with unit normal n sends back per unit of
// its colour.
func (l *lamp) light(n vec) (r, g, b float32) {
	k := float32(max(0, n.dot(l.key)))
	up := float32(0.5 + 0.5*n.dot(l.sky))
	return k*l.keyTint[0] + up*l.skyTint[0] + (1-up)*l.floor[0],
		k*l.keyTint[1] + up*l.skyTint[1] + (1-up)*l.floor[1],
		k*l.keyTint[2] + up*l.skyTint[2] + (1-up)*l.floor[2]
}

// material describes the look of a surface.
type material struct {
	colour Colour
	grain  float32 // relative depth of the texture
	shine  float32 // strength of the highlight
	thin   bool    // too thin for a texture
}

// limb is a tapered capsule: the hull of two balls.
type limb struct {
	a, b   vec // bay frame
	ra, rb float64
	look   material
}

const shadeSteps = 48

// drawLimb projects the two balls and fills their hull; the edge is
// anti-aliased, the depth is that of the surface.
func (b *Bay) drawLimb(c *canvas, m limb) {
	v := &b.view
	ca, cb := v.camera(m.a), v.camera(m.b)
	if ca.z < 0.2 || cb.z < 0.2 {
		return
	}
	ax, ay := v.pixel(ca)
	bx, by := v.pixel(cb)
	ra, rb := v.fx*m.ra/ca.z, v.fx*m.rb/cb.z
	dx, dy := bx-ax, by-ay
	length := math.Hypot(dx, dy)
	inv, across := 0.0, 0.0
	if length > 1e-6 {
		inv, across = 1/(length*length), 1/length
	}
	big := max(ra, rb) + 1
	x0, x1 := clampRange(min(ax-ra, bx-rb)-1, max(ax+ra, bx+rb)+1, c.w)
	y0, y1 := clampRange(min(ay-ra, by-rb)-1, max(ay+ra, by+rb)+1, c.h)
	if x0 > x1 || y0 > y1 {
		return
	}
	stub := length < max(ra, rb) // seen end-on: lit like a ball
	shade := b.limbShade(ca, cb, m, length)
	iza, izb := 1/ca.z, 1/cb.z
	for y := y0; y <= y1; y++ {
		py := float64(y) + 0.5
		l, r := x0, x1
		if length > 4 && math.Abs(dy) > 1e-3*length {
			// Columns within big of the axis line.
			mid := ax + (py-ay)*dx/dy
			half := big * length / math.Abs(dy)
			// The caps reach beyond the line's span only by their radius.
			l, r = max(l, int(mid-half)), min(r, int(mid+half)+1)
		}
		if l > r {
			continue
		}
		touched := false
		first, last := 0, 0
		row := y * c.w
		for x := l; x <= r; x++ {
			px := float64(x) + 0.5
			qx, qy := px-ax, py-ay
			t := (qx*dx + qy*dy) * inv
			cap := stub
			if t < 0 {
				t, cap = 0, true
			} else if t > 1 {
				t, cap = 1, true
			}
			ex, ey := qx-t*dx, qy-t*dy
			d2 := ex*ex + ey*ey
			rr := ra + (rb-ra)*t
			edge := rr + 0.5
			if d2 >= edge*edge {
				continue
			}
			alpha := float32(1)
			if in := rr - 0.5; in <= 0 || d2 > in*in {
				d := math.Sqrt(d2)
				alpha = float32(edge - d)
				if in < 0 {
					alpha = float32(min(1, (edge-d)*2*rr))
				}
			}
			i, bulge := 0, 0.0
			if cap {
				bulge = math.Sqrt(max(0, 1-d2/(rr*rr)))
			} else {
				side := (ey*dx - ex*dy) * across / rr
				i = min(max(int((side+1)*(shadeSteps/2)), 0), shadeSteps-1)
				bulge = b.bulge[i]
			}
			depth := 1/(iza+(izb-iza)*t) - (m.ra+(m.rb-m.ra)*t)*bulge
			tx := c.at(row + x)
			if !touched {
				first, touched = x, true
			}
			last = x
			if float32(depth) >= tx.z {
				continue
			}
			var s [3]float32
			if cap {
				n := vec{ex / rr, ey / rr, -bulge}
				s[0], s[1], s[2] = b.shadeAt(n, &m.look)
			} else {
				s = shade[i]
			}
			if m.look.grain > 0 {
				g := b.grain.cloth(t*length, ex+ey, m.look.grain)
				s[0], s[1], s[2] = s[0]*g, s[1]*g, s[2]*g
			}
			tx.put(alpha, s[0], s[1], s[2], float32(depth))
		}
		if touched {
			c.touch(y, first, last)
		}
	}
}

// limbShade is the light across the straight part of a limb, from one side of
// its axis to the other.
func (b *Bay) limbShade(ca, cb vec, m limb, length float64) (shade [shadeSteps][3]float32) {
	axis := cb.sub(ca).unit()
	side := vec{-axis.y, axis.x, 0}
	if length < 1e-6 || side.len() < 1e-9 {
		side = vec{1, 0, 0}
	}
	side = side.unit()
	front := axis.cross(side).unit()
	if front.z > 0 {
		front = front.mul(-1)
	}
	for i := range shade {
		k := (float64(i)+0.5)*2/shadeSteps - 1
		n := side.mul(k).add(front.mul(math.Sqrt(1 - k*k)))
		shade[i][0], shade[i][1], shade[i][2] = b.shadeAt(n, &m.look)
	}
	return shade
}

// shadeAt lights a surface of a look with its normal in the camera's frame.
func (b *Bay) shadeAt(n vec, look *material) (r, g, bl float32) {
	r, g, bl = b.lamp.light(n)
	c := look.colour
	r, g, bl = r*float32(c[0]), g*float32(c[1]), bl*float32(c[2])
	if look.shine > 0 {
		h := b.lamp.key.add(vec{0, 0, -1}).unit()
		k := max(0, n.dot(h))
		k *= k
		k *= k
		k *= k
		s := float32(k*k) * look.shine
		r, g, bl = r+s*b.lamp.keyTint[0], g+s*b.lamp.keyTint[1], bl+s*b.lamp.keyTint[2]
	}
	return r, g, bl
}

func clampRange(lo, hi float64, n int) (int, int) {
	return int(min(max(math.Floor(lo), 0), float64(n))), int(min(max(math.Ceil(hi), -1), float64(n-1)))
}
