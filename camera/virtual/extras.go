package virtual

import "math"

// drawPasserBy walks somebody to and fro behind the net, in 14 s each way.
func (b *Bay) drawPasserBy(t float64) {
	const leg = 14.0
	phase := math.Mod(t+float64(b.setup.Seed%11)+3, 2*leg)
	y := -2.3 + 4.6*smooth(phase/leg)
	way := 1.0
	if phase > leg {
		y, way = 2.3-4.6*smooth((phase-leg)/leg), -1
	}
	at := vec{netX + 0.7, y, 0}
	stride := math.Sin(2 * math.Pi * 0.9 * t)
	coat := material{colour: Colour{0.42, 0.08, 0.05}, grain: 0.1}
	dark := material{colour: Colour{0.05, 0.05, 0.07}, grain: 0.1}
	skin := material{colour: Colour{0.5, 0.34, 0.26}}
	limbs := append(b.limbs[:0],
		limb{at.add(vec{-0.05, 0.28 * stride * way, 0.06}), at.add(vec{-0.05, 0, 0.85}), 0.06, 0.10, dark},
		limb{at.add(vec{0.05, -0.28 * stride * way, 0.06}), at.add(vec{0.05, 0, 0.85}), 0.06, 0.10, dark},
		limb{at.add(vec{0, 0, 0.9}), at.add(vec{0, 0, 1.38}), 0.15, 0.19, coat},
		limb{at.add(vec{0, 0, 1.35}), at.add(vec{0, -0.22 * stride * way, 0.9}), 0.06, 0.05, coat},
		limb{at.add(vec{0, 0, 1.64}), at.add(vec{0, 0, 1.66}), 0.10, 0.10, skin},
		limb{at.add(vec{0, -0.02 * way, 1.69}), at.add(vec{0, -0.02 * way, 1.70}), 0.10, 0.10, dark})
	for _, l := range limbs {
		b.drawLimb(b.scene, l)
	}
	c := b.scene
	for y := max(int(c.top), 0); y <= int(c.bottom); y++ {
		for x := int(c.lo[y]); x <= int(c.hi[y]); x++ {
			p := y*c.w + x
			if c.stamp[p] != c.pass {
				continue
			}
			if b.near[p] {
				c.px[p] = c.below(p)
				continue
			}
			if b.setup.Scene.Net {
				k := 1 - b.netCover(b.view.at, b.view.ray(float64(x)+0.5, float64(y)+0.5))
				c.px[p].r, c.px[p].g, c.px[p].b = c.px[p].r*k, c.px[p].g*k, c.px[p].b*k
			}
		}
	}
}

// ballRadius is the radius of a ball of 42.67 mm (Equipment Rules, R&A / USGA), m.
const ballRadius = 0.04267 / 2

// ball returns the place of the ball at t and whether there is one.
func (b *Bay) ball(t float64) (vec, bool) {
	rest := vec{0, 0, ballRadius}
	tl, local := b.at(t)
	there := b.setup.Scene.Ball
	for i := range tl.events {
		e := &tl.events[i]
		if local > e.RepEnd {
			continue
		}
		there = there || !math.IsNaN(e.Impact)
		if !(local > e.Impact) {
			return rest, there
		}
		// Rolled into place with the club at the end of the rep.
		if back := (local - (e.RepEnd - 0.5)) / 0.45; back > 0 {
			return vec{-0.2, -0.9, 0}.mul(1 - smooth(back)).add(rest), true
		}
		fly := local - e.Impact
		p := vec{48 * fly, -1.5 * fly, ballRadius + 11*fly}
		if p.x > netX-0.1 {
			hit := (netX - 0.1) / 48
			fall := fly - hit
			p = vec{netX - 0.1 - 0.4*min(fall, 1), -1.5 * hit, max(ballRadius, ballRadius+11*hit-4.9*fall*fall)}
		}
		return p, true
	}
	return rest, there
}

// drawBall draws the ball, smeared over its way within the exposure.
func (b *Bay) drawBall(t, open float64) {
	p, ok := b.ball(t - open/2)
	q, _ := b.ball(t + open/2)
	if !ok {
		return
	}
	look := material{colour: Colour{0.85, 0.85, 0.83}}
	if way := q.sub(p).len(); way > ballRadius {
		// Thinned out in proportion to the smear, over what lies behind it.
		k := 2 * ballRadius / (2*ballRadius + way)
		look.colour = Colour{look.colour[0]*k + 0.12*(1-k), look.colour[1]*k + 0.12*(1-k), look.colour[2]*k + 0.12*(1-k)}
	}
	b.drawLimb(b.scene, limb{p, q, ballRadius, ballRadius, look})
}

// drawShadow darkens the floor below the club and the hands.
func (b *Bay) drawShadow(p pose) {
	head := p.head(b.keys.length)
	lo, hi := vec{head.x, head.y, 0}, vec{p.hands.x, p.hands.y, 0}
	w0, w1 := 0.035+0.12*head.z, 0.12
	u0, v0, z0 := b.view.see(lo)
	u1, v1, z1 := b.view.see(hi)
	if z0 < 0.3 || z1 < 0.3 {
		return
	}
	r0, r1 := w0*b.view.fx/z0, w1*b.view.fx/z1
	x0, x1 := clampRange(min(u0-r0, u1-r1)-2, max(u0+r0, u1+r1)+2, b.scene.w)
	y0, y1 := clampRange(min(v0-r0, v1-r1)-2, max(v0+r0, v1+r1)+2, b.scene.h)
	dir := hi.sub(lo)
	inv := 1 / max(dir.dot(dir), 1e-6)
	dark0, dark1 := 0.5/(1+6*head.z), 0.3/(1+0.6*p.hands.z)
	for y := y0; y <= y1; y++ {
		first, last := -1, -1
		ray := b.view.ray(float64(x0)+0.5, float64(y)+0.5)
		step := b.view.right.mul(1 / b.view.fx)
		for x := x0; x <= x1; x++ {
			if ray.z < -0.02 {
				g := b.view.at.add(ray.mul(-b.view.at.z / ray.z))
				t := min(max(g.sub(lo).dot(dir)*inv, 0), 1)
				w := w0 + (w1-w0)*t
				if d := g.sub(lo.add(dir.mul(t))); d.dot(d) < w*w {
					k := 1 - math.Sqrt(d.dot(d))/w
					k = k * k * (3 - 2*k) * (dark0 + (dark1-dark0)*t)
					tx := b.scene.at(y*b.scene.w + x)
					f := float32(1 - k)
					tx.r, tx.g, tx.b = tx.r*f, tx.g*f, tx.b*f
					if first < 0 {
						first = x
					}
					last = x
				}
			}
			ray = ray.add(step)
		}
		if first >= 0 {
			b.scene.touch(y, first, last)
		}
	}
}
