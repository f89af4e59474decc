package sight

import (
	"math"
	"slices"

	"drillbay/camera/lens"
)

// fist is the look of the hands at address, on the ball's side of them where
// the background is still: what the hands are found by in other frames.
type fist struct {
	samples []fistSample
	power   float64 // sum of squares of the samples about their mean
}

type fistSample struct{ du, dv, level float64 } // m from the hands point

// takeFist learns the hands at p in the still picture g; m is the size of a
// metre there, px.
func takeFist(g *gray, p lens.Point, m float64) fist {
	var f fist
	step := float64(g.K) * 1.0 / m
	for dv := -0.055; dv <= 0.095; dv += step {
		for du := -0.035; du <= 0.075; du += step {
			// On the player's side only what lies below the hands: above
			// are arms and clothes.
			if du < -0.005 && dv < 0.055 {
				continue
			}
			f.samples = append(f.samples, fistSample{du, dv, float64(g.at(p.U+du*m, p.V+dv*m))})
		}
	}
	var mean float64
	for _, s := range f.samples {
		mean += s.level
	}
	mean /= float64(len(f.samples))
	for i := range f.samples {
		f.samples[i].level -= mean
		f.power += f.samples[i].level * f.samples[i].level
	}
	return f
}

// unlike is 1 − the correlation of g at p with the fist, a metre there being
// m px: 0 the same, 1 nothing in common. noise is the variance of a level.
func (f fist) unlike(g *gray, p lens.Point, m, noise float64) float64 {
	var s, ss, sq float64
	for _, x := range f.samples {
		v := float64(g.at(p.U+x.du*m, p.V+x.dv*m))
		s += v
		ss += v * v
		sq += v * x.level
	}
	n := float64(len(f.samples))
	return 1 - sq/math.Sqrt((ss-s*s/n+n*noise)*(f.power+n*noise))
}

// place is where a sample of the fist lies, in whole reduced pixels from the
// hands, and its level.
type place struct {
	dx, dy int
	level  float32
}

// places are the samples, thinned to every other, for a scale: a metre is m
// reduced pixels.
func (f fist) places(m float64) []place {
	out := make([]place, 0, len(f.samples)/2+1)
	for i := 0; i < len(f.samples); i += 2 {
		x := f.samples[i]
		out = append(out, place{int(math.Round(x.du * m)), int(math.Round(x.dv * m)), float32(x.level)})
	}
	return out
}

// near is unlike for whole reduced pixels: quick, for finding the hands.
func (f fist) near(g *gray, p lens.Point, samples []place, noise float64) float64 {
	k := float64(g.K)
	x0, y0 := int(p.U/k)-g.X, int(p.V/k)-g.Y
	var s, ss, sq, q, qq float32
	for _, x := range samples {
		a, b := max(0, min(x0+x.dx, g.W-1)), max(0, min(y0+x.dy, g.H-1))
		v := g.Pix[b*g.W+a]
		s += v
		ss += v * v
		sq += v * x.level
		q += x.level
		qq += x.level * x.level
	}
	n := float64(len(samples))
	cross := float64(sq) - float64(s)*float64(q)/n
	return 1 - cross/math.Sqrt((float64(ss)-float64(s)*float64(s)/n+n*noise)*(float64(qq)-float64(q)*float64(q)/n+n*noise))
}

// handsGrid is the part of the picture in which the hands are looked for.
type handsGrid struct {
	u0, v0, step float64
	nu, nv       int
}

func (h handsGrid) point(i int) lens.Point {
	return lens.Point{U: h.u0 + float64(i%h.nu)*h.step, V: h.v0 + float64(i/h.nu)*h.step}
}

// ArmRadius is from the middle of the shoulders to the hands, m: a prior.
const ArmRadius = 0.70

// Towards is how far toward the lens the hands have come, m, by how far they
// have risen, m: they hang on arms of ArmRadius.
func Towards(rise float64) float64 {
	rise = max(0, min(rise, ArmRadius))
	return math.Sqrt(2*ArmRadius*rise - rise*rise)
}

