package sight

import (
	"math"

	"drillbay/camera/eye"
	"drillbay/camera/lens"
)

// stand is where each point of club and body lies while the player stands
// still, or passes a moment: places in the analysed picture, sides as of a
// right-hander.
type stand [eye.Points]spread

// points are the places that are seen, NaN the others.
func (s *stand) points() (out [eye.Points]lens.Point) {
	for p, x := range s {
		out[p] = x.at
		if !x.ok {
			out[p] = lens.Point{U: math.NaN(), V: math.NaN()}
		}
	}
	return out
}

// standing is the robust mean of the looks from one time to another, s.
func (s Setting) standing(looks []Look, from, to float64) (out stand) {
	var b buffers
	for p := range out {
		u, v, uu, uv, vv := b.u[:0], b.v[:0], b.uu[:0], b.uv[:0], b.vv[:0]
		all := 0
		for i := range looks {
			if at := looks[i].At; at < from-1e-6 || at > to+1e-6 {
				continue
			}
			all++
			if x := s.point(&looks[i], eye.Point(p)); x.ok {
				u, v, uu, uv, vv = append(u, x.at.U), append(v, x.at.V), append(uu, x.uu), append(uv, x.uv), append(vv, x.vv)
			}
		}
		b.u, b.v, b.uu, b.uv, b.vv = u, v, uu, uv, vv
		if all == 0 || 2*len(u) < all {
			continue
		}
		mu, mv := b.middle(u), b.middle(v)
		var off float64
		for i := range u {
			off += (sq(u[i]-mu) + sq(v[i]-mv)) / float64(len(u))
		}
		out[p] = weighted(u, v, mu, mv, spread{uu: sortedMiddle(uu), uv: sortedMiddle(uv), vv: sortedMiddle(vv)})
		// Where looks differ by more than they say, the eye does not know.
		if x := &out[p]; off > x.uu+x.vv {
			k := off / (x.uu + x.vv)
			x.uu, x.uv, x.vv = k*x.uu, k*x.uv, k*x.vv
		}
	}
	return out
}

// passing is where the points are at a moment that they pass: a straight line
// through the looks within so many seconds of it.
func (s Setting) passing(looks []Look, at, within float64) (out stand) {
	for p := range out {
		var w, wt, wtt, wu, wv, wtu, wtv float64
		var uu, uv, vv float64
		all := 0
		for i := range looks {
			t := looks[i].At - at
			if math.Abs(t) > within {
				continue
			}
			all++
			x := s.point(&looks[i], eye.Point(p))
			if !x.ok {
				continue
			}
			k := 1 - sq(t/within)
			w, wt, wtt = w+k, wt+k*t, wtt+k*t*t
			wu, wv, wtu, wtv = wu+k*x.at.U, wv+k*x.at.V, wtu+k*t*x.at.U, wtv+k*t*x.at.V
			uu, uv, vv = uu+k*x.uu, uv+k*x.uv, vv+k*x.vv
		}
		det := w*wtt - wt*wt
		if all == 0 || !(w > 1) || !(det > 1e-9) {
			continue
		}
		k := lasts + (1-lasts)*wtt/det
		out[p] = spread{at: lens.Point{U: (wtt*wu - wt*wtu) / det, V: (wtt*wv - wt*wtv) / det},
			uu: k * uu / w, uv: k * uv / w, vv: k * vv / w, ok: true}
	}
	return out
}

// point is a place of a look in the analysed picture, its side as of a
// right-hander.
func (s Setting) point(l *Look, p eye.Point) spread {
	if s.View.Left {
		p = p.Mirrored()
	}
	if l.Places[p].Here < leastSure {
		return spread{}
	}
	return s.spread(l.Places[p])
}
