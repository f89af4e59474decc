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
	shortestRest = 0.15 // s
	halfRest     = 0.1  // s before and after a time that are compared
	// By so much hands and head may have moved from the one to the other, m,
	// beside what the eye may be off.
	restWithin = 0.02
)

// rests are the times in which hands and head rest.
func (s Setting) rests(all []sighted) (out []rest) {
	first := -1
	for i := 0; i <= len(all); i++ {
		if i < len(all) && s.resting(all, i) {
			if first < 0 {
				first = i
			}
			continue
		}
		if first < 0 {
			continue
		}
		r := rest{first, i}
		first = -1
		r = s.extent(all, r)
		if r.to-r.from < 3 || all[r.to-1].at-all[r.from].at < shortestRest {
			continue
		}
		// One rest may seem to be two, when some looks in it are wrong.
		for n := len(out); n > 0 && s.one(all, out[n-1], r); n-- {
			r.from, out = out[n-1].from, out[:n-1]
		}
		out = append(out, r)
	}
	return out
}

// extent is a rest with all the looks beside it that show the same, one wrong
// one passed over.
func (s Setting) extent(all []sighted, r rest) rest {
	mid := together(all[r.from:r.to])
	for r.from < r.to && !s.there(all, mid, r.from) {
		r.from++
	}
	for r.to > r.from && !s.there(all, mid, r.to-1) {
		r.to--
	}
	close := func(i, j int) bool { return math.Abs(all[i].at-all[j].at) < 0.2 }
	for i := r.from - 1; i >= 0 && close(i, r.from); i-- {
		if s.there(all, mid, i) {
			r.from = i
		} else if r.from-i > 1 {
			break
		}
	}
	for i := r.to; i < len(all) && close(i, r.to-1); i++ {
		if s.there(all, mid, i) {
			r.to = i + 1
		} else if i-r.to >= 1 {
			break
		}
	}
	return s.still(all, mid, r)
}

// still is a rest without the looks at its ends that all lie off to the side
// where the club comes from or goes to: it moves already.
func (s Setting) still(all []sighted, mid sighted, r rest) rest {
	m := s.perMetre(s.Distance)
	off := func(from, to, beyond int) bool {
		for _, p := range [...]int{handsAt, headAt} {
			if beyond < 0 || beyond >= len(all) || !mid.of[p].ok || !all[beyond].of[p].ok {
				continue
			}
			du, dv := all[beyond].of[p].at.U-mid.of[p].at.U, all[beyond].of[p].at.V-mid.of[p].at.V
			far := math.Hypot(du, dv)
			if far < 2*restWithin*m {
				continue
			}
			var along, sigma []float64
			for k := from; k < to; k++ {
				if x := all[k].of[p]; x.ok {
					along = append(along, ((x.at.U-mid.of[p].at.U)*du+(x.at.V-mid.of[p].at.V)*dv)/far)
					sigma = append(sigma, x.sigma())
				}
			}
			if n := float64(len(along)); n > 0 && middle(along) > 0.3*restWithin*m+1.6*middle(sigma)/math.Sqrt(n) {
				return true
			}
		}
		return false
	}
	index := func(at float64) int {
		i := 0
		for i < len(all)-1 && all[i].at < at {
			i++
		}
		return i
	}
	const few, ahead = 0.07, 0.12 // s
	for r.to-r.from > 3 && off(max(r.from, index(all[r.to-1].at-few)), r.to, index(all[r.to-1].at+ahead)) {
		r.to--
	}
	for r.to-r.from > 3 && off(r.from, min(r.to, index(all[r.from].at+few)+1), index(all[r.from].at-ahead)) {
		r.from++
	}
	return r
}

// one reports whether two rests are in one place, and so is what was seen
// between them.
func (s Setting) one(all []sighted, a, b rest) bool {
	p, q := together(all[a.from:a.to]), together(all[b.from:b.to])
	if !s.same(p, q) {
		return false
	}
	off := 0
	for i := a.to; i < b.from; i++ {
		if !s.there(all, p, i) && !s.there(all, q, i) {
			off++
		}
	}
	return 3*off <= b.from-a.to+1
}

// same reports whether two rests show hands and head in one place.
func (s Setting) same(p, q sighted) bool {
	m := s.perMetre(s.Distance)
	for _, k := range [...]int{handsAt, headAt} {
		x, y := p.of[k], q.of[k]
		if x.ok && y.ok && math.Hypot(x.at.U-y.at.U, x.at.V-y.at.V) > restWithin*m+1.5*max(x.sigma(), y.sigma()) {
			return false
		}
	}
	return true
}

