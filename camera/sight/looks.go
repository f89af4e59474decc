package sight

import (
	"math"
	"slices"

	"drillbay/camera/eye"
	"drillbay/camera/lens"
)

// What the eye says of a point counts from this chance that it is there. What
// is hidden is less sure.
const (
	leastHere = 0.4
	// The eye's own errors that it does not know of, m at the point's distance
	// and px; they are added to its covariance.
	floorMetres, floorPixels = 0.005, 0.7
)

// spread is a place in the analysed picture with its covariance, px.
type spread struct {
	at         lens.Point
	uu, uv, vv float64
	ok         bool
}

// sigma is the mean standard deviation, px.
func (p spread) sigma() float64 { return math.Sqrt((p.uu + p.vv) / 2) }

// The points that the track is made of.
const (
	gripEnd = iota
	handsAt
	shaftEnd
	headAt
	leadShoulder
	trailShoulder
	leadElbow
	seenPoints
)

// sight is what one look, or many joined, shows of the points.
type sighted struct {
	at    float64
	of    [seenPoints]spread
	looks int
	role  role
}

type role uint8

const (
	moving role = iota
	atAddress
	inHold
)

// sights are the looks in the analysed picture, without those in which hands
// and head are not seen.
func (s Setting) sights(looks []Look) (out []sighted) {
	v := s.View
	for _, l := range looks {
		if n := len(out); n > 0 && l.At <= out[n-1].at {
			continue
		}
		q := sighted{at: l.At, looks: 1}
		for i, p := range [seenPoints]eye.Point{eye.GripEnd, eye.Hands, eye.ShaftEnd, eye.Head, eye.LeftShoulder, eye.RightShoulder, eye.LeftElbow} {
			if v.Left {
				p = p.Mirrored()
			}
			q.of[i] = s.spread(l.Places[p])
		}
		if q.of[handsAt].ok && (q.of[headAt].ok || q.of[shaftEnd].ok) {
			out = append(out, q)
		}
	}
	return out
}

// spread is a place with all that its covariance should hold.
func (s Setting) spread(p eye.Place) spread {
	if !(p.Here >= leastHere) || !(p.UU > 0) || !(p.VV > 0) || !(p.UU*p.VV > p.UV*p.UV) {
		return spread{}
	}
	// A point that may be elsewhere, or hidden, is less sure by as much.
	k := 1 / (p.Here * (0.4 + 0.6*p.Seen))
	floor := sq(floorMetres*s.perMetre(s.Distance)) + sq(floorPixels)
	q := spread{at: s.View.Mirror(lens.Point{U: p.U, V: p.V}), uu: k*p.UU + floor, uv: k * p.UV, vv: k*p.VV + floor, ok: true}
	if s.View.Left {
		q.uv = -q.uv
	}
	return q
}

// rest is a time in which hands and head rest in the picture: the sights from
// from up to to, without to.
type rest struct{ from, to int }

const (
	shortestRest = 0.17 // s
	// Within this of their middle hands and head rest, m, beside what the eye
	// may be off.
	restWithin = 0.022
)

// rests are the times in which hands and head rest.
func (s Setting) rests(all []sighted) (out []rest) {
	i := 0
	for i < len(all) {
		first, j := i, i
		for j < len(all) && all[j].at-all[i].at < shortestRest {
			j++
		}
		if j == len(all) || !s.resting(all[i:j+1]) {
			i++
			continue
		}
		for j+1 < len(all) && s.resting(all[max(i, j-int(float64(j-i)/(all[j].at-all[i].at)*shortestRest)):j+2]) {
			j++
		}
		i = j + 1
		if r := s.trim(all, rest{first, j + 1}); r.to-r.from >= 2 {
			out = append(out, r)
		}
	}
	return out
}

// trim leaves out the looks at either end in which the club is still on its way.
func (s Setting) trim(all []sighted, r rest) rest {
	m := s.perMetre(s.Distance)
	mid := together(all[r.from:r.to])
	there := func(q sighted) bool {
		for _, p := range [...]int{handsAt, headAt} {
			a, b := q.of[p], mid.of[p]
			if a.ok && b.ok && math.Hypot(a.at.U-b.at.U, a.at.V-b.at.V) > restWithin*m+2*a.sigma() {
				return false
			}
		}
		return true
	}
	for r.from < r.to && !there(all[r.from]) {
		r.from++
	}
	for r.to > r.from && !there(all[r.to-1]) {
		r.to--
	}
	return r
}

