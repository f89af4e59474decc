package virtual

import "math"

// plate is a flat convex polygon, its corners in the bay frame.
type plate struct {
	corners [8]vec
	n       int
	normal  vec // unit, bay frame; either way round
	look    material
}

// drawPlate fills the polygon with an anti-aliased edge.
func (b *Bay) drawPlate(c *canvas, p *plate) {
	v := &b.view
	var xs, ys [8]float64
	minX, maxX, minY, maxY := math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
	area := 0.0
	for i := range p.n {
		cc := v.camera(p.corners[i])
		if cc.z < 0.2 {
			return
		}
		xs[i], ys[i] = v.pixel(cc)
		minX, maxX = min(minX, xs[i]), max(maxX, xs[i])
		minY, maxY = min(minY, ys[i]), max(maxY, ys[i])
	}
	for i := range p.n {
		j := (i + 1) % p.n
		area += xs[i]*ys[j] - xs[j]*ys[i]
	}
	if math.Abs(area) < 0.02 {
		return
	}
	// Signed distance to each edge, positive inside.
	var ea, eb, ec [8]float64
	sign := 1.0
	if area < 0 {
		sign = -1
	}
	edges := 0
	for i := range p.n {
		j := (i + 1) % p.n
		dx, dy := xs[j]-xs[i], ys[j]-ys[i]
		l := math.Hypot(dx, dy)
		if l < 1e-6 {
			continue
		}
		ea[edges], eb[edges] = -sign*dy/l, sign*dx/l
		ec[edges] = -(ea[edges]*xs[i] + eb[edges]*ys[i])
		edges++
	}
	n := v.turn(p.normal)
	c0 := v.camera(p.corners[0])
	if n.dot(c0) > 0 {
		n = n.mul(-1)
	}
	// On the plane n·X = n·c0 with X = z·(x, y, 1): 1/z is linear in pixels.
	w := n.dot(c0)
	if math.Abs(w) < 1e-9 {
		return
	}
	r, g, bl := b.shadeAt(n, &p.look)
	x0, x1 := clampRange(minX-1, maxX+1, c.w)
	y0, y1 := clampRange(minY-1, maxY+1, c.h)
	for y := y0; y <= y1; y++ {
		py := float64(y) + 0.5
		touched := false
		first, last := 0, 0
		for x := x0; x <= x1; x++ {
			px := float64(x) + 0.5
			d := math.Inf(1)
			for i := range edges {
				d = min(d, ea[i]*px+eb[i]*py+ec[i])
			}
			if d <= -0.5 {
				continue
			}
			iz := (n.x*(px-v.cx)/v.fx + n.y*(py-v.cy)/v.fy + n.z) / w
			if iz <= 0 {
				continue
			}
			if !touched {
				first, touched = x, true
			}
			last = x
			c.at(y*c.w+x).put(float32(min(1, d+0.5)), r, g, bl, float32(1/iz))
		}
		if touched {
			c.touch(y, first, last)
		}
	}
}
