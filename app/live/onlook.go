package live

import (
	"context"
	"math"
	"slices"
	"time"

	"drillbay/camera/frame"
	"drillbay/camera/lens"
	"drillbay/camera/sight"
	"drillbay/drills"
	"drillbay/drills/bay"
	"drillbay/drills/runner"
)

const (
	onlookEvery = 200 * time.Millisecond
	lookBack    = 20.0 // s of pictures in which a hung club is looked for
	stoodFor    = 0.8  // s at address before the hands there are told
	wanted      = 1.5  // s that what the lens screen asked for is still wanted
	handsStay   = 2.0  // s that the hands are shown while the player moves a little
	saidMost    = 2    // times a session that the walk-up voice speaks outside the lens screen
	sceneryFor  = 1.2  // s of pictures that a scenery is made of
)

// onlooking is what is looked at beside the capture, a few times a second.
// The fields up to saidFor belong to its goroutine alone; the rest is under
// Live.mu.
type onlooking struct {
	session string
	said    int
	saidFor float64 // s, the stillness in which it was

	seen     lens.Point // the hands as the live pass gave them last, px as seen
	seenAt   float64    // s
	scenery  *sight.Scenery
	from     float64 // s, the scenery is that of pictures from then on
	unstored bool    // the bay waits for its scenery
}

// onlook does beside the capture what takes longer than a picture.
func (l *Live) onlook(ctx context.Context) {
	defer l.done.Done()
	tick := time.NewTicker(onlookEvery)
	defer tick.Stop()
	for {
		select {
		case <-l.stop:
			return
		case <-tick.C:
			l.guide()
			l.lookAround(ctx)
			l.lookForLines()
			l.lookForRoll()
		}
	}
}

// lensInUse reports whether the lens screen is looked at.
func (l *Live) lensInUse() bool {
	return l.Now()-math.Float64frombits(l.asked.Load()) < wanted
}

// recent are the pictures of the last seconds that have a size, each with a
// reference for the caller.
func (l *Live) recent(seconds float64, width, height int) []*frame.Picture {
	now := l.Now()
	return slices.DeleteFunc(l.ring.Frames(now-seconds, now), func(p *frame.Picture) bool {
		if p.Width == width && p.Height == height {
			return false
		}
		p.Release()
		return true
	})
}

// size is that of the newest picture.
func (l *Live) size() (width, height int, ok bool) {
	p := l.ring.Newest()
	if p == nil {
		return 0, 0, false
	}
	defer p.Release()
	return p.Width, p.Height, true
}

// guide leads whoever stands at address before the first rep of a session.
func (l *Live) guide() {
	s, g := l.runner.Snapshot(), l.runner.Glance()
	if s.Session == "" || l.leads.Load() || len(s.All)+s.Waiting > 0 || l.lensInUse() || math.IsNaN(g.HandsX) || g.At-g.Since < stoodFor {
		return
	}
	l.walkUp(s, g, lens.Point{U: g.HandsX, V: g.HandsY})
}

// walkUp says before the first rep of a session which way the camera should
// be moved, when it is off by more than is good.
func (l *Live) walkUp(s *runner.Snapshot, g sight.Glance, hands lens.Point) {
	on := &l.on
	if s.Session != on.session {
		on.session, on.said, on.saidFor = s.Session, 0, math.NaN()
	}
	l.mu.Lock()
	set, hand := l.bay, l.hand
	l.mu.Unlock()
	if s.Session == "" || !s.Ready || s.Paused || l.roll.Quiet() || !set.Set || set.FaceOn || on.said >= saidMost || g.Since == on.saidFor {
		return
	}
	o, err := bay.OffsetOf(set, drills.Pixel{X: hands.U, Y: hands.V}, hand)
	if err != nil || o.Good() {
		return
	}
	on.said++
	on.saidFor = g.Since
	l.voice.Lead(o)
}

// handsSeen are the hands at address, px as seen; NaN when nobody stands
// there or they were not made out. Who asks sets the lens.
func (l *Live) handsSeen() (x, y float64) {
	g, now := l.runner.Glance(), l.Now()
	l.mu.Lock()
	defer l.mu.Unlock()
	on := &l.on
	l.asked.Store(math.Float64bits(now))
	switch {
	case l.leads.Load(): // the hands are in the other camera's pictures
	case !math.IsNaN(g.HandsX) && g.At-g.Since > stoodFor:
		on.seen, on.seenAt = lens.Point{U: g.HandsX, V: g.HandsY}, now
		return g.HandsX, g.HandsY
	case g.At > 0 && now-on.seenAt < handsStay:
		return on.seen.U, on.seen.V
	}
	return math.NaN(), math.NaN()
}

// lookAround keeps the scenery by which a moved camera is noticed.
func (l *Live) lookAround(ctx context.Context) {
	l.mu.Lock()
	from, have := l.on.from, l.on.scenery != nil
	l.mu.Unlock()
	if have || l.Now()-from < sceneryFor {
		return
	}
	w, h, ok := l.size()
	if !ok {
		return
	}
	pics := l.recent(min(l.Now()-from, 2*sceneryFor), w, h)
	defer frame.ReleaseAll(pics)
	if len(pics) < 8 || pics[len(pics)-1].Seconds()-pics[0].Seconds() < sceneryFor/2 {
		return
	}
	s := sight.NewScenery(pics)
	l.mu.Lock()
	if l.on.from != from { // the bay was set anew meanwhile
		l.mu.Unlock()
		return
	}
	l.on.scenery = &s
	if s.Fits(w, h) {
		l.bump.Store(sight.NewBump(s))
	}
	store := l.on.unstored
	l.on.unstored = false
	bay := l.bay
	if store {
		bay.Scenery = &s
		l.bay = bay
	}
	l.mu.Unlock()
	if store {
		if err := l.storeBay(ctx, bay); err != nil {
			l.runner.Raise("bay", sentence(err.Error()), "Set the lens again.")
		}
	}
}

// mark says that the bay's lines fit the picture as it is now: from here on
// the camera must not move.
func (l *Live) mark() {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.on.scenery, l.on.from = nil, l.Now()
	l.bump.Store(nil)
}

// neverSet reports whether the bay's lens was never set: the camera is then
// watched from the session's beginning.
func (l *Live) neverSet() bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	return !l.bay.Set
}

// watchOver begins to compare the pictures with a bay's own scenery, or with
// the one that is there now.
func (l *Live) watchOver(b bay.Bay, width, height int) {
	if b.Scenery == nil || !b.Scenery.Fits(width, height) {
		l.mark()
		return
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	l.on.scenery = b.Scenery
	l.bump.Store(sight.NewBump(*b.Scenery))
}

// bumped reports whether the camera was moved, by the next picture.
func (l *Live) bumped(p *frame.Picture) bool {
	b := l.bump.Load()
	moved := b != nil && b.Step(p)
	l.shifted.Store(moved)
	return moved && !l.lensInUse() // there the screen itself tells it
}
