package live

import (
	"math"
	"runtime"
	"sync/atomic"
	"time"

	"drillbay/camera/frame"
	"drillbay/camera/sight"
	"drillbay/drills/measure"
	"drillbay/drills/rep"
)

// watching is the eye at work on a goroutine of its own. Capture leaves it the
// newest picture and takes what it made of those before, without waiting for
// it or allocating.
type watching struct {
	live    *Live
	newest  atomic.Pointer[frame.Picture] // waits to be looked at, with a reference
	fresh   chan struct{}                 // gets a value when a picture waits
	glances chan sight.Glance             // in order; closed when the eye has ended
	stop    chan struct{}
	looks   atomic.Bool  // it is looking now
	last    sight.Glance // capture's own

	// Of its camera: what the pass needs to know, where what it sees is kept, and who
	// is told that the pictures have another size.
	known   func(width, height int) rep.Known
	seen    *sightings
	recall  *measure.Recall
	changed func(width, height int)

	// The eye's own.
	watch         *measure.Watch // nil until the first picture, or where none can be had
	pace          measure.Pace
	aimed         int64
	width, height int
}

func newWatching(l *Live) *watching {
	nan := math.NaN()
	w := &watching{live: l, fresh: make(chan struct{}, 1), glances: make(chan sight.Glance, 8), stop: make(chan struct{}),
		last: sight.Glance{Since: nan, HandsX: nan, HandsY: nan}, aimed: -1}
	if l != nil {
		w.known, w.seen, w.recall, w.changed = l.known, &l.seen, &l.recall, l.changed
	}
	return w
}

// offer leaves a picture to the eye, in place of one that it has not taken.
func (w *watching) offer(p *frame.Picture) {
	if old := w.newest.Swap(p.Retain()); old != nil {
		old.Release()
	}
	select {
	case w.fresh <- struct{}{}:
	default:
	}
}

// letLook waits while the eye looks: what nobody waits for leaves it the processor
// where there are few. It waits a while at most.
func (w *watching) letLook() {
	if runtime.NumCPU() >= manyCores {
		return
	}
	for range 15 {
		if !w.looks.Load() {
			return
		}
		time.Sleep(2 * time.Millisecond)
	}
}

// manyCores are enough for all that looks at once.
const manyCores = 4

// take is what the eye saw last, for a picture that comes at a time, s. That a
// catch or an end became known is said once; what was seen after it waits for
// the next picture.
func (w *watching) take(at float64) sight.Glance {
	w.last.Caught, w.last.Ended = false, false
	for w.more() && !w.last.Caught && !w.last.Ended {
	}
	g := w.last
	g.At = at
	return g
}

// more goes on to the next glance, if there is one.
func (w *watching) more() bool {
	select {
	case g, ok := <-w.glances:
		if ok {
			w.last = g
		}
		return ok
	default:
		return false
	}
}

// end stops the eye and gives what it still found of reps.
func (w *watching) end(found func(sight.Glance)) {
	close(w.stop)
	for g := range w.glances {
		if g.Caught || g.Ended {
			found(g)
		}
	}
	if p := w.newest.Swap(nil); p != nil {
		p.Release()
	}
}

// run looks at pictures until the end. It holds the one that it looks at and
// the one before.
func (w *watching) run() {
	defer close(w.glances)
	defer w.drop()
	for {
		select {
		case <-w.stop:
			return
		case <-w.fresh:
		}
		p := w.newest.Swap(nil)
		if p == nil {
			continue // taken already
		}
		if w.pace.Due(p.Seconds()) {
			w.looks.Store(true)
			w.look(p)
			w.looks.Store(false)
		}
		p.Release()
	}
}

// look looks at one picture, with a pass that is new where the aim is.
func (w *watching) look(p *frame.Picture) {
	if n := w.live.aimed.Load(); n != w.aimed || p.Width != w.width || p.Height != w.height {
		if w.width > 0 && (p.Width != w.width || p.Height != w.height) {
			w.changed(p.Width, p.Height)
		}
		w.aimed, w.width, w.height = n, p.Width, p.Height
		w.aim()
	}
	if w.watch == nil {
		return
	}
	g, seen := w.watch.See(p)
	w.seen.take(seen)
	w.glances <- g
}

// aim makes the pass anew.
func (w *watching) aim() {
	w.drop()
	watch, err := measure.NewWatch(w.known(w.width, w.height).Setting, w.recall)
	if err != nil {
		w.live.runner.Raise("eye", "Nothing can be seen: "+sentence(err.Error()), "Install drillbay again.")
		return
	}
	w.watch = watch
}

// drop ends the pass and gives back the picture that it holds.
func (w *watching) drop() {
	if w.watch != nil {
		w.watch.Close()
		w.watch = nil
	}
}
