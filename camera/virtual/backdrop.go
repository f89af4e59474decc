package virtual

import "math"

// The bay's walls, m: behind the net, right and left of it, and the ceiling.
const (
	wallX, wallRight, wallLeft, ceiling = 4.6, -2.7, 3.4, 3.0
	netX, netRight, netLeft, netTop     = 3.0, -1.5, 2.3, 2.9
	netMesh, netCord                    = 0.045, 0.0035
	matBack, matFront                   = -0.80, 0.75
	matRight, matLeft                   = -0.75, 1.15
	stickY, stickBack, stickFront       = -0.38, -0.60, 0.65
)

// surface returns the colour where a ray meets the still scene.
func (b *Bay) surface(from, d vec) (r, g, bl float32) {
	s := &b.setup
	outdoor := s.Light.Kind == Outdoor
	best, kind := math.Inf(1), 0
	try := func(t float64, k int) {
		if t > 0.05 && t < best {
			best, kind = t, k
		}
	}
	try(-from.z/d.z, 1)
	if outdoor {
		if t := (9 - from.x) / d.x; t > 0 && from.z+t*d.z < 2.4 {
			try(t, 5)
		}
	} else {
		try((wallX-from.x)/d.x, 2)
		try((wallRight-from.y)/d.y, 3)
		try((wallLeft-from.y)/d.y, 3)
		try((ceiling-from.z)/d.z, 4)
	}
	if kind == 0 {
		k := float32(min(1, max(0, d.unit().z*2)))
		return 0.42 - 0.14*k, 0.55 - 0.12*k, 0.78 - 0.06*k
	}
	p := from.add(d.mul(best))
	light := b.placeLight(p)
	tex := b.grain
	var c Colour
	grain := float32(0)
	switch kind {
	case 1:
		c = s.Scene.Floor
		grain = 0.22 * tex.at(p.x*0.45, p.y*0.45)
		if p.x > matBack && p.x < matFront && p.y > matRight && p.y < matLeft {
			c = Colour{0.035, 0.24, 0.055}
			grain = 0.22*tex.at(p.x*2.7, p.y*2.7) + 0.1*tex.at(p.x*9, p.y*9)
		}
		light *= float32(1 - 0.55*math.Exp(-(p.x*p.x/0.12+sq(p.y-b.keys.address.hands.y-0.34)/0.05)))
		if s.Scene.Stick && math.Abs(p.y-stickY) < 0.011 && p.x > stickBack && p.x < stickFront {
			c, grain = Colour{0.75, 0.42, 0.05}, 0
			light *= float32(1.15 - 30*math.Abs(p.y-stickY))
		}
	case 2:
		c = s.Scene.Wall
		grain = 0.30 * tex.at(p.y*0.35, p.z*0.35)
	case 3:
		c = s.Scene.Wall
		grain = 0.30 * tex.at(p.x*0.35+0.5, p.z*0.35)
	case 4:
		c = Colour{s.Scene.Wall[0] * 0.6, s.Scene.Wall[1] * 0.6, s.Scene.Wall[2] * 0.6}
		grain = 0.15 * tex.at(p.x*0.35, p.y*0.35)
	case 5:
		c = Colour{0.03, 0.09, 0.03}
		grain = 0.55*tex.at(p.y*0.5, p.z*0.5) + 0.3*tex.at(p.y*2, p.z*2)
	}
	k := light * max(0.1, 1+grain)
	return k * float32(c[0]), k * float32(c[1]), k * float32(c[2])
}

func sq(x float64) float64 { return x * x }

// placeLight returns the brightness of the light at a place of the still scene.
func (b *Bay) placeLight(p vec) float32 {
	if b.setup.Light.Kind == Outdoor {
		return 0.85
	}
	d2 := sq(p.x-0.3) + sq(p.y-0.5) + sq(p.z-2.8)
	corner := 1 - 0.35*math.Exp(-sq(min(min(wallX-p.x, p.z), min(p.y-wallRight, wallLeft-p.y)))/0.08)
	return float32((0.22 + 5.2/(6+d2)) * corner)
}

