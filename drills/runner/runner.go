package runner

import (
	"context"
	"fmt"
	"sync"
	"sync/atomic"
	"time"

	"github.com/google/uuid"

	"drillbay/camera/frame"
	"drillbay/camera/sight"
)

const (
	queueSeen = 64 // pictures that may wait for the runner
	queueRest = 32
	// Further readings that may be done at once and not taken: more than a player
	// has reps while one is read.
	furtherMost = 16
	tickEvery   = 50 * time.Millisecond
)

// Runner owns a session on one goroutine. Its methods may be called from any
// goroutine and never wait for a reading, the store or a window.
type Runner struct {
	o        Options
	seen     chan seen
	orders   chan Command
	strikes  chan float64
	poke     chan struct{} // late or faults has something
	readings chan result
	furthers chan amendment
	saves    chan answer
	closing  chan struct{}
	hurry    chan struct{}
	once     sync.Once
	done     sync.WaitGroup
	workers  sync.WaitGroup
	give     context.CancelFunc // gives up on what the store has not taken
	snapshot atomic.Pointer[Snapshot]
	mu       sync.Mutex
	glance   sight.Glance   // under mu, as are the next two
	late     []sight.Glance // that say that a rep became known, for which the queue had no room
	faults   []fault
	dropped  atomic.Int64
	changes  chan struct{}
}

type seen struct {
	picture *frame.Picture
	glance  sight.Glance
}

type fault struct {
	notice Notice
	gone   bool
}

type result struct {
	p *pending
	r Analysis
}

type amendment struct {
	p  *pending
	r  Analysis
	ok bool
}

type answer struct {
	j   *job
	err error
}

// New starts a runner. It panics when an option that it cannot do without is
// missing: that is the caller's mistake.
func New(o Options) *Runner {
	o = checked(o)
	ctx, give := context.WithCancel(context.Background())
	r := &Runner{
		o: o, give: give,
		seen: make(chan seen, queueSeen), orders: make(chan Command, queueRest),
		strikes: make(chan float64, queueRest), poke: make(chan struct{}, 1), hurry: make(chan struct{}, 1),
		readings: make(chan result, 1), saves: make(chan answer, 1), furthers: make(chan amendment, furtherMost),
		closing: make(chan struct{}), changes: make(chan struct{}, 1),
	}
	s := newSession(o)
	r.snapshot.Store(s.snapshot())
	r.done.Add(1)
	go r.run(ctx, s)
	return r
}

func checked(o Options) Options {
	if o.Ring == nil || o.Analyse == nil || o.Store == nil || o.Speaker == nil || o.Now == nil {
		panic("runner: Ring, Analyse, Store, Speaker and Now are needed")
	}
	if o.NewID == nil {
		o.NewID = uuid.NewString
	}
	return o
}

// See hands over a picture, of which the runner takes a reference of its own,
// and what was seen in it. It never waits: when the runner is behind, the
// picture is dropped and counted, and the glance with it unless it says that
// a rep became known.
func (r *Runner) See(p *frame.Picture, g sight.Glance) {
	select {
	case <-r.closing:
		return
	default:
	}
	r.mu.Lock()
	behind := len(r.late) > 0 // what comes now must not overtake those
	r.mu.Unlock()
	if !behind {
		if p != nil {
			p.Retain()
		}
		select {
		case r.seen <- seen{p, g}:
			return
		default:
		}
		if p != nil {
			p.Release()
		}
	}
	r.dropped.Add(1)
	if g.Caught || g.Ended {
		r.mu.Lock()
		r.late = append(r.late, g)
		r.mu.Unlock()
		r.nudge()
	}
}

func (r *Runner) nudge() {
	select {
	case r.poke <- struct{}{}:
	default:
	}
}

// overdue takes what found no room in the queue, once that is empty, and the
// notices from outside.
func (r *Runner) overdue(s *session) {
	r.mu.Lock()
	faults := r.faults
	r.faults = nil
	var late []sight.Glance
	if len(r.seen) == 0 {
		late, r.late = r.late, nil
	}
	r.mu.Unlock()
	if len(faults) > 0 {
		s.now = max(s.now, r.o.Now())
	}
	for _, f := range faults {
		if f.gone {
			s.clear(f.notice.Key)
		} else {
			s.raise(f.notice.Key, f.notice.Text, f.notice.To)
		}
	}
	for _, g := range late {
		s.see(nil, g)
	}
}

// Heard tells the time of a strike or tap (s, capture clock).
func (r *Runner) Heard(at float64) {
	select {
	case r.strikes <- at:
	default:
	}
}

// Order gives a command.
func (r *Runner) Order(c Command) {
	select {
	case r.orders <- c:
	case <-r.closing:
	}
}