// resting reports whether hands and head are in one place in all of some
// sights but a few that are wrong.
func (s Setting) resting(all []sighted) bool {
	m := s.perMetre(s.Distance)
	for _, p := range [...]int{handsAt, headAt} {
		var u, v, w, a, b []float64
		for _, q := range all {
			if x := q.of[p]; x.ok {
				u, v, w = append(u, x.at.U), append(v, x.at.V), append(w, x.sigma())
			}
		}
		if len(u) < 3 {
			if p == headAt && len(u) < len(all)/2 {
				continue // the head is not seen: the hands decide
			}
			return false
		}
		mu, mv, ms := middle(u), middle(v), middle(w)
		// Wrong ones are far off; the rest must not drift from one half to the other.
		off := 0
		for i := range u {
			if math.Hypot(u[i]-mu, v[i]-mv) > restWithin*m+2.5*ms {
				off++
			}
		}
		if 4*off > len(u) {
			return false
		}
		h := len(u) / 2
		a, b = u[:h], u[len(u)-h:]
		du := middle(a) - middle(b)
		dv := middle(v[:h]) - middle(v[len(v)-h:])
		if math.Hypot(du, dv) > restWithin*m+1.5*ms/math.Sqrt(float64(h)) {
			return false
		}
	}
	return true
}

// ends are address and hold among the rests; the hold is empty in a whole
// swing.
func (s Setting) ends(rests []rest, all []sighted, whole bool) (address, hold rest, err error) {
	m := s.perMetre(s.Distance)
	down := func(r rest) bool {
		var dv []float64
		for _, q := range all[r.from:r.to] {
			if q.of[handsAt].ok && q.of[headAt].ok {
				dv = append(dv, q.of[headAt].at.V-q.of[handsAt].at.V)
			}
		}
		return len(dv) > 0 && middle(dv) > 0.68*s.Reach*m
	}
	first := -1
	for i, r := range rests {
		if down(r) {
			first = i
			break
		}
	}
	if first < 0 {
		return rest{}, rest{}, ErrNoAddress
	}
	address = rests[first]
	for i, r := range rests[first+1:] {
		if !down(r) {
			if whole {
				continue
			}
			hold = r
			// A rest on the way is no hold: the last one before the club goes
			// down again is.
			for _, t := range rests[first+2+i:] {
				if down(t) {
					break
				}
				hold = t
			}
			break
		}
		if hold.to == 0 && all[r.to-1].at-all[address.from].at < 30 {
			address = r
		}
	}
	if !whole && hold.to == 0 {
		return address, hold, ErrNoHold
	}
	return address, hold, nil
}

// lasts is how much of the eye's error stays the same while the club is still,
// as a share of its variance: looking again does not take it away.
const lasts = 0.5

// join are the sights from address to the hold's end, those of address and
// hold joined to one each.
func (s Setting) join(all []sighted, address, hold rest) (out []sighted) {
	end := len(all)
	if hold.to > 0 {
		end = hold.from
	}
	a := together(all[address.from:address.to])
	a.role, a.at = atAddress, all[address.to-1].at
	out = append(append(out, a), all[address.to:end]...)
	if hold.to > 0 {
		h := together(all[hold.from:hold.to])
		h.role, h.at = inHold, all[hold.from].at
		out = append(out, h)
	}
	return out
}

// together is the robust mean of sights of a club that rests.
func together(all []sighted) sighted {
	out := sighted{at: all[0].at, looks: len(all)}
	for p := range out.of {
		var u, v, su, sv, suv []float64
		for _, q := range all {
			if x := q.of[p]; x.ok {
				u, v, su, sv, suv = append(u, x.at.U), append(v, x.at.V), append(su, x.uu), append(sv, x.vv), append(suv, x.uv)
			}
		}
		if 3*len(u) < len(all) {
			continue
		}
		mu, mv := middle(u), middle(v)
		a, b, c := middle(su), middle(suv), middle(sv)
		var w, x, y float64
		for i := range u {
			d2 := (sq(u[i]-mu) + sq(v[i]-mv)) / (a + c) * 2
			k := 1 / (1 + sq(d2/9))
			w, x, y = w+k, x+k*u[i], y+k*v[i]
		}
		k := lasts + (1-lasts)/w
		if b*b >= a*c {
			b = 0
		}
		out.of[p] = spread{at: lens.Point{U: x / w, V: y / w}, uu: k * a, uv: k * b, vv: k * c, ok: true}
	}
	return out
}

// middle is the median.
func middle(x []float64) float64 {
	if len(x) == 0 {
		return math.NaN()
	}
	s := slices.Sorted(slices.Values(x))
	if n := len(s); n%2 == 0 {
		return (s[n/2-1] + s[n/2]) / 2
	}
	return s[len(s)/2]
}
