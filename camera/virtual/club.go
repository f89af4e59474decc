package virtual

import "math"

// club lists grip, shaft, hosel and tape.
func (b *Bay) club(p pose, out []limb) []limb {
	c := &b.setup.Club
	l := b.keys.length
	on := func(d float64) vec { return p.hands.add(p.shaft.mul(d)) }
	shaft := material{colour: c.Shaft, thin: true}
	if c.Steel {
		shaft.colour = Colour{c.Shaft[0] * 0.7, c.Shaft[1] * 0.7, c.Shaft[2] * 0.7}
		shaft.shine = 1.6
	} else {
		shaft.shine = 0.1
	}
	end := min(0.27-c.Grip, l*0.4)
	tip := l - 0.012
	r := c.ShaftMM / 2000
	out = append(out,
		limb{on(-c.Grip), on(end), 0.0135, 0.0105, material{colour: Colour{0.02, 0.02, 0.022}, thin: true}},
		limb{on(end), on(tip), r * 1.22, r * 0.82, shaft},
		limb{on(l - 0.07), on(tip), 0.0066, 0.0070, material{colour: c.Head, shine: 0.4, thin: true}})
	if c.Tape != nil {
		out = append(out, limb{on(l - 0.15), on(l - 0.09), r * 1.5, r * 1.5, material{colour: *c.Tape, thin: true}})
	}
	if c.Wood {
		k := b.head(p)
		look := material{colour: c.Head, shine: 0.8}
		deep := k.face.mul(-0.035)
		out = append(out,
			limb{k.at(0.012, 0.026), k.at(k.width-0.03, 0.028), 0.022, 0.026, look},
			limb{k.at(0.02, 0.03).add(deep), k.at(k.width-0.035, 0.03).add(deep), 0.026, 0.028, look},
			limb{k.at(k.width*0.45, 0.028).add(deep.mul(1.6)), k.at(k.width*0.55, 0.028).add(deep.mul(1.6)), 0.03, 0.03, look})
	}
	return out
}

// headFrame is the clubhead's own frame: origin where the axis meets the sole.
type headFrame struct {
	origin     vec
	toe        vec // unit, along the sole
	top        vec // unit, up the face
	face       vec // unit, where the face looks
	out        vec // unit, across the shaft toward the toe
	width      float64
	height     float64
	middleToe  float64 // of the middle of what is seen, along toe
	middleHigh float64
}

func (k *headFrame) at(toe, top float64) vec {
	return k.origin.add(k.toe.mul(toe)).add(k.top.mul(top))
}

// middle is the middle of the head that is seen.
func (k *headFrame) middle() vec { return k.at(k.middleToe, k.middleHigh) }

// head places the clubhead. Toe up at level is face 0; + turns the toe toward
// the player.
func (b *Bay) head(p pose) headFrame {
	c := &b.setup.Club
	s := p.shaft
	up := vec{0, 0, 1}.sub(s.mul(s.z))
	if up.len() < 1e-3 {
		up = vec{0, -1, 0}
	}
	up = up.unit()
	sf, cf := math.Sincos(p.face)
	out := up.mul(cf).add(s.cross(up).mul(sf))
	sl, cl := math.Sincos(rad(c.LieDeg))
	k := headFrame{origin: p.head(b.keys.length), out: out}
	k.toe = s.mul(cl).add(out.mul(sl))
	flat := out.mul(cl).sub(s.mul(sl)) // up, when the sole lies on the ground
	ahead := k.toe.cross(flat)
	if c.Wood {
		k.width, k.height, k.middleHigh = 0.11, 0.055, 0.028
		k.top, k.face = flat, ahead
	} else {
		loft := rad(32)
		k.width, k.height, k.middleHigh = 0.075, 0.05, 0.021
		k.top = flat.mul(math.Cos(loft)).sub(ahead.mul(math.Sin(loft)))
		k.face = ahead.mul(math.Cos(loft)).add(flat.mul(math.Sin(loft)))
	}
	// The middle lies HeadOffset from the axis: toe·out = sin lie.
	k.middleToe = (c.HeadOffset - k.middleHigh*k.top.dot(out)) / sl
	return k
}

// blade draws an iron's head: face, back, sole, top line and toe.
func (b *Bay) blade(cv *canvas, p pose) {
	if b.setup.Club.Wood {
		return
	}
	k := b.head(p)
	// The outline's middle is at 0.030 along the toe before it is shifted.
	shift := k.middleToe - 0.031
	w := k.width
	outline := [7][2]float64{{-0.008, 0.004}, {0.004, 0}, {w - 0.022, 0}, {w - 0.011, 0.009},
		{w - 0.008, 0.030}, {w - 0.014, k.height}, {-0.006, 0.027}}
	thick := [7]float64{0.014, 0.018, 0.019, 0.016, 0.008, 0.005, 0.006}
	colour := b.setup.Club.Head
	face := plate{n: 7, normal: k.face, look: material{colour: colour, shine: 0.5}}
	back := plate{n: 7, normal: k.face, look: material{colour: Colour{colour[0] * 0.8, colour[1] * 0.8, colour[2] * 0.8}, shine: 0.3}}
	for i, o := range outline {
		face.corners[i] = k.at(o[0]+shift, o[1])
		back.corners[i] = face.corners[i].sub(k.face.mul(thick[i]))
	}
	b.drawPlate(cv, &back)
	rim := material{colour: Colour{colour[0] * 1.2, colour[1] * 1.2, colour[2] * 1.2}, shine: 0.8}
	for i := range 7 {
		j := (i + 1) % 7
		side := plate{n: 4, look: rim}
		side.corners = [8]vec{face.corners[i], face.corners[j], back.corners[j], back.corners[i]}
		side.normal = face.corners[j].sub(face.corners[i]).cross(k.face).unit()
		b.drawPlate(cv, &side)
	}
	b.drawPlate(cv, &face)
}