// there reports whether sight i shows hands and head where they rest.
func (s Setting) there(all []sighted, mid sighted, i int) bool {
	m := s.perMetre(s.Distance)
	for _, p := range [...]int{handsAt, headAt} {
		a, b := all[i].of[p], mid.of[p]
		if a.ok && b.ok && math.Hypot(a.at.U-b.at.U, a.at.V-b.at.V) > restWithin*m+2.7*a.sigma() {
			return false
		}
	}
	return true
}

// resting reports whether hands and head are in the same place just before and
// just after sight i.
func (s Setting) resting(all []sighted, i int) bool {
	m := s.perMetre(s.Distance)
	from, to := i, i+1
	for from > 0 && all[i].at-all[from-1].at < halfRest {
		from--
	}
	for to < len(all) && all[to].at-all[i].at < halfRest {
		to++
	}
	for _, p := range [...]int{handsAt, headAt} {
		var u, v, w [2][]float64
		for k := from; k < to; k++ {
			x := all[k].of[p]
			if !x.ok {
				continue
			}
			for h := range 2 {
				if h == 0 && k <= i || h == 1 && k >= i {
					u[h], v[h], w[h] = append(u[h], x.at.U), append(v[h], x.at.V), append(w[h], x.sigma())
				}
			}
		}
		n := min(len(u[0]), len(u[1]))
		if n < 2 {
			if p == headAt && 2*(len(u[0])+len(u[1])) < to-from {
				continue // the head is not seen: the hands decide
			}
			return false
		}
		slack := restWithin*m + 2.5*(middle(w[0])+middle(w[1]))/2/math.Sqrt(float64(n))
		if math.Hypot(middle(u[0])-middle(u[1]), middle(v[0])-middle(v[1])) > slack {
			return false
		}
	}
	return true
}

// ends are address and hold among the rests: the first with the club down, and
// the last elsewhere. The hold is empty in a whole swing.
func (s Setting) ends(rests []rest, all []sighted, whole bool) (address, hold rest, err error) {
	m := s.perMetre(s.Distance)
	down := func(r rest) bool {
		mid := together(all[r.from:r.to])
		hands, head := mid.of[handsAt], mid.of[headAt]
		return hands.ok && head.ok && head.at.V-hands.at.V > 0.68*s.Reach*m
	}
	first := slices.IndexFunc(rests, down)
	if first < 0 {
		return address, hold, ErrNoAddress
	}
	address = rests[first]
	if whole {
		return address, hold, nil
	}
	home := together(all[address.from:address.to])
	for _, r := range rests[first+1:] {
		if !s.same(home, together(all[r.from:r.to])) {
			hold = r
		}
	}
	if hold.to == 0 {
		return address, hold, ErrNoHold
	}
	return address, hold, nil
}

// lasts is how much of the eye's error stays the same while the club is still,
// as a share of its variance: looking again does not take it away.
const lasts = 0.5

// The looks so near the end of address, and the beginning of the hold, keep
// nodes of their own, s: the club may move already, or still.
const (
	leaving  = 0.2
	arriving = 0.04
)

// join are the sights from address to the hold's end. Those of address are
// joined to two, whose likeness says that the club rests, and those of the
// hold to one.
func (s Setting) join(all []sighted, address, hold rest) (out []sighted) {
	end := address.to
	for end > address.from+1 && all[address.to-1].at-all[end-1].at < leaving {
		end--
	}
	if half := (address.from + end) / 2; half-address.from >= 2 && end-half >= 2 {
		a := together(all[address.from:half])
		a.role, a.at = atAddress, (all[address.from].at+all[half-1].at)/2
		out = append(out, a)
		address.from = half
	}
	a := together(all[address.from:end])
	a.role, a.at = atAddress, (all[address.from].at+all[end-1].at)/2
	out = append(out, a)
	if hold.to == 0 {
		return append(out, sharing(all[end:])...)
	}
	from := hold.from
	for from < hold.to-3 && all[from].at-all[hold.from].at < arriving {
		from++
	}
	out = append(out, sharing(all[end:from])...)
	h := together(all[from:hold.to])
	h.role, h.at = inHold, all[from].at
	return append(out, h)
}

// afresh is how long a part of the eye's error lasts while the club moves, s.
const afresh = 1 / 30.0

// sharing are sights of a moving club, made less sure where they follow each
// other so fast that they share their errors.
func sharing(all []sighted) []sighted {
	out := slices.Clone(all)
	for i := range out {
		h := afresh
		if i > 0 && i+1 < len(all) {
			h = (all[i+1].at - all[i-1].at) / 2
		}
		k := 1 - lasts + lasts*max(1, afresh/max(h, 1e-3))
		for p := range out[i].of {
			q := &out[i].of[p]
			q.uu, q.uv, q.vv = k*q.uu, k*q.uv, k*q.vv
		}
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
