package live

import (
	"math"
	"sync"
	"time"

	"drillbay/camera"
	"drillbay/cues/sound"
	"drillbay/drills"
	"drillbay/drills/runner"
	"drillbay/drills/stage"
)

// listen follows the camera's state.
func (l *Live) listen() {
	defer l.done.Done()
	for e := range l.source.Events() {
		l.heed(e)
	}
}

// heed takes one event: what a user must know becomes one line.
func (l *Live) heed(e camera.Event) {
	l.state.Store(&e)
	l.lead()
	if l.leads.Load() {
		l.nudge()
		return // what is lost is told, and practice goes on
	}
	switch {
	case e.State == camera.Live:
		l.runner.Clear(runner.NoPicture)
		if e.Camera == stage.Drawn && !l.cfg.Virtual {
			l.runner.Raise("virtual", "No camera is in use: a drawn player swings in the virtual bay.", "Plug a camera in and start again.")
		}
	case e.State == camera.Searching && e.Err != nil, e.State == camera.NoSignal && e.Err != nil:
		l.runner.Raise(runner.NoPicture, drills.Sentence(e.Err.Error()), "")
	}
	l.nudge()
}

func (l *Live) nudge() {
	select {
	case l.wake <- struct{}{}:
	default:
	}
}

const (
	watchEvery = 250 * time.Millisecond
	slowRate   = 24.0 // frames a second under which readings suffer
	slowFor    = 12   // looks in a row until it is told
	toldFor    = 30.0 // s that something that is over is told
)

// passing are notices that are up for a while: it happened, and nothing need
// be done. Each has the time until which it is up, s.
type passing struct {
	mu sync.Mutex
	up map[string]float64
}

// tell tells for a while what happened; nothing when it is empty.
func (l *Live) tell(key, what string) {
	if what == "" {
		return
	}
	l.passing.mu.Lock()
	defer l.passing.mu.Unlock()
	l.passing.up[key] = l.Now() + toldFor
	l.runner.Raise(key, what, "")
}

// forget no longer tells what was told long enough.
func (l *Live) forget(now float64) {
	l.passing.mu.Lock()
	defer l.passing.mu.Unlock()
	for key, until := range l.passing.up {
		if until <= now {
			delete(l.passing.up, key)
			l.runner.Clear(key)
		}
	}
}

// watching is the memory of watch from one look to the next.
type watching struct {
	slow  int        // looks in a row at which the camera was slow
	heard bool       // something could be heard
	mute  string     // the key by which it was told that nothing is heard, "": it was not
	pause stage.Rest // of the drawn player
}

// watch looks at the camera's rate and the output now and then, and passes
// the runner's changes on.
func (l *Live) watch() {
	defer l.done.Done()
	tick := time.NewTicker(watchEvery)
	defer tick.Stop()
	var w watching
	for {
		select {
		case <-l.stop:
			return
		case <-l.runner.Changes():
			l.nudge()
		case <-tick.C:
			now := l.Now()
			l.forget(now)
			l.tell("clock", l.wall.Look(now))
			l.heedOther()
			l.voice.Tick(now)
			l.beat(now)
			l.rests.Store(w.pause.Wanted(l.runner.Snapshot(), now))
			l.hear(&w)
			l.hearing.Attend()
			l.pace(&w)
		}
	}
}

// pace tells when the camera is slow for a while, and when it is no longer.
func (l *Live) pace(w *watching) {
	rate := l.source.Stats().Rate
	l.rate.Store(math.Float64bits(rate))
	if rate > 0 && rate < slowRate {
		w.slow++
	} else if w.slow > 0 {
		w.slow = 0
		l.runner.Clear("rate")
	}
	if w.slow == slowFor {
		l.runner.Raise("rate", "The camera is slow, so readings are less sure.", "Give it more light, or plug it in elsewhere.")
	}
}

// beat lets the beat that is heard lead the one that is shown.
func (l *Live) beat(now float64) {
	shown := l.runner.Snapshot().Beat
	if l.sound == nil || !shown.On || shown.Rate <= 0 {
		return
	}
	b := l.sound.Beat(now)
	if !b.On || b.Rate <= 0 {
		return
	}
	round := max(b.Round, 1) * 60 / b.Rate // s
	if off := math.Abs(math.Remainder(shown.Zero-b.Zero, round)); off > 0.01 {
		l.runner.Order(runner.Command{Do: runner.BeatStart, Number: b.Zero})
	}
}

// hear tells when the output is lost, and when it is back.
func (l *Live) hear(w *watching) {
	if l.sound == nil {
		return
	}
	wrong, remedy := l.sound.Notice()
	w.heard = w.heard || l.sound.State() == sound.Playing
	switch {
	case wrong != "" && w.mute == "" && w.heard:
		w.mute = "sound lost"
		l.runner.Raise(w.mute, "The sound is gone.", remedy)
	case wrong != "" && w.mute == "":
		w.mute = "sound"
		l.runner.Raise(w.mute, wrong, remedy)
	case wrong == "" && w.mute != "":
		l.runner.Clear(w.mute)
		w.mute = ""
	}
}