// netCover returns the share of a pixel that the net's cords cover.
func (b *Bay) netCover(from, d vec) float32 {
	t := (netX - from.x) / d.x
	if t <= 0 {
		return 0
	}
	y, z := from.y+t*d.y, from.z+t*d.z
	if y < netRight || y > netLeft || z < 0 || z > netTop {
		return 0
	}
	foot := t / b.view.fx // metres a pixel
	cover := func(x float64) float64 {
		x = math.Abs(x - netMesh*math.Round(x/netMesh))
		w := max(netCord, foot)
		return min(1, max(0, (netCord/2+foot/2-x)/foot)) * min(1, netCord/w*1.4)
	}
	a, c := cover(y), cover(z+0.01*math.Sin(y*3))
	return float32(0.8 * (a + c - a*c))
}

// paintBackdrop draws the still scene once.
func (b *Bay) paintBackdrop() {
	w, h := b.setup.Width, b.setup.Height
	for y := range h {
		for x := range w {
			d := b.view.ray(float64(x)+0.5, float64(y)+0.5)
			r, g, bl := b.surface(b.view.at, d)
			if b.setup.Scene.Net {
				k := 1 - b.netCover(b.view.at, d)
				r, g, bl = r*k, g*k, bl*k
			}
			p := 3 * (y*w + x)
			b.back[p], b.back[p+1], b.back[p+2] = r*b.tint[0], g*b.tint[1], bl*b.tint[2]
		}
	}
	b.scene.begin()
	for _, l := range b.furniture() {
		b.drawLimb(b.scene, l)
	}
	for y := range h {
		for x := int(b.scene.lo[y]); x <= int(b.scene.hi[y]); x++ {
			if p := y*w + x; b.scene.stamp[p] == b.scene.pass {
				t := b.scene.px[p]
				b.near[p] = float64(t.z) < netX-0.5-b.view.at.x
				b.back[3*p], b.back[3*p+1], b.back[3*p+2] = t.r, t.g, t.b
			}
		}
	}
}

// furniture is the net's poles and the bags of other clubs.
func (b *Bay) furniture() []limb {
	var out []limb
	s := &b.setup
	steel := material{colour: Colour{0.5, 0.5, 0.52}, shine: 0.8, thin: true}
	if s.Scene.Net {
		for _, y := range [2]float64{netRight, netLeft} {
			out = append(out, limb{vec{netX, y, 0}, vec{netX, y, netTop}, 0.02, 0.02, steel})
		}
	}
	rnd := newRandom(s.Seed, 77)
	for i := range min(max(s.Scene.Bags, 0), 4) {
		side := 1.0
		if i%2 == 1 {
			side = -1
		}
		at := vec{rnd.between(1.1, 1.8), 0.4 + side*rnd.between(1.2, 1.6), 0}
		if side > 0 {
			at.y += 0.1
		}
		hue := Colour{rnd.between(0.03, 0.6), rnd.between(0.03, 0.4), rnd.between(0.03, 0.6)}
		lean := vec{rnd.between(0, 0.1), rnd.between(-0.06, 0.06), 0.78}
		out = append(out, limb{at.add(vec{0, 0, 0.125}), at.add(lean), 0.12, 0.13, material{colour: hue, grain: 0.06}})
		for range 5 {
			foot := at.add(lean).add(vec{rnd.between(-0.08, 0.08), rnd.between(-0.08, 0.08), 0})
			top := foot.add(vec{rnd.between(-0.05, 0.05), rnd.between(-0.05, 0.05), rnd.between(0.15, 0.32)})
			out = append(out, limb{foot, top, 0.0055, 0.0045, steel},
				limb{top, top.add(vec{0, rnd.between(-0.05, 0.05), 0.02}), 0.012, 0.009, material{colour: Colour{0.2, 0.2, 0.22}, shine: 0.5}})
		}
	}
	return out
}
