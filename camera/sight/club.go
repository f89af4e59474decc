package sight

import (
	"math"
	"slices"

	"drillbay/camera/lens"
)

// The club swings about the hands near a plane through where it was at
// address and some level direction. A state is how far it has swung along
// such a plane (arc, degrees; 0 at address, + back) and which plane: the
// shaft line at which that plane crosses level.
const (
	arcStep, arcFrom, arcTo = 2.0, -64.0, 112.0
	lineStep, lineMost      = 4.0, 44.0
	// A club in a catch does not rise above this elevation, degrees; in
	// whole swings what is above it is not followed.
	highest = 32.0
	// The hands come toward the lens as the club swings, m per degree: a
	// prior for following only; readings use a better one.
	forwardPerDegree = 0.35 / 75
)

// forwardAfter is how far the hands are from the lens, m, after an arc.
func (s Setting) forwardAfter(arc float64) float64 {
	return s.Distance - max(-0.35, min(0.45, forwardPerDegree*arc))
}

// planes are the directions of all states.
type planes struct {
	arcs, lines int
	dir         []lens.Vec
	lift        []float64 // elevation, degrees
	arc         []float64
}

func newPlanes(address lens.Vec) planes {
	p := planes{arcs: int((arcTo-arcFrom)/arcStep) + 1, lines: int(2*lineMost/lineStep) + 1}
	for j := range p.lines {
		level := lens.Direction(float64(j)*lineStep-lineMost, 0)
		axis := cross(address, level).Unit()
		ahead := cross(axis, address)
		for i := range p.arcs {
			a := arcFrom + float64(i)*arcStep
			s, c := math.Sincos(a * math.Pi / 180)
			d := address.Mul(c).Add(ahead.Mul(s))
			_, lift := lens.Angles(lens.Vec{}, d)
			p.dir = append(p.dir, d)
			p.lift = append(p.lift, lift)
			p.arc = append(p.arc, a)
		}
	}
	return p
}

func cross(a, b lens.Vec) lens.Vec {
	return lens.Vec{X: a.Y*b.Z - a.Z*b.Y, Y: a.Z*b.X - a.X*b.Z, Z: a.X*b.Y - a.Y*b.X}
}

// backdrop is what is there most of the time, the median of pictures, and how
// much each place usually differs from it (the 70 % point): a lot where arms
// and clothes move, little where only the club passes.
type backdrop struct{ level, unrest *gray }

func newBackdrop(pics []*gray) backdrop {
	b := backdrop{pics[0].like(), pics[0].like()}
	buf := make([]float32, len(pics))
	for i := range b.level.Pix {
		for j, p := range pics {
			buf[j] = p.Pix[i]
		}
		slices.Sort(buf)
		mid := buf[len(buf)/2]
		for j, v := range buf {
			buf[j] = abs32(v - mid)
		}
		slices.Sort(buf)
		b.level.Pix[i], b.unrest.Pix[i] = mid, buf[len(buf)*7/10]
	}
	b.unrest = b.unrest.blur(1)
	return b
}

// change is the evidence that something is in g that is not in the backdrop,
// in units of the noise and of the unrest of the place, capped.
func change(g *gray, b backdrop, most float32) *gray {
	d := g.like()
	for i, v := range g.Pix {
		d.Pix[i] = v - b.level.Pix[i]
	}
	d = d.blur(0.8)
	for i, v := range d.Pix {
		d.Pix[i] = abs32(v)
	}
	noise := max(median(d.Pix), 0.3)
	calm := median(b.unrest.Pix)
	for i, v := range d.Pix {
		unrest := max(0, b.unrest.Pix[i]-1.3*calm)
		d.Pix[i] = min(max(0, v/(noise+1.2*unrest)-1), most)
	}
	return d
}

func abs32(x float32) float32 {
	if x < 0 {
		return -x
	}
	return x
}

