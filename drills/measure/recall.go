package measure

import (
	"sync"

	"drillbay/camera/eye"
)

// Recall is what a Watch saw of late, by the pictures' times, so that a Reader
// does not look at the same again. The zero value has seen nothing. A Watch
// adds to it while a Reader asks. A nil Recall keeps nothing.
type Recall struct {
	mu  sync.Mutex
	all [recalled]recollection
	n   int // how many there were
}

// recalled is how many looks are kept: those of the longest rep are among them
// at twenty a second.
const recalled = 192

// recollection is one look; nobody may have been seen.
type recollection struct {
	at    float64 // s
	sight eye.Sight
	ok    bool
}

// forget drops all.
func (r *Recall) forget() {
	if r == nil {
		return
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	r.n = 0
}

func (r *Recall) keep(at float64, s eye.Sight, ok bool) {
	if r == nil {
		return
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	r.all[r.n%recalled] = recollection{at, s, ok}
	r.n++
}

// of is what was seen in the picture of a time, s; false where it was not
// looked at, or nobody was seen.
func (r *Recall) of(at float64) (eye.Sight, bool) {
	if r == nil {
		return eye.Sight{}, false
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	for i := r.n - 1; i >= max(0, r.n-recalled); i-- {
		switch one := &r.all[i%recalled]; {
		case one.at == at:
			return one.sight, one.ok
		case one.at < at:
			return eye.Sight{}, false
		}
	}
	return eye.Sight{}, false
}