// handsPaths are the ways that the hands may have gone through pictures: how
// little each place of a grid looks like them in each.
type handsPaths struct {
	grid  handsGrid
	look  [][]float32 // per picture, per place
	usual []float64   // what a place costs by itself
	from  []float64   // of the beginning
	dts   []float64
	step  float64 // of the grid, m
	held  bool    // the last picture is the mean of a hold
}

// followHands looks for the hands in pictures (at half size), each dt seconds
// after the one before. When held, the last picture is the mean of a hold: it
// counts as one.
func followHands(pics []*gray, dts []float64, f fist, start lens.Point, s Setting, high float64, held bool) handsPaths {
	m := s.perMetre(s.Distance)
	k := float64(pics[0].K)
	step := k * max(1, math.Round(m/k/130))
	grid := handsGrid{u0: start.U - 0.30*m, v0: start.V - high*m, step: step}
	grid.nu, grid.nv = int(0.52*m/step), int((high+0.09)*m/step)
	n := grid.nu * grid.nv
	h := handsPaths{grid: grid, dts: dts, step: step / m, held: held, usual: make([]float64, n), from: make([]float64, n)}
	steps := make([][]place, grid.nv)
	for i := range steps {
		rise := (start.V - grid.point(i*grid.nu).V) / m
		steps[i] = f.places(m / (1 - min(0.5, Towards(rise))/s.Distance) / k)
	}
	for i := range h.from {
		p := grid.point(i)
		h.from[i] = 40 * (sq((p.U-start.U)/m) + sq((p.V-start.V)/m)) / 0.04
		// Hands stay about as far from the ball as they were.
		h.usual[i] = min(0.3, 0.05*sq((p.U-start.U)/(0.10*m)))
	}
	for _, g := range pics {
		look := make([]float32, n)
		for i := range look {
			look[i] = float32(f.near(g, grid.point(i), steps[i/grid.nu], 20))
		}
		h.look = append(h.look, look)
	}
	return h
}

// path is the likeliest way, ending near end when it is given. unlike is how
// little each place found looks like the hands, 0 the same.
func (h handsPaths) path(end *lens.Point, m float64) (at []lens.Point, unlike []float64) {
	fol := follower{nu: h.grid.nu, nv: h.grid.nv}
	sum := slices.Clone(h.from)
	cost := make([]float64, len(sum))
	var back [][]int32
	last := len(h.look) - 1
	for t, look := range h.look {
		for i, x := range look {
			cost[i] = float64(x) + h.usual[i]
			if end != nil && t == last {
				p := h.grid.point(i)
				cost[i] = 0.5 * (sq(p.U-end.U) + sq(p.V-end.V)) / sq(0.012*m)
			}
		}
		dt := h.dts[t]
		cells := max(2, int(2.2*dt/h.step)+1)
		// A move of 3 cm in a thirtieth of a second costs 0.05.
		w := 0.05 * sq(h.step/0.03) * sq(1/30.0/max(dt, 1/120.0))
		if h.held && t == last {
			w *= 4 // they come to rest
		}
		var from []int32
		sum, from = fol.advance(sum, cost, reach{cells, cells, cells}, w, w)
		back = append(back, from)
	}
	at, unlike = make([]lens.Point, len(back)), make([]float64, len(back))
	i := least(sum)
	for t := last; t >= 0; t-- {
		at[t], unlike[t] = h.grid.point(i), float64(h.look[t][i])
		i = int(back[t][i])
	}
	return at, unlike
}

// settle moves p to the best place for the fist within reach m, to a fraction
// of a pixel, in a picture of full size.
func (f fist) settle(g *gray, p lens.Point, scale, reach float64) (lens.Point, float64) {
	best, at := math.Inf(1), p
	for _, step := range [...]float64{1, 0.33} {
		from, r := at, reach*scale
		if step < 1 {
			r = 1
		}
		for dv := -r; dv <= r; dv += step {
			for du := -r; du <= r; du += step {
				q := lens.Point{U: from.U + du, V: from.V + dv}
				if c := f.unlike(g, q, scale, 20); c < best {
					best, at = c, q
				}
			}
		}
	}
	return at, best
}

func sq(x float64) float64 { return x * x }
