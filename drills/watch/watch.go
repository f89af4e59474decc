// Package watch has the eye at work beside the capture: on a goroutine of its own
// it looks at the newest picture, and capture takes what it saw without waiting.
package watch

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

// Camera tells a watcher of the camera whose pictures it looks at.
type Camera struct {
	// Known gives a pass over pictures of a size, px, what it needs to know.
	Known func(width, height int) rep.Known
	// Aimed counts the changes of what Known says: after each the pass begins anew.
	Aimed *atomic.Int64
	// Resized is called when the pictures have another size, nil: by nobody.
	Resized func(width, height int)
	// Failed is called when nothing can be looked at.
	Failed func(err error)
}

// Watcher is the eye on the pictures of one camera. Capture leaves it the newest
// picture and takes what it made of those before, without waiting for it or
// allocating.
type Watcher struct {
	Seen   Sightings      // what was seen in the last seconds
	Recall measure.Recall // the same for the reading of a rep

	camera  Camera
	newest  atomic.Pointer[frame.Picture] // waits to be looked at, with a reference
	fresh   chan struct{}                 // gets a value when a picture waits
	glances chan sight.Glance             // in order; closed when the eye has ended
	stop    chan struct{}
	looks   atomic.Bool  // it is looking now
	last    sight.Glance // capture's own

	// The eye's own.
	pass          *measure.Watch // nil until the first picture, or where none can be had
	pace          measure.Pace
	aimed         int64
	width, height int
}

// New returns a watcher of a camera's pictures; Run has it look.
func New(c Camera) *Watcher {
	nan := math.NaN()
	return &Watcher{camera: c, fresh: make(chan struct{}, 1), glances: make(chan sight.Glance, 8), stop: make(chan struct{}),
		last: sight.Glance{Since: nan, HandsX: nan, HandsY: nan}, aimed: -1}
}

// Offer leaves a picture to the eye, in place of one that it has not taken.
func (w *Watcher) Offer(p *frame.Picture) {
	if old := w.newest.Swap(p.Retain()); old != nil {
		old.Release()
	}
	select {
	case w.fresh <- struct{}{}:
	default:
	}
}

// LetLook waits while the eye looks: what nobody waits for leaves it the processor
// where there are few. It waits a while at most.
func (w *Watcher) LetLook() {
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

// Take returns what the eye saw last, for a picture that comes at a time, s. That a
// catch or an end became known is said once; what was seen after it waits for
// the next picture.
func (w *Watcher) Take(at float64) sight.Glance {
	w.last.Caught, w.last.Ended = false, false
	for w.more() && !w.last.Caught && !w.last.Ended {
	}
	g := w.last
	g.At = at
	return g
}

// more goes on to the next glance, if there is one.
func (w *Watcher) more() bool {
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

// End stops the eye and gives what it still found of reps.
func (w *Watcher) End(found func(sight.Glance)) {
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

// Run looks at pictures until the end. It holds the one that it looks at and
// the one before.
func (w *Watcher) Run() {
	defer close(w.glances)
	defer w.drop()
	for {
		select {
		case <-w.stop:
			return
		case <-w.fresh:
		}
		w.Next(w.due)
	}
}

// Next has see look at the newest picture, if one waits, and gives capture what it
// saw; ok is false where it did not look.
func (w *Watcher) Next(see func(p *frame.Picture) (g sight.Glance, ok bool)) {
	p := w.newest.Swap(nil)
	if p == nil {
		return // taken already
	}
	defer p.Release()
	if g, ok := see(p); ok {
		w.glances <- g
	}
}

// due looks at a picture when it is time for another look.
func (w *Watcher) due(p *frame.Picture) (g sight.Glance, ok bool) {
	if !w.pace.Due(p.Seconds()) {
		return g, false
	}
	w.looks.Store(true)
	defer w.looks.Store(false)
	return w.look(p)
}

// look looks at one picture, with a pass that is new where the aim is.
func (w *Watcher) look(p *frame.Picture) (g sight.Glance, ok bool) {
	if n := w.camera.Aimed.Load(); n != w.aimed || p.Width != w.width || p.Height != w.height {
		if w.width > 0 && (p.Width != w.width || p.Height != w.height) && w.camera.Resized != nil {
			w.camera.Resized(p.Width, p.Height)
		}
		w.aimed, w.width, w.height = n, p.Width, p.Height
		w.aim()
	}
	if w.pass == nil {
		return g, false
	}
	g, seen := w.pass.See(p)
	w.Seen.take(seen)
	return g, true
}

// aim makes the pass anew.
func (w *Watcher) aim() {
	w.drop()
	pass, err := measure.NewWatch(w.camera.Known(w.width, w.height).Setting, &w.Recall)
	if err != nil {
		w.camera.Failed(err)
		return
	}
	w.pass = pass
}

// drop ends the pass and gives back the picture that it holds.
func (w *Watcher) drop() {
	if w.pass != nil {
		w.pass.Close()
		w.pass = nil
	}
}
