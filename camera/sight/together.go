package sight

import (
	"math"
	"slices"

	"drillbay/camera/lens"
)

// buffers are what sights are averaged in, and the rests that were found. They
// grow to what is needed and are used again. The zero value can be used.
type buffers struct {
	u, v, uu, uv, vv []float64
	order            []float64
	places           []*spread
	rests            []rest
}

// middle is the median; x stays as it is.
func (b *buffers) middle(x []float64) float64 {
	b.order = append(b.order[:0], x...)
	return sortedMiddle(b.order)
}

// middles is where a point is seen mostly, px.
type middles struct {
	u, v, sigma float64
	looks       int // in which it is seen
}

// middleOf is where a point is seen mostly.
func (b *buffers) middleOf(all []sighted, p int) middles {
	u, v, sigma := b.u[:0], b.v[:0], b.uu[:0]
	for i := range all {
		if x := &all[i].of[p]; x.ok {
			u, v, sigma = append(u, x.at.U), append(v, x.at.V), append(sigma, x.sigma())
		}
	}
	b.u, b.v, b.uu = u, v, sigma
	return middles{sortedMiddle(u), sortedMiddle(v), sortedMiddle(sigma), len(u)}
}

// together is the robust mean of sights of a club that rests: of those that
// agree best, each by how sure it is. Where the eye sees a thing now here and
// now there, the places that it is sure of count, not the more frequent ones.
func (b *buffers) together(all []sighted) sighted {
	out := sighted{at: all[0].at, looks: len(all)}
	for p := range out.of {
		b.places = b.places[:0]
		for i := range all {
			if x := &all[i].of[p]; x.ok {
				b.places = append(b.places, x)
			}
		}
		if n := len(b.places); n > 0 && 3*n >= len(all) {
			out.of[p] = b.agreed(b.places, len(all))
		}
	}
	return out
}

// agreed is the mean of the places about the mode of their density, each place
// a Gaussian as wide as it is unsure (kernel density with widths of their own:
// Breiman, Meisel and Purcell 1977). It is the less sure, the more of the looks
// put it elsewhere or do not see it.
func (b *buffers) agreed(all []*spread, looks int) spread {
	vars := b.uu[:0]
	for _, x := range all {
		vars = append(vars, (x.uu+x.vv)/2)
	}
	b.uu = vars
	least := b.middle(vars) / 4 // one that is much too sure of itself does not decide alone
	step := (len(all) + mostTried - 1) / mostTried
	var at lens.Point
	most := 0.0
	for i := 0; i < len(all); i += step {
		var density float64
		for j := 0; j < len(all); j += step {
			v := max(vars[j], least)
			density += math.Exp(-(sq(all[i].at.U-all[j].at.U)+sq(all[i].at.V-all[j].at.V))/(2*v)) / v
		}
		if density > most {
			most, at = density, all[i].at
		}
	}
	var out spread
	for range 3 {
		var w, w2, near, u, v, uu, uv, vv float64
		for i, x := range all {
			own := max(vars[i], least)
			d2 := (sq(x.at.U-at.U) + sq(x.at.V-at.V)) / own
			fits := 1 / (1 + sq(d2/9))
			k := fits / own
			near, w, w2 = near+fits, w+k, w2+k*k
			u, v = u+k*x.at.U, v+k*x.at.V
			uu, uv, vv = uu+k*x.uu, uv+k*x.uv, vv+k*x.vv
		}
		at = lens.Point{U: u / w, V: v / w}
		k := (lasts + (1-lasts)*w2/(w*w)) * max(1, 0.9*float64(looks)/near) / w
		out = spread{at: at, uu: k * uu, uv: k * uv, vv: k * vv, ok: true}
	}
	if out.uv*out.uv >= out.uu*out.vv {
		out.uv = 0
	}
	return out
}

// weighted is the mean of places, each the less the farther it is from the
// middle, for errors of a usual size.
func weighted(u, v []float64, mu, mv float64, usual spread) spread {
	var w, x, y float64
	for i := range u {
		d2 := (sq(u[i]-mu) + sq(v[i]-mv)) / (usual.uu + usual.vv) * 2
		k := 1 / (1 + sq(d2/9))
		w, x, y = w+k, x+k*u[i], y+k*v[i]
	}
	k := lasts + (1-lasts)/w
	if usual.uv*usual.uv >= usual.uu*usual.vv {
		usual.uv = 0
	}
	return spread{at: lens.Point{U: x / w, V: y / w}, uu: k * usual.uu, uv: k * usual.uv, vv: k * usual.vv, ok: true}
}

// sortedMiddle is the median; it sorts x.
func sortedMiddle(x []float64) float64 {
	n := len(x)
	if n == 0 {
		return math.NaN()
	}
	slices.Sort(x)
	if n%2 == 0 {
		return (x[n/2-1] + x[n/2]) / 2
	}
	return x[n/2]
}