// rodScore is how well a rod from the hands h (px; forward metres from the
// lens) in direction dir fits the evidence: shaft against both its sides,
// the head, and nothing beyond it.
func (s Setting) rodScore(e *gray, h lens.Point, forward float64, dir lens.Vec) float64 {
	hands := s.View.At(h, forward)
	head := hands.Add(dir.Mul(s.Reach))
	if head.X < 0.3 {
		return 0
	}
	p, ok := s.View.Project(head)
	if !ok {
		return 0
	}
	du, dv := p.U-h.U, p.V-h.V
	length := math.Hypot(du, dv)
	m := s.perMetre(head.X)
	var c, sn float64
	if length > 1 {
		c, sn = du/length, dv/length
	}
	var on, side float64
	const n = 20
	o := 0.06 * m
	for i := range n {
		q := 0.3 + 0.7*float64(i)/(n-1)
		u, v := h.U+q*du, h.V+q*dv
		on += float64(e.at(u, v))
		side += float64(e.at(u-sn*o, v+c*o)+e.at(u+sn*o, v-c*o)) / 2
	}
	var blob float64
	for _, a := range [...]float64{-0.025, 0, 0.025} {
		for _, b := range [...]float64{-0.025, 0, 0.025} {
			blob += float64(e.at(p.U+a*m, p.V+b*m)) / 9
		}
	}
	var beyond float64
	for _, q := range [...]float64{0.09, 0.11, 0.13, 0.15} {
		beyond += float64(e.at(p.U+c*q*m, p.V+sn*q*m)) / 4
	}
	w := min(1, length/(0.25*m))
	return w*(on-side)/n + blob - 0.7*beyond
}

// holdCounts is what a guess of the held club counts beside the evidence of one
// picture of the motion: a hold is many pictures.
const holdCounts = 6.0

// followClub follows the club through pictures of evidence, given the hands
// in each. The first is at address. pull, when it is not nil, is what speaks
// for each state in a last frame after the pictures: the hold. Its result is
// a state in each frame, and what that costs, less for more evidence.
//
// The club goes forward first, or not at all, and then back: it does not
// change its mind again. So there are two layers of states, and the path may
// go from the first to the second once.
func (s Setting) followClub(evidence []*gray, hands []lens.Point, dts []float64, p planes, pull []float64) (states []int, sum float64) {
	fol := follower{nu: p.arcs, nv: p.lines}
	n := len(p.dir)
	ahead, back := make([]float64, n), make([]float64, n)
	for i, a := range p.arc {
		ahead[i] = 0.25 * math.Abs(a) / arcStep
		back[i] = math.Inf(1)
	}
	type trail struct{ ahead, back []int32 } // back: negative when it came from ahead
	trails := make([]trail, 0, len(evidence)+1)
	cost, either := make([]float64, n), make([]float64, n)
	step := func(dt, fastest, weight, across float64, width int) {
		cells := int(fastest*dt/arcStep) + 2
		wu := weight / sq(float64(cells))
		var t trail
		turned := make([]bool, n)
		for i := range either {
			either[i] = back[i]
			if c := ahead[i] + 0.5; c < either[i] {
				either[i], turned[i] = c, true
			}
		}
		ahead, t.ahead = fol.advance(ahead, cost, reach{cells, 1, width}, wu, across)
		back, t.back = fol.advance(either, cost, reach{1, cells, width}, wu, across)
		for i, j := range t.back {
			if turned[j] {
				t.back[i] = -1 - j
			}
		}
		trails = append(trails, t)
	}
	for t, e := range evidence {
		for i, d := range p.dir {
			if p.lift[i] > highest {
				cost[i] = 0.8
				continue
			}
			tilt := (float64(i/p.arcs)*lineStep - lineMost) / 20
			cost[i] = 0.15*tilt*tilt - s.rodScore(e, hands[t], s.forwardAfter(p.arc[i]), d)
		}
		step(dts[t], 1000, 3, 1.0, 1)
	}
	if pull != nil {
		for i := range cost {
			cost[i] = -holdCounts * pull[i]
		}
		step(dts[len(dts)-1], 600, 4, 0.7, 2)
	}
	out := make([]int, len(trails))
	at, ahd := least(back), false
	sum = back[at]
	if a := least(ahead); ahead[a] < back[at] {
		at, ahd, sum = a, true, ahead[a]
	}
	for t := len(trails) - 1; t >= 0; t-- {
		out[t] = at
		if ahd {
			at = int(trails[t].ahead[at])
			continue
		}
		if at = int(trails[t].back[at]); at < 0 {
			at, ahd = -1-at, true
		}
	}
	return out, sum
}
