package lookback

import (
	"math"
	"sort"

	"drillbay/camera/frame"
)

// Loop is a stretch of the past that stays while capture goes on: its
// pictures are held by reference until Release.
type Loop struct {
	ring  *Ring
	kind  int
	slots []int // under the ring's lock; nil once released
	times []float64
	still []int // one slot at most, besides: see Still
	// Thinned says that pictures were left out because loops had used up
	// their share of the memory.
	Thinned bool
}

// The kinds of hold on a picture.
const (
	byLoop = iota
	byTake
)

// Cut holds the pictures from and to inclusive (s, capture clock) as a loop.
// It returns nil when there are none. When the loops' share of the budget
// would be passed, the new loop is thinned evenly, down to one picture in
// four.
func (r *Ring) Cut(from, to float64) *Loop { return r.hold(from, to, byLoop) }

// Take is Cut for the pictures of a rep that is about to be read and let go
// again; takes have a share of the memory of their own.
func (r *Ring) Take(from, to float64) *Loop { return r.hold(from, to, byTake) }

func (r *Ring) hold(from, to float64, kind int) *Loop {
	r.mu.Lock()
	defer r.mu.Unlock()
	var picked []int
	size := 0
	for k := range r.count {
		s := r.at(k)
		if t := s.picture.Seconds(); t < from || t > to {
			continue
		}
		picked = append(picked, r.order[(r.head+k)%len(r.order)])
		if s.holds[kind] == 0 {
			size += s.picture.Bytes()
		}
	}
	if len(picked) == 0 {
		return nil
	}
	share := [...]float64{heldShare, takeShare}[kind]
	room := int(float64(r.budget)*share) - r.held[kind]
	every := 1
	for size/every > room && every < thinnest {
		every++
	}
	l := &Loop{ring: r, kind: kind, Thinned: every > 1}
	for n, i := range picked {
		if n%every == 0 {
			l.keep(i)
		}
	}
	return l
}

// keep adds a slot to a loop, under the ring's lock.
func (l *Loop) keep(i int) {
	l.grip(i)
	l.slots = append(l.slots, i)
	l.times = append(l.times, l.ring.slots[i].picture.Seconds())
}

// grip holds a slot, under the ring's lock.
func (l *Loop) grip(i int) {
	s := &l.ring.slots[i]
	if s.holds[l.kind] == 0 {
		l.ring.held[l.kind] += s.picture.Bytes()
	}
	s.holds[l.kind]++
}

// KeepStill holds the picture that was shown at t besides, where the ring still has it: it
// is not played. A loop keeps one.
func (l *Loop) KeepStill(t float64) {
	r := l.ring
	r.mu.Lock()
	defer r.mu.Unlock()
	if l.slots == nil || l.still != nil {
		return
	}
	best := -1
	for k := range r.count {
		if at := r.at(k).picture.Seconds(); at > t+1e-6 {
			break
		}
		best = r.order[(r.head+k)%len(r.order)]
	}
	// Still pictures are thinned: some tenths of a second are the same picture.
	if best >= 0 && t-r.slots[best].picture.Seconds() < 0.5 {
		l.grip(best)
		l.still = []int{best}
	}
}

// Still is the picture that KeepStill holds, with a reference for the caller; nil without
// one.
func (l *Loop) Still() *frame.Picture {
	l.ring.mu.Lock()
	defer l.ring.mu.Unlock()
	if l.slots == nil || l.still == nil {
		return nil
	}
	return l.ring.slots[l.still[0]].picture.Retain()
}

// Thin returns a loop of every second picture and releases l: a rep that is
// kept for comparison needs less memory than the one that is looked at.
func (l *Loop) Thin() *Loop {
	out := &Loop{ring: l.ring, kind: l.kind, Thinned: true}
	l.ring.mu.Lock()
	for n := 0; n < len(l.slots); n += 2 {
		out.keep(l.slots[n])
	}
	out.share(l)
	l.ring.mu.Unlock()
	l.Release()
	return out
}

// Again holds the same pictures once more, to be released on its own; nil once
// the loop was released.
func (l *Loop) Again() *Loop {
	l.ring.mu.Lock()
	defer l.ring.mu.Unlock()
	if l.slots == nil {
		return nil
	}
	out := &Loop{ring: l.ring, kind: l.kind, Thinned: l.Thinned}
	for _, i := range l.slots {
		out.keep(i)
	}
	out.share(l)
	return out
}

// share holds the still of another loop as well, under the ring's lock.
func (l *Loop) share(other *Loop) {
	for _, i := range other.still {
		l.grip(i)
		l.still = other.still
	}
}

// Release lets go of the pictures. It may be called more than once.
func (l *Loop) Release() {
	l.ring.mu.Lock()
	defer l.ring.mu.Unlock()
	for _, list := range [2][]int{l.slots, l.still} {
		for _, i := range list {
			s := &l.ring.slots[i]
			s.holds[l.kind]--
			if s.holds[l.kind] == 0 {
				l.ring.held[l.kind] -= s.picture.Bytes()
			}
			l.ring.settle(i)
		}
	}
	l.slots, l.still = nil, nil
}

// Times are the times of the pictures, in order (s, capture clock). The
// caller must not change them.
func (l *Loop) Times() []float64 { return l.times }

// Frame is the picture that is shown at t (s, capture clock), the latest at
// or before it or else the first, with a reference for the caller. It is nil
// once the loop was released.
func (l *Loop) Frame(t float64) *frame.Picture {
	i := shown(l.times, t)
	l.ring.mu.Lock()
	defer l.ring.mu.Unlock()
	if i >= len(l.slots) {
		return nil
	}
	return l.ring.slots[l.slots[i]].picture.Retain()
}

// Frames returns all pictures, each with a reference for the caller; nil once
// the loop was released.
func (l *Loop) Frames() []*frame.Picture {
	l.ring.mu.Lock()
	defer l.ring.mu.Unlock()
	var out []*frame.Picture
	for _, i := range l.slots {
		out = append(out, l.ring.slots[i].picture.Retain())
	}
	return out
}

// shown is the index of the latest time at or before t, or 0.
func shown(times []float64, t float64) int {
	// Half a microsecond keeps a time that went through arithmetic on its frame.
	i := sort.SearchFloat64s(times, math.Nextafter(t+5e-7, math.Inf(1))) - 1
	return max(i, 0)
}
