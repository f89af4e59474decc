package sight

import (
	"math"
	"slices"
)

// rest is a time in which hands and head rest in the picture: the sights from
// from up to to, without to.
type rest struct{ from, to int }

// rests are the times in which hands and head rest. They are b's, and last
// until it is used for others.
func (s Setting) rests(all []sighted, b *buffers) []rest {
	out := b.rests[:0]
	first := -1
	for i := 0; i <= len(all); i++ {
		if i < len(all) && s.resting(all, i, b) {
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
		r = s.extent(all, r, b)
		if r.to-r.from < 3 || all[r.to-1].at-all[r.from].at < shortestRest {
			continue
		}
		// One rest may seem to be two, when some looks in it are wrong.
		for n := len(out); n > 0 && s.one(all, out[n-1], r, b); n-- {
			r.from, out = out[n-1].from, out[:n-1]
		}
		out = append(out, r)
	}
	b.rests = out
	return out
}

// extent is a rest with all the looks beside it that show the same, one wrong
// one passed over.
func (s Setting) extent(all []sighted, r rest, b *buffers) rest {
	mid := b.together(all[r.from:r.to])
	for r.from < r.to && !s.there(all, &mid, r.from) {
		r.from++
	}
	for r.to > r.from && !s.there(all, &mid, r.to-1) {
		r.to--
	}
	close := func(i, j int) bool { return math.Abs(all[i].at-all[j].at) < 0.2 }
	// Where the head was not seen in it, a look that shows one tells nothing of it.
	tells := func(i int) bool { return mid.of[headAt].ok || !all[i].of[headAt].ok }
	for i := r.from - 1; i >= 0 && close(i, r.from); i-- {
		if tells(i) && s.there(all, &mid, i) {
			r.from = i
		} else if r.from-i > 1 {
			break
		}
	}
	for i := r.to; i < len(all) && close(i, r.to-1); i++ {
		if tells(i) && s.there(all, &mid, i) {
			r.to = i + 1
		} else if i-r.to >= 1 {
			break
		}
	}
	return s.still(all, &mid, r, b)
}

// still is a rest without the looks at its ends that all lie off to the side
// where the club comes from or goes to: it moves already.
func (s Setting) still(all []sighted, mid *sighted, r rest, b *buffers) rest {
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
			along, sigma := b.u[:0], b.v[:0]
			for k := from; k < to; k++ {
				if x := all[k].of[p]; x.ok {
					along = append(along, ((x.at.U-mid.of[p].at.U)*du+(x.at.V-mid.of[p].at.V)*dv)/far)
					sigma = append(sigma, x.sigma())
				}
			}
			b.u, b.v = along, sigma
			if n := float64(len(along)); n > 0 && b.middle(along) > 0.3*restWithin*m+1.6*b.middle(sigma)/math.Sqrt(n) {
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
func (s Setting) one(all []sighted, before, after rest, b *buffers) bool {
	if all[after.from].at-all[before.to-1].at > longestGap {
		return false
	}
	p, q := b.together(all[before.from:before.to]), b.together(all[after.from:after.to])
	if !s.same(&p, &q) {
		return false
	}
	if p.of[headAt].ok && !q.of[headAt].ok {
		q = p // hands alone do not tell that the club stayed
	}
	off := 0
	for i := before.to; i < after.from; i++ {
		if !s.there(all, &p, i) && !s.there(all, &q, i) {
			off++
		}
	}
	return 3*off <= after.from-before.to+1
}

// same reports whether two rests show hands and head in one place.
func (s Setting) same(p, q *sighted) bool {
	m := s.perMetre(s.Distance)
	for _, k := range [...]int{handsAt, headAt} {
		x, y := p.of[k], q.of[k]
		if x.ok && y.ok && apart(x.at, y.at) > restWithin*m+1.5*max(x.sigma(), y.sigma()) {
			return false
		}
	}
	return true
}

// there reports whether sight i shows hands and head where they rest.
func (s Setting) there(all []sighted, mid *sighted, i int) bool {
	m := s.perMetre(s.Distance)
	for _, p := range [...]int{handsAt, headAt} {
		a, b := all[i].of[p], mid.of[p]
		if a.ok && b.ok && apart(a.at, b.at) > restWithin*m+2.7*a.sigma() {
			return false
		}
	}
	return true
}

// resting reports whether hands and head are in the same place just before and
// just after sight i.
func (s Setting) resting(all []sighted, i int, b *buffers) bool {
	m := s.perMetre(s.Distance)
	from, to := i, i+1
	for from > 0 && (all[i].at-all[from-1].at < halfRest || i-from < 1 && all[i].at-all[from-1].at < longestHalf) {
		from--
	}
	for to < len(all) && (all[to].at-all[i].at < halfRest || to-i < 2 && all[to].at-all[i].at < longestHalf) {
		to++
	}
	for _, p := range [...]int{handsAt, headAt} {
		x, y := b.middleOf(all[from:i+1], p), b.middleOf(all[i:to], p)
		n := min(x.looks, y.looks)
		if n < 2 {
			if p == headAt && 2*(x.looks+y.looks) < to-from {
				continue // the head is not seen: the hands decide
			}
			return false
		}
		slack := restWithin*m + 1.5*(x.sigma+y.sigma)/2/math.Sqrt(float64(n))
		if math.Hypot(x.u-y.u, x.v-y.v) > slack {
			return false
		}
	}
	return true
}

// stays reports whether a sight shows the hands, and the head, where they were
// held.
func (s Setting) stays(q, held *sighted) (hands, head bool) {
	m := s.perMetre(s.Distance)
	near := func(p int, within float64) bool {
		a, b := q.of[p], held.of[p]
		return !a.ok || !b.ok || apart(a.at, b.at) <= within*m+2*a.sigma()
	}
	return near(handsAt, heldWithin), near(headAt, hopsTo)
}

// held reports whether a club was held from one sight to another, though its
// head was lost now and then.
func (s Setting) held(all []sighted, from, to int, b *buffers) bool {
	mid := b.together(all[from:to])
	off, away := 0, 0
	for i := from; i < to; i++ {
		hands, head := s.stays(&all[i], &mid)
		if !hands {
			off++
		}
		if away++; head {
			away = 0
		}
		if away > 3 && all[i].at-all[i-away+1].at > 0.12 {
			return false
		}
	}
	return 6*off <= to-from
}

// headSeen reports whether the head is seen in most looks of a rest, and at its
// end: at address it is, and a club that rushes by there is blurred.
func headSeen(all []sighted, r rest) bool {
	seen, last := 0, r.from
	for i := r.from; i < r.to; i++ {
		if all[i].of[headAt].ok {
			seen, last = seen+1, i
		}
	}
	return 5*seen >= 3*(r.to-r.from) && r.to-last <= 3
}

// ends are address and hold among the rests: the first with the club down, and
// the last elsewhere. The hold is empty in a whole swing.
func (s Setting) ends(rests []rest, all []sighted, whole bool, b *buffers) (address, hold rest, err error) {
	m := s.perMetre(s.Distance)
	down := func(r rest) bool {
		mid := b.together(all[r.from:r.to])
		hands, head := mid.of[handsAt], mid.of[headAt]
		return headSeen(all, r) && hands.ok && head.ok && head.at.V-hands.at.V > isDown*s.Reach*m
	}
	first := slices.IndexFunc(rests, down)
	if first < 0 {
		return address, hold, ErrNoAddress
	}
	address = rests[first]
	// After a waggle it is the last rest there that counts.
	home := b.together(all[address.from:address.to])
	for i := first + 1; i < len(rests); i++ {
		r := rests[i]
		if r.from < address.to || all[r.to-1].at-all[r.from].at < addressFor || !down(r) {
			continue
		}
		if here := b.together(all[r.from:r.to]); s.same(&home, &here) {
			first, address = i, r
		}
	}
	home = b.together(all[address.from:address.to])
	if whole {
		return address, hold, nil
	}
	for _, r := range rests[first+1:] {
		if r.from < address.to {
			continue
		}
		if here := b.together(all[r.from:r.to]); s.same(&home, &here) {
			continue
		}
		if hold.to > 0 && s.held(all, hold.from, r.to, b) {
			r.from = hold.from // the head was lost in between, the hands were not
		}
		hold = r
	}
	if hold.to == 0 {
		return address, hold, ErrNoHold
	}
	return address, hold, nil
}
