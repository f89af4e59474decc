package virtual

import "math"

// paint draws the moving scene into scene and sum.
func (b *Bay) paint(t float64) {
	b.scene.begin()
	for y := range b.sumLo {
		b.sumLo[y], b.sumHi[y] = int32(b.setup.Width), -1
	}
	if b.setup.Scene.PasserBy {
		b.drawPasserBy(t)
	}
	mid, sway := b.pose(t)
	open := b.setup.Shutter / b.setup.FPS
	b.drawBall(t, open)
	if mid.gone {
		return
	}
	b.drawShadow(mid)
	j := b.joints(mid, sway)
	for _, l := range b.trunk(&j, b.limbs[:0]) {
		b.drawLimb(b.scene, l)
	}
	n, hands := b.subFrames(t, open)
	if n == 1 {
		b.drawClub(b.scene, t, true)
		return
	}
	// Upper arms that hardly move are drawn once.
	slow := hands < 8
	if slow {
		for _, l := range b.sleeves(&j, b.limbs[:0]) {
			b.drawLimb(b.scene, l)
		}
	}
	for k := range n {
		b.blur.begin()
		b.drawClub(b.blur, t+open*((float64(k)+0.5)/float64(n)-0.5), !slow)
		b.accumulate(1 / float32(n))
	}
}

// subFrames returns how many sub-frames the motion within the exposure needs, and how far
// the hands move in it, px.
func (b *Bay) subFrames(t, open float64) (n int, hands float64) {
	if open <= 0 {
		return 1, 0
	}
	p, _ := b.pose(t - open/2)
	q, _ := b.pose(t + open/2)
	far := 0.0
	for _, pair := range [2][2]vec{{p.head(b.keys.length), q.head(b.keys.length)}, {p.hands, q.hands}} {
		u0, v0, _ := b.view.see(pair[0])
		u1, v1, _ := b.view.see(pair[1])
		hands = math.Hypot(u1-u0, v1-v0)
		far = max(far, hands)
	}
	return int(min(max(math.Ceil(far/2), 1), float64(max(b.setup.Samples, 1)))), hands
}

// drawClub draws arms and club as they are at t, with or without the sleeves.
func (b *Bay) drawClub(c *canvas, t float64, sleeves bool) {
	p, sway := b.pose(t)
	j := b.joints(p, sway)
	limbs := b.arms(&j, p, b.limbs[:0])
	if sleeves {
		limbs = b.sleeves(&j, limbs)
	}
	for _, l := range b.club(p, limbs) {
		b.drawLimb(c, l)
	}
	b.blade(c, p)
}

// accumulate adds the difference that a sub-frame makes.
func (b *Bay) accumulate(k float32) {
	c, w := b.blur, b.setup.Width
	for y := int(c.top); y <= int(c.bottom); y++ {
		lo, hi := c.lo[y], c.hi[y]
		b.sumLo[y], b.sumHi[y] = min(b.sumLo[y], lo), max(b.sumHi[y], hi)
		for p := y*w + int(lo); p <= y*w+int(hi); p++ {
			if c.stamp[p] != c.pass {
				continue
			}
			d := b.sum[3*p : 3*p+3 : 3*p+3]
			if b.sumStamp[p] != b.scene.pass {
				b.sumStamp[p] = b.scene.pass
				d[0], d[1], d[2] = 0, 0, 0
			}
			u := c.below(p)
			d[0] += (c.px[p].r - u.r) * k
			d[1] += (c.px[p].g - u.g) * k
			d[2] += (c.px[p].b - u.b) * k
		}
	}
}
