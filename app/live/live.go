// Package live puts the parts together: a camera, the eye on its pictures,
// the session, the ledger and the voice. The window and the tests drive it.
package live

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"
	"runtime/debug"
	"sync"
	"sync/atomic"
	"time"

	"drillbay/app/papers"
	"drillbay/camera"
	"drillbay/camera/frame"
	"drillbay/camera/lookback"
	"drillbay/camera/sight"
	"drillbay/camera/virtual"
	"drillbay/cues"
	"drillbay/cues/sound"
	"drillbay/drills"
	"drillbay/drills/bay"
	"drillbay/drills/book"
	"drillbay/drills/guide"
	"drillbay/drills/hearing"
	"drillbay/drills/ledger"
	"drillbay/drills/measure"
	"drillbay/drills/read"
	"drillbay/drills/rep"
	"drillbay/drills/runner"
	"drillbay/drills/stage"
	"drillbay/drills/voice"
	"drillbay/drills/watch"
)

// Config holds what a live session works with.
type Config struct {
	Ledger  *ledger.Ledger
	Camera  string        // its name; "" takes the best, at last the virtual bay
	Mode    *camera.Mode  // of the camera; nil takes the best
	Second  string        // the camera that shows the other view; "" takes the one that the bay had
	Virtual bool          // the virtual bay whatever cameras there are
	Drawn   virtual.Setup // what the virtual bay draws
	Sound   bool          // false: nothing is heard

	Microphone string // its name, "" the system's own choice
	Deaf       bool   // no microphone is opened
	Taps       bool   // two taps of the club: the last verdict again, or the next set

	Clock  camera.Clock     // nil: the machine's
	Wall   func() time.Time // nil: the machine's
	Rescan func()           // looks for cameras anew; nil: the system's own
	// Show opens a file in the system's own program for it; nil: nothing is opened.
	Show func(path string) error
}

// Live is a running session with all its devices.
type Live struct {
	cfg    Config
	clock  camera.Clock
	wall   *camera.Wall
	runner *runner.Runner
	book   *book.Book
	guide  *guide.Guide

	firstView
	search  search
	second  atomic.Pointer[other] // the second camera; nil: there is only the first
	leads   atomic.Bool           // the second one leads: the first is lost
	led     []leading             // under mu
	handing sync.Mutex            // over what a picture is handed to
	rests   atomic.Bool           // the drawn player stands still

	audio
	standing

	later    later
	passing  passing
	wake     chan struct{}
	stop     chan struct{}
	done     sync.WaitGroup
	complain string // what of the settings or of the bay could not be read
	parting  string // what went from the disk at the end
}

// firstView is the first camera, with its eye and the readings of its pictures, as other is
// the second.
type firstView struct {
	source  *camera.Source
	ring    *lookback.Ring
	budget  int // bytes of the ring
	eye     *watch.Watcher
	reads   *read.Camera
	mode    camera.Event // the one that told of the first picture
	isDrawn bool         // it is the virtual bay
	state   atomic.Pointer[camera.Event]
	rate    atomic.Uint64 // frames a second, as float64 bits
}

// search looks for cameras, one search at a time.
type search struct {
	one    sync.Mutex
	tries  int    // to open the first camera; of its source alone
	undraw func() // takes the virtual bay back; under Live.mu
}

// audio is the voice, its output, and the ear.
type audio struct {
	voice   *voice.Voice
	roll    *voice.Roll
	sound   *sound.Output // nil: nothing is heard
	hearing *hearing.Hearing
	taps    atomic.Bool // two taps of the club are listened for
}

// standing holds who stands where. Its mu guards led, the second camera's bay and
// search.undraw as well.
type standing struct {
	mu    sync.Mutex
	bay   bay.Bay
	hand  drills.Hand  // of the player
	club  float64      // of the player, m; 0: the bay's
	aimed atomic.Int64 // counts the changes of these, for the eyes
}

