package sound

import (
	"time"

	"drillbay/cues"
)

const (
	lookEvery  = 200 * time.Millisecond
	stallAfter = 1.5 // s without a draw: the output hangs
	wakeWithin = 4.0 // s from opening that an output may need to begin: some must wake up first
	retryFirst = 1.0 // s, then doubled
	retryMost  = 8.0 // s
	quietBlock = 20 * time.Millisecond
)

// watcher keeps a sink open: it opens the first one that can be, notices when
// it is lost, draws in silence meanwhile, and opens again.
type watcher struct {
	o       *Output
	openers []opener
	sink    sink
	opened  float64 // when it was
	tap     *tap
	again   float64 // when to try again
	wait    float64
	drawnTo float64 // what was drawn in silence, up to this time
	block   [2048][2]float64
}

// watch runs until the output is closed.
func (o *Output) watch(openers []opener) {
	defer o.ended.Done()
	w := &watcher{o: o, openers: openers, wait: retryFirst}
	w.try(o.now())
	look := time.NewTicker(lookEvery)
	defer look.Stop()
	quiet := time.NewTicker(quietBlock)
	defer quiet.Stop()
	for {
		select {
		case <-o.quit:
			w.letGo(Closed, nil)
			return
		case <-look.C:
			w.look(o.now())
		case <-quiet.C:
			w.quiet(o.now())
		}
	}
}

// try opens the first sink that can be. Openers that can be used once only
// are tried once.
func (w *watcher) try(now float64) {
	var reason error
	for i, open := range w.openers {
		t := newTap(w.o.desk, w.o.follow())
		w.o.clock.wait(now)
		s, err := open(t)
		if err == nil {
			w.sink, w.tap, w.wait, w.opened = s, t, retryFirst, w.o.now()
			w.openers = w.openers[min(i+1, len(w.openers)-1):]
			w.o.set(Playing, nil)
			return
		}
		t.open.Store(false)
		reason = err
	}
	w.openers = w.openers[len(w.openers)-1:]
	w.silence(w.o.now(), reason)
}

// settling is the number of samples that a new sink draws before its draws come in time.
const settling = cues.Rate / 2

// follow returns what keeps the clock by the draws of one new sink. The first
// ones fill its buffers, and tell the time only until there are others.
func (o *Output) follow() func(int) {
	drawn, settled := 0, false
	return func(n int) {
		if drawn == 0 || (!settled && drawn > settling) {
			settled = drawn > 0
			o.clock.restart()
		}
		drawn += n
		o.clock.drawn(o.now(), o.desk.position())
	}
}

// silence goes on without a sink, to try again later.
func (w *watcher) silence(now float64, reason error) {
	w.o.set(Silent, reason)
	w.o.clock.restart()
	w.o.clock.drawn(now, w.o.desk.position())
	w.drawnTo = now
	w.again, w.wait = now+w.wait, min(2*w.wait, retryMost)
}

// look notices a lost sink, and tries again when it is time.
func (w *watcher) look(now float64) {
	switch {
	case w.sink == nil && now >= w.again:
		w.try(now)
	case w.sink != nil:
		err := w.sink.err()
		if err == nil && w.o.clock.silentFor(now) > stallAfter && now-w.opened > wakeWithin {
			err = errSlow
		}
		if err != nil {
			w.letGo(Silent, err)
			w.silence(now, err)
		}
	}
}

// letGo gives the sink up. Closing may hang with the device: it is not waited
// for long.
func (w *watcher) letGo(state State, reason error) {
	w.o.set(state, reason)
	if w.sink == nil {
		return
	}
	w.tap.open.Store(false)
	gone, old := make(chan struct{}), w.sink
	go func() { old.close(); close(gone) }()
	select {
	case <-gone:
	case <-time.After(time.Second):
	}
	w.sink, w.tap = nil, nil
}

// quiet draws what nobody hears, so that the beat goes on in time.
func (w *watcher) quiet(now float64) {
	if w.sink != nil {
		return
	}
	for w.drawnTo < now {
		n := min(int((now-w.drawnTo)*cues.Rate)+1, len(w.block))
		w.o.clock.drawn(w.drawnTo, w.o.desk.position())
		w.o.desk.Stream(w.block[:n])
		w.drawnTo += float64(n) / cues.Rate
	}
}

// set changes the state; reason is nil while something can be played.
func (o *Output) set(s State, reason error) {
	o.mu.Lock()
	defer o.mu.Unlock()
	o.state, o.reason = s, reason
}