// Raise puts up a notice from outside, one line a key; Clear takes it down.
func (r *Runner) Raise(key, text, to string) {
	r.fault(fault{notice: Notice{Key: key, Text: text, To: to}})
}

// Clear takes a notice down.
func (r *Runner) Clear(key string) { r.fault(fault{notice: Notice{Key: key}, gone: true}) }

func (r *Runner) fault(f fault) {
	select {
	case <-r.closing:
		return
	default:
	}
	r.mu.Lock()
	r.faults = append(r.faults, f)
	r.mu.Unlock()
	r.nudge()
}

// Snapshot is the session as it was published last. It is never nil.
func (r *Runner) Snapshot() *Snapshot { return r.snapshot.Load() }

// Glance returns what was seen last.
func (r *Runner) Glance() sight.Glance {
	r.mu.Lock()
	defer r.mu.Unlock()
	return r.glance
}

// Changes gets a value after a snapshot was published; several may be one.
func (r *Runner) Changes() <-chan struct{} { return r.changes }

// Hurry has the reps that are not read yet stored without a reading, so that
// the end comes soon. It is for a session that is closing.
func (r *Runner) Hurry() {
	select {
	case r.hurry <- struct{}{}:
	default:
	}
}

// Close ends the session, waits until every rep that was seen is read and
// stored or until ctx is done, and leaves no goroutine behind. It returns an
// error that says how many reps could not be stored.
func (r *Runner) Close(ctx context.Context) error {
	r.once.Do(func() { close(r.closing) })
	stop := context.AfterFunc(ctx, r.give)
	defer stop()
	r.done.Wait()
	if n := r.Snapshot().Waiting; n > 0 {
		return fmt.Errorf("%d reps could not be stored before the end", n)
	}
	return nil
}

// run is the runner's goroutine.
func (r *Runner) run(ctx context.Context, s *session) {
	defer r.done.Done()
	defer r.give()
	ticker := time.NewTicker(tickEvery)
	defer ticker.Stop()
	closing := r.closing
	for {
		select {
		case x := <-r.seen:
			s.see(x.picture, x.glance)
			if x.picture != nil {
				x.picture.Release()
			}
			r.mu.Lock()
			r.glance = x.glance
			r.mu.Unlock()
		case at := <-r.strikes:
			s.heard(at)
		case c := <-r.orders:
			s.now = max(s.now, r.o.Now())
			s.order(c)
		case <-r.poke:
		case <-r.hurry:
			s.now = max(s.now, r.o.Now())
			s.hurry()
		case x := <-r.readings:
			s.now = max(s.now, r.o.Now())
			s.read(x.p, x.r)
		case x := <-r.furthers:
			s.now = max(s.now, r.o.Now())
			s.amend(x.p, x.r, x.ok)
		case x := <-r.saves:
			s.now = max(s.now, r.o.Now())
			s.saved(x.j, x.err)
		case <-ticker.C:
			s.tick(r.o.Now())
		case <-closing:
			closing = nil
		}
		r.overdue(s)
		r.carryOut(ctx, s)
		r.publish(s)
		if closing == nil && (s.idle() || ctx.Err() != nil) {
			break
		}
	}
	if ctx.Err() == nil && !s.hurried {
		r.workers.Wait() // else they end by themselves: nobody waits for them
	}
	r.drain()
	unsaved := s.unsaved()
	s.finish()
	r.carryOut(ctx, s)
	r.publishLast(s, unsaved)
}

// idle reports whether nothing waits for a reading or the store.
func (s *session) idle() bool {
	return len(s.reading) == 0 && len(s.saving) == 0 && (s.further == 0 || s.hurried)
}

// drain takes what workers left behind when the end was forced.
func (r *Runner) drain() {
	for {
		select {
		case x := <-r.seen:
			if x.picture != nil {
				x.picture.Release()
			}
		case <-r.readings:
		case <-r.furthers:
		case <-r.saves:
		default:
			return
		}
	}
}

// unsaved counts the reps that are not stored.
func (s *session) unsaved() int {
	n := len(s.reading)
	for _, j := range s.saving {
		if j.pending != nil {
			n++
		}
	}
	return n
}

func (r *Runner) publish(s *session) {
	if n := int(r.dropped.Load()); n != s.counters.Dropped {
		s.counters.Dropped, s.changed = n, true
	}
	if !s.changed {
		return
	}
	r.snapshot.Store(s.snapshot())
	select {
	case r.changes <- struct{}{}:
	default:
	}
}

func (r *Runner) publishLast(s *session, unsaved int) {
	for _, p := range s.reading {
		if p.take != nil {
			p.take.Release()
		}
	}
	s.release()
	last := s.snapshot()
	last.Waiting = unsaved
	r.snapshot.Store(last)
	select {
	case r.changes <- struct{}{}:
	default:
	}
}
