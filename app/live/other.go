package live

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"sync"
	"sync/atomic"
	"time"

	"drillbay/app"
	"drillbay/camera"
	"drillbay/camera/frame"
	"drillbay/camera/lookback"
	"drillbay/camera/sight"
	"drillbay/drills"
	"drillbay/drills/bay"
	"drillbay/drills/guide"
	"drillbay/drills/read"
	"drillbay/drills/rep"
	"drillbay/drills/runner"
	"drillbay/drills/stage"
	"drillbay/drills/watch"
)

// other is the second camera: it looks at the bay from the side that the first
// does not. Its pictures are kept for the time of a rep, and looked at when the
// first camera's reading is done, or while the lens screen shows them.
type other struct {
	live   *Live
	name   string
	source *camera.Source
	ring   *lookback.Ring
	eye    *watch.Watcher
	state  atomic.Pointer[camera.Event]
	asked  atomic.Uint64 // s, when the lens screen asked for it last
	reads  *read.SecondView
	guide  *guide.Guide // of its lens
	stop   chan struct{}
	kept   float64 // s, the newest picture in the ring; of capture alone
	began  float64 // s
	done   sync.WaitGroup
	bay    bay.Bay // under Live.mu, as is glance
	glance sight.Glance
}

const (
	// The second camera's ring, as a share of a first one's: it holds the pictures of
	// one rep, and of its lookback.
	otherShare = 0.75
	// Of its pictures one each so many s is kept: a body needs no more.
	otherStep = 1 / 40.0
	// The second camera is given so long to open, s, until it is told that it does
	// not.
	otherOpens = 4.0
	otherKey   = "other view" // of the notice
)

// join opens a camera as the other view, in place of the one before; "" opens
// none. It is called by one goroutine at a time.
func (l *Live) join(ctx context.Context, name string) error {
	if o := l.second.Swap(nil); o != nil {
		l.lead()
		o.close()
		l.runner.Clear(otherKey)
	}
	limitMemory(l.budget, 0, l.isDrawn)
	if name == "" {
		return nil
	}
	if e := l.state.Load(); e != nil && e.Camera == name || name == l.mode.Camera {
		return fmt.Errorf("camera %q shows the first view: choose another for the other view", name)
	}
	o := &other{live: l, name: name, began: l.Now(), stop: make(chan struct{})}
	o.asked.Store(math.Float64bits(math.Inf(-1)))
	bay, err := l.otherBay(ctx, name)
	if err != nil {
		return err
	}
	o.bay = bay
	budget := int(otherShare * float64(lookback.Budget(usualWidth, usualHeight, usualRate)))
	limitMemory(l.budget, budget, l.isDrawn)
	o.ring = lookback.NewRing(budget, lookback.Capacity(budget, usualWidth/4, usualHeight/4))
	o.eye = watch.New(watch.Camera{Known: o.known, Aimed: &l.aimed, Failed: l.blind})
	o.reads = read.NewSecondView(o.ring, o.known, &o.eye.Recall, l.eye.LetLook)
	o.reads.Await = o.await
	pool := frame.NewPool(budget + spareFrames*4096*2160)
	if o.source, err = camera.Open(camera.Config{Name: name, Pool: pool, Clock: l.clock, Rescan: l.rescanOther}); err != nil {
		return err
	}
	o.guide = guide.New(guide.Options{Now: l.Now, Ring: o.ring})
	o.done.Add(4)
	go func() { defer o.done.Done(); o.guide.RunLens(o.stop) }()
	go o.listen()
	go o.capture()
	go func() { defer o.done.Done(); o.eye.Run() }()
	l.second.Store(o)
	return nil
}

// otherBay is the bay of a camera that shows the other view.
func (l *Live) otherBay(ctx context.Context, name string) (bay.Bay, error) {
	l.mu.Lock()
	first := l.bay
	l.mu.Unlock()
	if name == stage.DrawnOther {
		return stage.BayOf(stage.OtherView(l.cfg.Drawn))
	}
	b, ok, err := l.book.Bay(ctx, name)
	if err != nil {
		return b, err
	}
	if !ok {
		b = bay.Bay{Name: first.Name, Target: drills.Pixel{X: math.NaN(), Y: math.NaN()}, Club: first.Club, Grip: first.Grip}
	}
	if !ok || b.FaceOn == first.FaceOn {
		b.FaceOn, b.Set = !first.FaceOn, false
	}
	return b, nil
}

