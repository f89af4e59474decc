package sight

import (
	"math"

	"drillbay/camera/lens"
)

// spoke is a thin straight thing that runs out from near the hands.
type spoke struct {
	from, to lens.Point // from is the end nearer to the hands
	sum      float64    // evidence beyond chance, summed along it, per cm
}

func (x spoke) length() float64 { return math.Hypot(x.to.U-x.from.U, x.to.V-x.from.V) }

func (x spoke) direction() (c, sn float64) {
	n := max(x.length(), 1e-9)
	return (x.to.U - x.from.U) / n, (x.to.V - x.from.V) / n
}

const thinTurns = 12 // directions in which thinness is worked out, per half turn

// thinMaps are, per direction, how much a place stands out from both its
// sides in both pictures, in units of the noise; an edge does not.
func thinMaps(now, fresh *gray, o float64) [thinTurns]*gray {
	var maps [thinTurns]*gray
	for i := range maps {
		sn, c := math.Sincos(math.Pi * float64(i) / thinTurns)
		dx, dy := -sn*o/float64(now.K), c*o/float64(now.K)
		a, b := thinMap(now, dx, dy), thinMap(fresh, dx, dy)
		na := max(quantile(absolutes(a.Pix), 0.75), 0.4)
		for j, x := range a.Pix {
			y := b.Pix[j]
			if x*y <= 0 {
				a.Pix[j] = 0
				continue
			}
			a.Pix[j] = min(min(abs32(x), abs32(y))/na, 4)
		}
		maps[i] = a
	}
	return maps
}

func absolutes(p []float32) []float32 {
	out := make([]float32, 0, len(p)/7+1)
	for i := 0; i < len(p); i += 7 {
		out = append(out, abs32(p[i]))
	}
	return out
}

// thinMap is, for each place, the smaller of its differences from the places
// (dx, dy) reduced pixels to either side, 0 where they differ in sign.
func thinMap(g *gray, dx, dy float64) *gray {
	out := g.like()
	ox, oy := int(math.Round(dx)), int(math.Round(dy))
	mx, my := max(ox, -ox), max(oy, -oy)
	for y := my; y < g.H-my; y++ {
		for x := mx; x < g.W-mx; x++ {
			i := y*g.W + x
			p := g.Pix[i] - g.Pix[i+oy*g.W+ox]
			q := g.Pix[i] - g.Pix[i-oy*g.W-ox]
			switch {
			case p > 0 && q > 0:
				out.Pix[i] = min(p, q)
			case p < 0 && q < 0:
				out.Pix[i] = max(p, q)
			}
		}
	}
	return out
}

// findSpokes finds up to most thin straight things that begin within near px
// of h and were not there before; m is the size of a metre there, px.
func findSpokes(now, fresh *gray, h lens.Point, m, near float64, most int) []spoke {
	maps := thinMaps(now, fresh, 0.009*m+1.5)
	k := float64(now.K)
	var found []spoke
	const turns = 240 // of the whole circle
	cu, cv := h.U/k-float64(now.X), h.V/k-float64(now.Y)
	reach := near / k
	for i := range turns {
		a := 2 * math.Pi * float64(i) / turns
		sn, c := math.Sincos(a)
		e := maps[int(math.Round(float64(i)*2*thinTurns/turns))%thinTurns]
		for off := -reach; off <= reach; off++ {
			// Along the ray, the segment with the greatest sum (Kadane) that
			// begins near the hands.
			u, v := cu-sn*off, cv+c*off
			var sum, best float64
			start, bs, be := 0.0, 0.0, 0.0
			long := math.Sqrt(max(0, reach*reach-off*off))
			for t := -long; t <= 0.75*m/k; t++ {
				x, y := int(u+c*t), int(v+sn*t)
				if x < 0 || y < 0 || x >= e.W || y >= e.H {
					continue
				}
				if sum <= 0 {
					if t > long {
						break
					}
					sum, start = 0, t
				}
				sum += (float64(e.Pix[y*e.W+x]) - 1.3) * k / m * 100
				if sum > best {
					best, bs, be = sum, start, t
				}
			}
			if best < 6 || (be-bs)*k < 0.05*m {
				continue
			}
			at := func(t float64) lens.Point {
				return lens.Point{U: k * (u + c*t + float64(e.X) + 0.5), V: k * (v + sn*t + float64(e.Y) + 0.5)}
			}
			// It runs outward: a thing that crosses by the hands is none.
			x := spoke{at(bs), at(be), best}
			if math.Hypot(x.from.U-h.U, x.from.V-h.V) < math.Hypot(x.to.U-h.U, x.to.V-h.V) {
				found = keep(found, x, most, func(s spoke) float64 { return s.sum }, spoke.near)
			}
		}
	}
	return found
}

// near reports whether two spokes have nearly one direction and place.
func (x spoke) near(f spoke) bool {
	fc, fs := f.direction()
	xc, xs := x.direction()
	mu, mv := (x.from.U+x.to.U)/2-f.from.U, (x.from.V+x.to.V)/2-f.from.V
	return fc*xc+fs*xs > 0.94 && math.Abs(-mu*fs+mv*fc) < 8
}

// end is where along x the evidence of change stops, px from its beginning,
// and how clearly.
func (x spoke) end(e *gray, m float64) (length, clear float64) {
	c, sn := x.direction()
	long := x.length()
	most := 1.45*long + 0.1*m
	w := int(max(4, 0.035*m))
	sum := make([]float64, 1, int(most)+w+2)
	for t := 0.0; t < most+float64(w)+1; t++ {
		var best float64
		for _, o := range [...]float64{-2, 0, 2} {
			best = max(best, float64(e.at(x.from.U+c*t-sn*o, x.from.V+sn*t+c*o)))
		}
		sum = append(sum, sum[len(sum)-1]+min(best, 4))
	}
	clear, length = math.Inf(-1), long
	for t := max(w+1, int(0.8*long)); t < int(most) && t+w < len(sum); t++ {
		step := (sum[t]-sum[t-w])/float64(w) - (sum[t+w]-sum[t])/float64(w)
		if step > clear {
			clear, length = step, float64(t)
		}
	}
	return length, clear
}
