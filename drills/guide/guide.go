// Package guide helps to set the lens of a camera, and tells when the camera was moved.
package guide

import (
	"math"
	"slices"
	"sync"
	"sync/atomic"
	"time"

	"drillbay/camera/frame"
	"drillbay/camera/lens"
	"drillbay/camera/lookback"
	"drillbay/camera/sight"
	"drillbay/drills"
	"drillbay/drills/bay"
	"drillbay/drills/runner"
)

const (
	onlookEvery = 200 * time.Millisecond
	lookBack    = 20.0 // s of pictures in which a hung club is looked for
	StoodFor    = 0.8  // s at address before the hands there are told
	Wanted      = 1.5  // s that what the lens screen asked for is still wanted
	handsStay   = 5.0  // s that the hands at address are told while the player swings or shifts
	saidMost    = 2    // times a session that the walk-up voice speaks outside the lens screen
	sceneryFor  = 1.2  // s of pictures that a scenery is made of
)

// Options holds what a guide works with.
type Options struct {
	Now    func() float64 // the session's clock, s
	Ring   *lookback.Ring // of the camera's pictures
	Runner *runner.Runner
	// Bay is the bay as it is set, and the hand of the player.
	Bay func() (bay.Bay, drills.Hand)
	// Quiet reports whether nothing is to be said; Lead says how the camera must be
	// moved.
	Quiet func() bool
	Lead  func(bay.Offset)
	// Aside reports whether the pictures of another camera are looked at.
	Aside func() bool
	// Keep is given the scenery of a bay that was set without one.
	Keep func(*sight.Scenery)
}

// Guide helps to set the lens of a camera and to keep it: it finds lines on the
// ground, the roll by a club that hangs, the hands at address, and tells when the
// camera was moved. It looks beside the capture, a few times a second, on pictures
// that it borrows from the ring.
type Guide struct {
	o       Options
	bump    atomic.Pointer[sight.Bump] // of the capture goroutine, nil while there is no scenery
	shifted atomic.Bool                // the still background is not where it was
	asked   atomic.Uint64              // s, when the lens screen asked for the hands last

	// Of its own goroutine: the session, how often it was told how the camera is off,
	// and the stillness in which it was, s.
	session string
	said    int
	saidFor float64

	mu       sync.Mutex
	lines    finding
	hung     rolling
	seen     lens.Point // the hands as the live pass gave them last, px as seen
	seenAt   float64    // s
	scenery  *sight.Scenery
	from     float64 // s, the scenery is that of pictures from then on
	unstored bool    // the bay waits for its scenery
}

// New returns a guide that waits to be run.
func New(o Options) *Guide {
	never := math.Inf(-1)
	g := &Guide{o: o, seenAt: never}
	g.asked.Store(math.Float64bits(never))
	g.hung.last = math.NaN()
	g.hung.asked, g.hung.found = never, never
	g.lines.asked, g.lines.found = never, never
	return g
}

// Run looks until stop is closed.
func (gd *Guide) Run(stop <-chan struct{}) {
	repeat(stop, gd.guide, gd.lookAround, gd.lookForLines, gd.lookForRoll)
}

// RunLens looks until stop is closed, for lines and the roll alone: the guide of a
// camera that finds no reps. Of its options only the clock and the ring are used.
func (gd *Guide) RunLens(stop <-chan struct{}) {
	repeat(stop, gd.lookForLines, gd.lookForRoll)
}

// repeat does all, in order, every onlookEvery until stop is closed.
func repeat(stop <-chan struct{}, all ...func()) {
	tick := time.NewTicker(onlookEvery)
	defer tick.Stop()
	for {
		select {
		case <-stop:
			return
		case <-tick.C:
			for _, do := range all {
				do()
			}
		}
	}
}

// lensInUse reports whether the lens screen is looked at.
func (gd *Guide) lensInUse() bool {
	return gd.o.Now()-math.Float64frombits(gd.asked.Load()) < Wanted
}

// recent are the pictures of the last seconds that have a size, each with a
// reference for the caller.
func (gd *Guide) recent(seconds float64, width, height int) []*frame.Picture {
	now := gd.o.Now()
	return slices.DeleteFunc(gd.o.Ring.Frames(now-seconds, now), func(p *frame.Picture) bool {
		if p.Width == width && p.Height == height {
			return false
		}
		p.Release()
		return true
	})
}

// size returns the size of the newest picture.
func (gd *Guide) size() (width, height int, ok bool) {
	p := gd.o.Ring.Newest()
	if p == nil {
		return 0, 0, false
	}
	defer p.Release()
	return p.Width, p.Height, true
}