const (
	firstPicture = 1500 * time.Millisecond // wait for the mode of the camera
	usualWidth   = 1280
	usualHeight  = 720
	usualRate    = 30.0
	spareFrames  = 16 // in flight beside the ring
)

// Open starts everything. A camera that is missing is no error: the virtual
// bay takes its place and says so.
func Open(ctx context.Context, cfg Config) (*Live, error) {
	if cfg.Clock == nil {
		cfg.Clock = camera.NewSystemClock()
	}
	l := &Live{cfg: cfg, clock: cfg.Clock, wake: make(chan struct{}, 1), stop: make(chan struct{}), passing: passing{up: map[string]float64{}}}
	l.taps.Store(cfg.Taps)
	l.wall = camera.NewWall(cfg.Wall, l.clock.Now())
	if err := l.draw(); err != nil {
		return nil, err
	}
	name := cfg.Camera
	if cfg.Virtual {
		name = stage.Drawn
	}
	// The pool holds no memory until pictures come; its budget is that of the
	// largest ring. The ring's own budget, by the mode, is what is used.
	pool := frame.NewPool(lookback.Budget(4096, 4096, 120) + spareFrames*4096*2160)
	var err error
	if l.source, err = camera.Open(camera.Config{Name: name, Mode: cfg.Mode, Pool: pool, Clock: l.clock, Rescan: l.rescan}); err != nil {
		l.search.undraw()
		return nil, err
	}
	events := l.first(ctx)
	width, height, rate := usualWidth, usualHeight, usualRate
	if m := l.mode.Mode; m.Width > 0 {
		width, height = m.Width, m.Height
		if m.Rate > 0 {
			rate = m.Rate
		}
	}
	l.budget = lookback.Budget(width, height, rate)
	limitMemory(l.budget, 0, l.isDrawn)
	l.ring = lookback.NewRing(l.budget, lookback.Capacity(l.budget, width/2, height/2))
	leave := stage.Drawn
	if l.isDrawn {
		leave = ""
	}
	if l.book, err = book.Read(ctx, cfg.Ledger, leave); err != nil {
		l.source.Close()
		l.search.undraw()
		return nil, err
	}
	if err := l.settle(ctx); err != nil {
		l.source.Close()
		l.search.undraw()
		return nil, err
	}
	var out cues.Output = cues.Silent{}
	if cfg.Sound {
		l.sound = sound.Open(l.Now)
		out = l.sound
		l.done.Add(1)
		go func() { defer l.done.Done(); l.correct(ctx) }()
	}
	var names voice.NameCaller
	if l.sound != nil {
		names = l.sound
	}
	l.roll = voice.NewRoll(names, l.numberOf, l.calledNext)
	l.voice = voice.New(out, l.book.Drills(), l.roll.Greet)
	l.runner = runner.New(runner.Options{
		Ring: l.ring, Analyse: l.read, Beside: l.loop, Speaker: l.voice, Now: l.Now, Began: l.wall.Began(),
		Store: book.Store{Ledger: cfg.Ledger, Book: l.book, Club: l.clubInUse, Dated: l.wall.Date},
	})
	l.eye = watch.New(watch.Camera{Known: l.known, Aimed: &l.aimed, Resized: l.changed, Failed: l.blind})
	l.reads = read.NewCamera(l.known, &l.eye.Recall)
	ears := hearing.Options{Runner: l.runner, Now: l.Now, Microphone: cfg.Microphone, Deaf: cfg.Deaf, Taps: &l.taps, Distance: l.fromBall}
	if l.sound != nil {
		ears.Own, ears.Speaking = l.sound.Sounding, l.sound.Speaking
	}
	l.hearing = hearing.New(ears)
	l.later.after = l.nudge
	l.guide = guide.New(guide.Options{Now: l.Now, Ring: l.ring, Runner: l.runner, Bay: l.bayAndHand, Quiet: l.roll.Quiet, Lead: l.voice.Lead, Aside: l.leads.Load,
		Keep: func(s *sight.Scenery) { l.keepScenery(ctx, s) }})
	l.guide.Watch(l.bay, width, height)
	for _, e := range events {
		l.heed(e)
	}
	found := cfg.Ledger.Claim()
	l.tell("before", found.Sentence())
	if found != ledger.Shared {
		// Who was deleted in a session that was ended before it could erase them.
		players, err := cfg.Ledger.Leaving(ctx)
		said := ""
		if err == nil {
			said, err = papers.Erase(ctx, cfg.Ledger, players)
		}
		if err != nil {
			said = drills.Sentence(err.Error())
		}
		l.tell("deleted", said)
	}
	if second := cmp.Or(cfg.Second, l.bay.Second); second != "" {
		if err := l.join(ctx, second); err != nil {
			l.runner.Raise(otherKey, "There is one view: "+err.Error()+".", "Press L and J to choose another camera.")
		}
	}
	l.done.Add(5)
	go func() { defer l.done.Done(); l.guide.Run(l.stop) }()
	go func() { defer l.done.Done(); l.eye.Run() }()
	go l.capture()
	go l.listen()
	go l.watch()
	return l, nil
}

