package sight

import "math"

// recall is what the player at address looks like to the live pass, learnt
// from a rep that was read: the picture of its address, the mean of those of
// the motion after it, in which the club is nowhere for long, and where the
// two differ.
type recall struct {
	address, gone []float32
	where         []int32 // places at which the two differ
	at            float64 // s, when it was learnt
	voids         int     // calls since the last lesson that were no rep
	ok            bool
}

const (
	// A picture is that of address when this share of the places agrees, and
	// may be with somebody walking by behind from this share on.
	isAddress, maybeAddress = 0.7, 0.45
	// The player may stand elsewhere when there was no rep for so long, s, or
	// so many calls in a row were none.
	stale, mostVoids = 20.0, 3
	leastPlaces      = 40.0 // cm² that must differ for a lesson
)

// learn takes the pictures of an address and of the motion after it. What
// fits what is known confirms it; what fits in part leaves the places that
// agree, for somebody walked by behind the others; what does not fit is learnt
// in its place.
func (r *recall) learn(address, gone []float32, noise, cm2, now float64) {
	like := r.like(address)
	if like > isAddress {
		r.at, r.voids = now, 0
		return
	}
	limit := float32(max(6, 1.5*noise))
	var where []int32
	for i, a := range address {
		if abs32(a-gone[i]) > limit && (!(like > maybeAddress) || r.agrees(i, a)) {
			where = append(where, int32(i))
		}
	}
	if float64(len(where))*cm2 < leastPlaces {
		return
	}
	r.where = where
	r.address = append(r.address[:0], address...)
	r.gone = append(r.gone[:0], gone...)
	r.at, r.voids, r.ok = now, 0, true
}

// agrees reports whether a level at a place is rather that of address.
func (r *recall) agrees(i int, v float32) bool { return abs32(v-r.address[i]) < abs32(v-r.gone[i]) }

// doubt counts a call that was no rep.
func (r *recall) doubt() {
	if r.voids++; r.voids >= mostVoids {
		r.ok = false
	}
}

// fresh reports whether what was learnt still holds.
func (r *recall) fresh(now float64) bool { return r.ok && now-r.at < stale }

// like is how much a picture is that of address, 0..1; NaN when nothing was
// learnt.
func (r *recall) like(pix []float32) float64 {
	if !r.ok {
		return math.NaN()
	}
	n := 0
	for _, i := range r.where {
		if r.agrees(int(i), pix[i]) {
			n++
		}
	}
	return float64(n) / float64(len(r.where))
}

// follow lets the picture of address go with slow changes of light.
func (r *recall) follow(pix []float32) {
	for i, v := range pix {
		r.address[i] += 0.2 * (v - r.address[i])
	}
}