// guide leads whoever stands at address before the first rep of a session.
func (gd *Guide) guide() {
	s, g := gd.o.Runner.Snapshot(), gd.o.Runner.Glance()
	if s.Session == "" || gd.o.Aside() || len(s.All)+s.Waiting > 0 || gd.lensInUse() || math.IsNaN(g.HandsX) || g.At-g.Since < StoodFor {
		return
	}
	gd.walkUp(s, g, lens.Point{U: g.HandsX, V: g.HandsY})
}

// walkUp says before the first rep of a session which way the camera should
// be moved, when it is off by more than is good.
func (gd *Guide) walkUp(s *runner.Snapshot, g sight.Glance, hands lens.Point) {
	if s.Session != gd.session {
		gd.session, gd.said, gd.saidFor = s.Session, 0, math.NaN()
	}
	set, hand := gd.o.Bay()
	if s.Session == "" || !s.Ready || s.Paused || gd.o.Quiet() || !set.Set || set.FaceOn || gd.said >= saidMost || g.Since == gd.saidFor {
		return
	}
	o, err := bay.OffsetOf(set, drills.Pixel{X: hands.U, Y: hands.V}, hand)
	if err != nil || o.Good() {
		return
	}
	gd.said++
	gd.saidFor = g.Since
	gd.o.Lead(o)
}

// Hands are the hands at address, px as seen; NaN when nobody stands
// there or they were not made out. Who asks sets the lens.
func (gd *Guide) Hands() (x, y float64) {
	g, now := gd.o.Runner.Glance(), gd.o.Now()
	gd.mu.Lock()
	defer gd.mu.Unlock()
	gd.asked.Store(math.Float64bits(now))
	switch {
	case gd.o.Aside(): // the hands are in the other camera's pictures
	case !math.IsNaN(g.HandsX) && g.At-g.Since > StoodFor:
		gd.seen, gd.seenAt = lens.Point{U: g.HandsX, V: g.HandsY}, now
		return g.HandsX, g.HandsY
	case g.At > 0 && now-gd.seenAt < handsStay:
		return gd.seen.U, gd.seen.V
	}
	return math.NaN(), math.NaN()
}

// lookAround keeps the scenery by which a moved camera is noticed.
func (gd *Guide) lookAround() {
	gd.mu.Lock()
	from, have := gd.from, gd.scenery != nil
	gd.mu.Unlock()
	if have || gd.o.Now()-from < sceneryFor {
		return
	}
	w, h, ok := gd.size()
	if !ok {
		return
	}
	pics := gd.recent(min(gd.o.Now()-from, 2*sceneryFor), w, h)
	defer frame.ReleaseAll(pics)
	if len(pics) < 8 || pics[len(pics)-1].Seconds()-pics[0].Seconds() < sceneryFor/2 {
		return
	}
	s := sight.NewScenery(pics)
	gd.mu.Lock()
	if gd.from != from { // the bay was set anew meanwhile
		gd.mu.Unlock()
		return
	}
	gd.scenery = &s
	if s.Fits(w, h) {
		gd.bump.Store(sight.NewBump(s))
	}
	store := gd.unstored
	gd.unstored = false
	gd.mu.Unlock()
	if store {
		gd.o.Keep(&s)
	}
}

// Mark says that the bay's lines fit the picture as it is now: from here on
// the camera must not move.
func (gd *Guide) Mark() {
	gd.mu.Lock()
	defer gd.mu.Unlock()
	gd.scenery, gd.from = nil, gd.o.Now()
	gd.bump.Store(nil)
}

// Watch begins to compare the pictures with a bay's own scenery, or with
// the one that is there now.
func (gd *Guide) Watch(b bay.Bay, width, height int) {
	if b.Scenery == nil || !b.Scenery.Fits(width, height) {
		gd.Mark()
		return
	}
	gd.mu.Lock()
	defer gd.mu.Unlock()
	gd.scenery = b.Scenery
	gd.bump.Store(sight.NewBump(*b.Scenery))
}

// Bumped reports whether the camera was moved, by the next picture.
func (gd *Guide) Bumped(p *frame.Picture) bool {
	b := gd.bump.Load()
	moved := b != nil && b.Step(p)
	gd.shifted.Store(moved)
	return moved && !gd.lensInUse() // there the screen itself tells it
}

// Shifted reports whether the still background is not where it was.
func (gd *Guide) Shifted() bool { return gd.shifted.Load() }

// Scenery returns the scenery for a bay that is set anew, nil where it is found later: then
// Keep is given it.
func (gd *Guide) Scenery() *sight.Scenery {
	gd.mu.Lock()
	defer gd.mu.Unlock()
	gd.unstored = gd.scenery == nil
	return gd.scenery
}
