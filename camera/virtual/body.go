package virtual

import "math"

// body is the player's joints at one instant, bay frame.
type body struct {
	hips, chest, head   vec
	spine               vec // unit, upward
	leadShoulder        vec
	trailShoulder       vec
	leadElbow           vec
	trailElbow          vec
	leadHand, trailHand vec
	knees, ankles       [2]vec // trail, lead
	hipJoints           [2]vec
}

// joints poses the player: segment lengths are fractions of the stature
// (Drillis & Contini 1966, in Winter, Biomechanics and Motor Control of Human
// Movement, fig. 4.1). sway moves the trunk only.
func (b *Bay) joints(p pose, sway vec) body {
	h := b.setup.Player.Stature
	home := b.keys.address.hands
	var j body
	flex := 0.022*h + 0.2*p.bend
	j.hips = vec{0, home.y + 0.40 + 0.08*p.bend, 0.53*h - flex}.add(p.shift).add(sway.mul(0.6))
	lean := rad(36) + p.bend*rad(42)
	sl, cl := math.Sincos(lean)
	j.spine = vec{0, -sl, cl}
	j.chest = j.hips.add(j.spine.mul(0.288 * h)).add(sway.mul(0.4))
	across := vec{0, -cl, -sl} // in the shoulders' plane, toward the ball
	axis := func(turn float64) vec {
		st, ct := math.Sincos(turn)
		return vec{1, 0, 0}.mul(ct).add(across.mul(st))
	}
	half := 0.115 * h
	j.leadShoulder = j.chest.add(axis(p.turn).mul(half)).add(vec{0, 0, 0.01})
	j.trailShoulder = j.chest.sub(axis(p.turn).mul(half)).add(vec{0, 0, -0.01})
	j.head = j.chest.add(j.spine.mul(0.075 * h)).add(vec{0.02, -0.035, 0.075 * h})

	st, ct := math.Sincos(p.turn * 0.4)
	pelvis := vec{ct, -st, 0}
	for i, side := range [2]float64{-1, 1} {
		j.hipJoints[i] = j.hips.add(pelvis.mul(side * 0.055 * h))
		step := 0.0
		if p.walk > 0 {
			step = side * math.Sin(p.stride) * p.walk
		}
		j.ankles[i] = vec{side*0.115*h + b.setup.Player.Stance, home.y + 0.37 - 0.22*step, 0.045*h + 0.05*max(0, math.Cos(p.stride)*side)*p.walk}.add(p.shift)
		j.knees[i] = bend(j.hipJoints[i], j.ankles[i], 0.245*h, 0.246*h, vec{side * 0.1, -1, 0})
	}

	upper, fore := 0.186*h, 0.146*h+0.045*h
	j.leadHand = p.hands
	j.leadElbow = bend(j.leadShoulder, j.leadHand, upper, fore, vec{0.5, -0.2, -0.6})
	onClub := p.hands.add(p.shaft.mul(0.075)).add(vec{0, 0.02, -0.008})
	rest := j.hips.add(vec{-0.24, -0.14, -0.02})
	ground := vec{0, 0, 0.08}
	j.trailHand = rest.mix(onClub, smooth(p.reach)).mix(ground, smooth(p.bend))
	j.trailElbow = bend(j.trailShoulder, j.trailHand, upper, fore, vec{-0.6, 0.3, -0.6})
	return j
}

// bend is the joint between a and c of two bones, toward hint; bones that are
// too short are stretched.
func bend(a, c vec, la, lc float64, hint vec) vec {
	ac := c.sub(a)
	d := max(ac.len(), 1e-6)
	along := ac.mul(1 / d)
	if d >= la+lc-1e-6 {
		return a.add(ac.mul(la / (la + lc)))
	}
	x := (d*d + la*la - lc*lc) / (2 * d)
	up := hint.sub(along.mul(hint.dot(along))).unit()
	return a.add(along.mul(x)).add(up.mul(math.Sqrt(max(0, la*la-x*x))))
}

// trunk lists the limbs that move slowly.
func (b *Bay) trunk(j *body, out []limb) []limb {
	p := &b.setup.Player
	shirt := material{colour: p.Shirt, grain: 0.12}
	legs := material{colour: p.Trousers, grain: 0.12}
	skin := material{colour: p.Skin, grain: 0.05}
	shoe := material{colour: Colour{0.55, 0.53, 0.48}, grain: 0.05}
	hair := material{colour: Colour{0.06, 0.045, 0.03}, grain: 0.2}
	for i := range 2 {
		a := j.ankles[i]
		out = append(out,
			limb{a.add(vec{0, 0.05, -0.03}), a.add(vec{0, -0.15, -0.042}), 0.045, 0.036, shoe},
			limb{a, j.knees[i], 0.05, 0.066, legs},
			limb{j.knees[i], j.hipJoints[i], 0.068, 0.095, legs})
	}
	low := j.hips.add(j.spine.mul(0.05))
	side := j.leadShoulder.sub(j.trailShoulder).mul(0.5)
	for _, k := range [5]float64{-0.62, -0.33, 0, 0.33, 0.62} {
		deep := 0.118 - 0.045*k*k
		out = append(out, limb{low.add(side.mul(0.72 * k)), j.chest.add(side.mul(k)), deep - 0.006, deep, shirt})
	}
	out = append(out,
		limb{j.hipJoints[0], j.hipJoints[1], 0.10, 0.10, legs},
		limb{j.chest, j.head, 0.055, 0.055, skin},
		limb{j.head.add(vec{0, 0.005, 0.02}), j.head.add(vec{0, -0.03, -0.04}), 0.092, 0.07, skin},
		limb{j.head.add(vec{-0.012, 0.022, 0.035}), j.head.add(vec{-0.012, 0.03, 0.0}), 0.095, 0.085, hair})
	return out
}

// arms lists the limbs that move with the club, but for the sleeves.
func (b *Bay) arms(j *body, p pose, out []limb) []limb {
	pl := &b.setup.Player
	skin := material{colour: pl.Skin, grain: 0.05}
	glove := material{colour: pl.Glove, grain: 0.04}
	arm := func(shoulder, elbow, hand vec, fist material) {
		cuff := shoulder.mix(elbow, 0.8)
		wrist := hand.mix(elbow, 0.18)
		out = append(out,
			limb{cuff, elbow, 0.045, 0.043, skin},
			limb{elbow, wrist, 0.043, 0.031, skin},
			limb{wrist, hand, 0.031, 0.036, fist},
			limb{hand.sub(p.shaft.mul(0.030)), hand.add(p.shaft.mul(0.030)), 0.039, 0.040, fist})
	}
	arm(j.trailShoulder, j.trailElbow, j.trailHand, skin)
	arm(j.leadShoulder, j.leadElbow, j.leadHand, glove)
	return out
}

// sleeves lists the upper arms.
func (b *Bay) sleeves(j *body, out []limb) []limb {
	shirt := material{colour: b.setup.Player.Shirt, grain: 0.12}
	return append(out,
		limb{j.trailShoulder, j.trailShoulder.mix(j.trailElbow, 0.8), 0.066, 0.058, shirt},
		limb{j.leadShoulder, j.leadShoulder.mix(j.leadElbow, 0.8), 0.066, 0.058, shirt})
}