// draw makes the virtual bay a camera.
func (l *Live) draw() error {
	undraw, err := stage.Register(l.cfg.Drawn, l.rests.Load)
	if err != nil {
		return err
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	l.search.undraw = undraw
	return nil
}

// rescan looks for cameras anew before the source tries again: one that is
// plugged in again is another to the system.
func (l *Live) rescan() {
	if l.search.tries++; l.search.tries == 1 {
		return // just looked for
	}
	l.lookForCameras()
}

// lookForCameras looks for cameras anew, unless none but the drawn ones are wanted.
func (l *Live) lookForCameras() {
	if l.cfg.Virtual {
		return
	}
	l.search.one.Lock()
	defer l.search.one.Unlock()
	if l.cfg.Rescan != nil {
		l.cfg.Rescan()
		return
	}
	_ = camera.Rescan(l.draw) // what is not found is told by the source
}

// first waits a moment for the camera's mode and returns the events until
// then.
func (l *Live) first(ctx context.Context) (events []camera.Event) {
	t, cancel := l.clock.After(firstPicture)
	defer cancel()
	for {
		select {
		case e := <-l.source.Events():
			events = append(events, e)
			if e.State == camera.Live {
				l.mode, l.isDrawn = e, e.Camera == stage.Drawn
				return events
			}
		case <-t:
			return events
		case <-ctx.Done():
			return events
		}
	}
}

const (
	drawnMemory = 56 << 20 // bytes that the virtual bay keeps to draw its pictures from
	eyesMemory  = 40 << 20 // bytes of the eyes that look now and of those that read
)

// limitMemory keeps the heap close to what is in use: most of it is one ring
// of pictures that never becomes garbage, so collecting often costs little. A
// limit under what is in use would have it collect without end. other is the
// second camera's ring, 0 without one.
func limitMemory(ring, other int, drawn bool) {
	limit := int64(ring) + 88<<20 + eyesMemory
	if drawn {
		limit += drawnMemory
	}
	if other > 0 {
		limit += int64(other) + drawnMemory
	}
	debug.SetGCPercent(6)
	debug.SetMemoryLimit(limit)
}

// settle finds the bay of the camera.
func (l *Live) settle(ctx context.Context) error {
	if l.isDrawn {
		b, err := stage.BayOf(l.cfg.Drawn)
		l.bay = b
		return err
	}
	b, ok, err := l.book.Bay(ctx, l.mode.Camera)
	if err != nil {
		l.complain = err.Error()
	}
	if !ok {
		b = bay.Bay{Name: "Bay 1", Target: drills.Pixel{X: math.NaN(), Y: math.NaN()}}
	}
	l.bay = b
	return nil
}

// Now is the session's clock, s.
func (l *Live) Now() float64 { return l.clock.Now().Seconds() }

// Wake gets a value when something changed by itself.
func (l *Live) Wake() <-chan struct{} { return l.wake }

// capture hands each picture on with what the eye saw last. It neither waits
// nor allocates.
func (l *Live) capture() {
	defer l.done.Done()
	for p := range l.source.Frames() {
		l.eye.Offer(p)
		g := l.eye.Take(p.Seconds())
		if !l.leads.Load() {
			g.Bumped = l.guide.Bumped(p)
			l.give(p, g)
		}
		p.Release()
	}
	l.eye.End(func(g sight.Glance) { l.runner.See(nil, g) })
}

// blind tells that the eye cannot look.
func (l *Live) blind(err error) {
	l.runner.Raise("eye", "Nothing can be seen: "+drills.Sentence(err.Error()), "Install drillbay again.")
}

// Seen returns what the eye saw in the picture nearest to a time, s, in px as seen; false
// when it looked at no picture near that time.
func (l *Live) Seen(at float64) (watch.Seen, bool) {
	if o := l.second.Load(); o != nil && l.leads.Load() {
		return o.eye.Seen.Near(at)
	}
	return l.eye.Seen.Near(at)
}

// changed tells that the pictures have another size.
func (l *Live) changed(width, height int) {
	l.tell("mode", fmt.Sprintf("The camera changed its pictures to %d × %d: the bay is fitted to them.", width, height))
}

// known returns what the reading of the first camera's pictures needs to know at this
// moment.
func (l *Live) known(width, height int) rep.Known {
	l.mu.Lock()
	set := l.bay
	l.mu.Unlock()
	return l.knownOf(set, width, height, "bay", "What the lens screen was told cannot be right", "Press L and set the lens again.")
}

// knownOf returns what the reading of pictures of a size, px, needs to know of a bay. When
// the bay's numbers cannot be right, it raises a notice under key, with why and remedy, and
// takes the usual bay.
func (l *Live) knownOf(set bay.Bay, width, height int, key, why, remedy string) rep.Known {
	l.mu.Lock()
	hand, club := l.hand, l.club
	l.mu.Unlock()
	k, err := bay.Known(set, hand, club, width, height)
	if err != nil {
		l.runner.Raise(key, why+": "+err.Error()+".", remedy)
		k, _ = measure.Bay{Width: width, Height: height, Hand: hand, FaceOn: set.FaceOn}.Known()
	}
	return k
}

// read is the runner's full reading of a rep.
func (l *Live) read(t runner.Take) runner.Analysis {
	second, since := l.ledAt(drills.FirstOf(t.Span.Catch, t.Span.End, t.Span.Start))
	if t = own(t, since); len(t.Frames) == 0 {
		return runner.Analysis{Void: true}
	}
	o := l.second.Load()
	switch {
	case second && o == nil:
		return runner.Analysis{Rep: runner.Unread(t, "its camera was taken away")}
	case second:
		return o.reads.Alone(t)
	}
	r, told := l.reads.Read(t)
	if !told.Void && o != nil && o.is() {
		return o.reads.Together(t, r, told)
	}
	return told
}

// Close ends the session: every rep that was seen is read and stored, or ctx
// is done. It leaves no goroutine behind.
func (l *Live) Close(ctx context.Context) error {
	close(l.stop)
	err := l.source.Close()
	l.done.Wait()
	l.hearing.Close()
	err = errors.Join(err, l.runner.Close(ctx))
	if o := l.second.Swap(nil); o != nil {
		o.close()
	}
	if l.sound != nil {
		l.sound.Close()
	}
	l.search.undraw()
	if err != nil {
		return fmt.Errorf("the session ended with a loss: %w", err)
	}
	return nil
}