// rescanOther looks for cameras anew, as rescan does. The first one's search goes
// first: two at once would be in each other's way.
func (l *Live) rescanOther() {
	if e := l.state.Load(); e == nil || e.State != camera.Live {
		return
	}
	l.lookForCameras()
}

// listen follows the camera's state.
func (o *other) listen() {
	defer o.done.Done()
	for e := range o.source.Events() {
		o.state.Store(&e)
		o.live.lead()
		o.live.nudge()
	}
}

// is reports whether its pictures come.
func (o *other) is() bool {
	e := o.state.Load()
	return e != nil && e.State == camera.Live
}

// capture keeps each picture, and leaves it to the eye while somebody asks. It
// neither waits nor allocates.
func (o *other) capture() {
	defer o.done.Done()
	for p := range o.source.Frames() {
		o.take(p)
		p.Release()
	}
	o.eye.End(func(sight.Glance) {})
}

func (o *other) take(p *frame.Picture) {
	if o.live.leads.Load() {
		o.eye.Offer(p)
		o.live.give(p, o.eye.Take(p.Seconds()))
		return
	}
	if p.Seconds()-o.kept < otherStep && p.Seconds() >= o.kept {
		return
	}
	o.kept = p.Seconds()
	_ = o.ring.Add(p, runner.Still(o.live.runner.Glance())) // out of order: the camera was opened again
	if o.live.Now()-math.Float64frombits(o.asked.Load()) < guide.Wanted {
		o.eye.Offer(p)
		g := o.eye.Take(p.Seconds())
		o.live.mu.Lock()
		o.glance = g
		o.live.mu.Unlock()
	}
}

// known is what a reading of its pictures needs to know now.
func (o *other) known(width, height int) rep.Known {
	o.live.mu.Lock()
	set := o.bay
	o.live.mu.Unlock()
	return o.live.knownOf(set, width, height, "other bay", "What the lens screen was told of the other view cannot be right", "Press L, then M, and set it again.")
}

// loop holds the second camera's pictures of a time of the first's, s, for a
// lookback.
func (l *Live) loop(from, to float64) (*lookback.Loop, float64) {
	o := l.second.Load()
	if o == nil {
		return nil, 0
	}
	return o.reads.Loop(from, to)
}

// heedOther tells when the second camera's pictures do not come, and when they are
// back. It is called now and then.
func (l *Live) heedOther() {
	l.lead()
	o := l.second.Load()
	if o == nil {
		return
	}
	switch e := o.state.Load(); {
	case o.is():
		l.runner.Clear(otherKey)
	case e != nil && e.State == camera.NoSignal, l.Now()-o.began > otherOpens:
		why := fmt.Sprintf("Camera %q shows no picture: practice goes on with one view.", o.name)
		l.runner.Raise(otherKey, why, "Check its cable; the other view comes back by itself.")
	}
}

const (
	// For a picture that a reading needs is waited so long at most, s, looking so
	// often.
	awaitMost = 0.5
	awaitStep = 10 * time.Millisecond
)

// await waits until a picture of a time, s, has come.
func (o *other) await(until float64) {
	for end := o.live.Now() + awaitMost; o.is() && o.live.Now() < end; {
		p := o.ring.Newest()
		if p == nil {
			return
		}
		at := p.Seconds()
		p.Release()
		if !(at < until) {
			return
		}
		next, cancel := o.live.clock.After(awaitStep)
		select {
		case <-next:
		case <-o.stop:
			cancel()
			return
		}
		cancel()
	}
}

// close ends the camera. It leaves no goroutine behind.
func (o *other) close() {
	_ = o.source.Close()
	close(o.stop)
	o.done.Wait()
	o.ring.Clear()
}

