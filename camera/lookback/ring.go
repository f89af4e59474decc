package lookback

import (
	"errors"
	"math"
	"sync"

	"drillbay/camera/frame"
)

// ErrSubsampling is returned for a picture that is not 4:2:0.
var ErrSubsampling = errors.New("lookback: the ring holds 4:2:0 pictures only")

// ErrOrder is returned for a picture that is not later than the newest one.
var ErrOrder = errors.New("lookback: pictures must come in order of time")

const (
	// freshFor is the time for which still pictures stay at full rate, s: a rep that begins
	// or a catch that becomes known needs the pictures just before.
	freshFor = 0.6
	// stillStep is the spacing to which older still pictures are thinned, s.
	stillStep = 0.1
	// heldShare is the part of the budget that loops may hold, takeShare the
	// part for takes that are being read.
	heldShare = 0.4
	takeShare = 0.35
	// thinnest is the most that a loop is thinned: to one picture in so many.
	thinnest = 4
)

// Ring holds the newest pictures by reference, and what loops cut from it
// hold, together within a budget. It is safe for concurrent use. Adding a
// picture allocates nothing.
type Ring struct {
	mu     sync.Mutex
	slots  []slot // all pictures held, by the ring or by loops
	free   []int  // slots not in use
	order  []int  // slots in the ring, a circle
	head   int    // place of the oldest in order
	count  int    // pictures in the ring
	budget int
	bytes  int    // of all pictures held
	held   [2]int // bytes of pictures held by loops, and by takes
	aged   int    // how many of the oldest have been looked at for thinning
	stats  Stats
}

// Stats counts what went through a ring.
type Stats struct {
	Added   int // pictures taken in
	Thinned int // still pictures let go to make room
	Evicted int // oldest pictures let go to make room
	Refused int // pictures that found no room at all
	Held    int // bytes of all pictures held
	Peak    int // the most bytes ever held
}

type slot struct {
	picture *frame.Picture
	still   bool
	ring    bool
	holds   [2]int // loops, and takes, that hold it
}

// NewRing returns a ring that holds at most budget bytes of planes and at
// most count pictures, whichever comes first. Either must be above 0.
func NewRing(budget, count int) *Ring {
	if budget < 1 || count < 1 {
		panic("lookback: a ring needs a budget and a count above 0")
	}
	r := &Ring{
		budget: budget,
		slots:  make([]slot, count), free: make([]int, count), order: make([]int, count),
	}
	for i := range r.free {
		r.free[i] = count - 1 - i
	}
	return r
}

// Capacity is the count of 4:2:0 pictures of a size that a budget holds.
func Capacity(budget, width, height int) int {
	return max(1, budget/(width*height+2*((width+1)/2)*((height+1)/2)))
}

// Add takes a picture in with a reference of its own; the caller keeps its
// reference. Still says that nothing that matters moves in it: such pictures
// are thinned once they are older than a moment.
func (r *Ring) Add(p *frame.Picture, still bool) error {
	if p.Sub != frame.Sub420 {
		return ErrSubsampling
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.count > 0 && p.At <= r.at(r.count-1).picture.At {
		return ErrOrder
	}
	r.thin(p.Seconds() - freshFor)
	size := p.Bytes()
	for r.count > 0 && (r.bytes+size > r.budget || len(r.free) == 0) {
		r.stats.Evicted++
		r.drop(0)
	}
	if len(r.free) == 0 || r.bytes+size > r.budget {
		// Loops and takes hold all there is: more of them than a session
		// keeps, or a budget of a few pictures.
		r.stats.Refused++
		return nil
	}
	i := r.free[len(r.free)-1]
	r.free = r.free[:len(r.free)-1]
	r.slots[i] = slot{picture: p.Retain(), still: still, ring: true}
	r.order[(r.head+r.count)%len(r.order)] = i
	r.count++
	r.bytes += size
	r.stats.Added++
	r.stats.Peak = max(r.stats.Peak, r.bytes)
	return nil
}

// at is the k-th oldest picture in the ring.
func (r *Ring) at(k int) *slot { return &r.slots[r.order[(r.head+k)%len(r.order)]] }

// thin lets go of still pictures older than before that lie closer than
// stillStep to a still one kept just before them. It looks at each picture
// once.
func (r *Ring) thin(before float64) {
	for r.aged < r.count && r.at(r.aged).picture.Seconds() < before {
		s := r.at(r.aged)
		if r.aged > 0 && s.still && r.at(r.aged-1).still &&
			s.picture.Seconds()-r.at(r.aged-1).picture.Seconds() < stillStep-1e-4 {
			r.stats.Thinned++
			r.drop(r.aged)
			continue
		}
		r.aged++
	}
}

// drop takes the k-th oldest picture out of the ring.
func (r *Ring) drop(k int) {
	i := r.order[(r.head+k)%len(r.order)]
	if k == 0 {
		r.head = (r.head + 1) % len(r.order)
	} else {
		for j := k; j < r.count-1; j++ {
			r.order[(r.head+j)%len(r.order)] = r.order[(r.head+j+1)%len(r.order)]
		}
	}
	r.count--
	if k < r.aged {
		r.aged--
	}
	r.slots[i].ring = false
	r.settle(i)
}

// settle gives a slot back when nobody holds it.
func (r *Ring) settle(i int) {
	s := &r.slots[i]
	if s.ring || s.holds != [2]int{} {
		return
	}
	r.bytes -= s.picture.Bytes()
	s.picture.Release()
	s.picture = nil
	r.free = append(r.free, i)
}

// Newest is the latest picture with a reference for the caller, or nil.
func (r *Ring) Newest() *frame.Picture { return r.Before(math.Inf(1)) }

// Before is the latest picture at or before t (s, capture clock) with a
// reference for the caller, or nil when the ring does not reach back so far.
func (r *Ring) Before(t float64) *frame.Picture {
	r.mu.Lock()
	defer r.mu.Unlock()
	for k := r.count - 1; k >= 0; k-- {
		if p := r.at(k).picture; p.Seconds() <= t {
			return p.Retain()
		}
	}
	return nil
}

// Frames returns the pictures from and to inclusive (s, capture clock), in
// order, each with a reference for the caller.
func (r *Ring) Frames(from, to float64) []*frame.Picture {
	r.mu.Lock()
	defer r.mu.Unlock()
	var out []*frame.Picture
	for k := range r.count {
		if p := r.at(k).picture; p.Seconds() >= from && p.Seconds() <= to {
			out = append(out, p.Retain())
		}
	}
	return out
}

// Span is the time of the oldest and the newest picture (s, capture clock);
// ok is false when the ring is empty.
func (r *Ring) Span() (from, to float64, ok bool) {
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.count == 0 {
		return 0, 0, false
	}
	return r.at(0).picture.Seconds(), r.at(r.count - 1).picture.Seconds(), true
}

// Stats returns the counters.
func (r *Ring) Stats() Stats {
	r.mu.Lock()
	defer r.mu.Unlock()
	s := r.stats
	s.Held = r.bytes
	return s
}

// Clear lets go of everything the ring itself holds. Loops keep theirs.
func (r *Ring) Clear() {
	r.mu.Lock()
	defer r.mu.Unlock()
	for r.count > 0 {
		r.drop(0)
	}
}
