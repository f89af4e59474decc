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

// together is the robust mean of sights of a club that rests.
func (b *buffers) together(all []sighted) sighted {
	out := sighted{at: all[0].at, looks: len(all)}
	for p := range out.of {
		u, v, uu, uv, vv := b.u[:0], b.v[:0], b.uu[:0], b.uv[:0], b.vv[:0]
		for i := range all {
			if x := &all[i].of[p]; x.ok {
				u, v, uu, uv, vv = append(u, x.at.U), append(v, x.at.V), append(uu, x.uu), append(uv, x.uv), append(vv, x.vv)
			}
		}
		b.u, b.v, b.uu, b.uv, b.vv = u, v, uu, uv, vv
		if 3*len(u) < len(all) {
			continue
		}
		mu, mv := b.middle(u), b.middle(v)
		a, k, c := sortedMiddle(uu), sortedMiddle(uv), sortedMiddle(vv)
		out.of[p] = weighted(u, v, mu, mv, spread{uu: a, uv: k, vv: c})
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