// otherView is the second camera for the screens.
func (l *Live) otherView(ctx context.Context) app.OtherView {
	nan := math.NaN()
	return app.OtherView{
		CameraView: app.CameraView{
			Picture: func(float64) *frame.Picture {
				if o := l.second.Load(); o != nil {
					o.ask()
					if l.leads.Load() {
						return l.ring.Newest()
					}
					return o.ring.Newest()
				}
				return nil
			},
			Hands: func() (x, y float64) {
				if o := l.second.Load(); o != nil {
					return o.hands()
				}
				return nan, nan
			},
			Seen: func(at float64) (watch.Seen, bool) {
				if o := l.second.Load(); o != nil {
					return o.eye.Seen.Near(at)
				}
				return watch.Seen{}, false
			},
			Lens: app.LensWork{Meet: bay.Meet, Offset: bay.OffsetOf, Under: bay.Under, Face: bay.FaceOffsetOf, Find: l.findOther, Level: l.levelOther, Roll: l.rollOther},
			KeepBay: func(b bay.Bay) error {
				o := l.second.Load()
				if o == nil {
					return nil
				}
				l.mu.Lock()
				o.bay = b
				l.mu.Unlock()
				l.aimed.Add(1)
				l.keepLater("other bay", "The bay of the other view is not stored", func() error { return l.book.KeepBay(ctx, o.name, b) })
				return nil
			},
		},
		Camera: func() string {
			if o := l.second.Load(); o != nil {
				return o.name
			}
			return ""
		},
		Bay: func() bay.Bay {
			l.mu.Lock()
			defer l.mu.Unlock()
			if o := l.second.Load(); o != nil {
				return o.bay
			}
			return bay.Bay{Target: drills.Pixel{X: nan, Y: nan}}
		},
		Leads: l.leads.Load,
		Tied: func() string {
			if o := l.second.Load(); o != nil {
				return o.reads.Tied()
			}
			return ""
		},
	}
}

// findOther, levelOther and rollOther look for the lines on the ground and the roll of
// the second camera's lens.
func (l *Live) findOther() []bay.Segment {
	if o := l.second.Load(); o != nil {
		return o.guide.Find()
	}
	return nil
}

func (l *Live) levelOther() (bay.Level, bool) {
	if o := l.second.Load(); o != nil {
		return o.guide.Level()
	}
	return bay.Level{}, false
}

func (l *Live) rollOther(b bay.Bay) (roll, sigma float64, err error) {
	if o := l.second.Load(); o != nil {
		return o.guide.Roll(b)
	}
	return 0, 0, errors.New("there is no second camera")
}

// ask has its pictures looked at for a moment.
func (o *other) ask() { o.asked.Store(math.Float64bits(o.live.Now())) }

// hands are the hands at address in its pictures, px as seen; NaN when nobody
// stands there.
func (o *other) hands() (x, y float64) {
	o.ask()
	o.live.mu.Lock()
	defer o.live.mu.Unlock()
	if g := o.glance; !math.IsNaN(g.HandsX) && g.At > 0 && g.At-g.Since > guide.StoodFor {
		return g.HandsX, g.HandsY
	}
	return math.NaN(), math.NaN()
}

// joinNext lets the next camera that is there show the other view; after the last
// one none. The bay remembers it.
func (l *Live) joinNext(ctx context.Context) (string, error) {
	first := l.mode.Camera
	if e := l.state.Load(); e != nil && e.Camera != "" {
		first = e.Camera
	}
	var names []string
	for _, d := range camera.Devices() {
		if d.Name != first && d.Name != stage.Drawn && (d.Name != stage.DrawnOther || l.isDrawn) && !slices.Contains(names, d.Name) {
			names = append(names, d.Name)
		}
	}
	if len(names) == 0 {
		return "", errors.New("no other camera is connected: plug one in and press J again")
	}
	next := 0
	if o := l.second.Load(); o != nil {
		next = slices.Index(names, o.name) + 1
	}
	name, said := "", "One camera, one view again."
	if next < len(names) {
		name = names[next]
		said = fmt.Sprintf("%s joins as the other view. M sets its lens.", name)
	}
	if err := l.join(ctx, name); err != nil {
		return "", err
	}
	l.mu.Lock()
	l.bay.Second = name
	bay := l.bay
	l.mu.Unlock()
	if !l.isDrawn {
		l.keepLater("kept bay", "The bay is not stored", func() error { return l.storeBay(ctx, bay) })
	}
	return said, nil
}
