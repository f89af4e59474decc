package live

import (
	"math"
	"sync"
	"sync/atomic"

	"drillbay/camera/sight"
	"drillbay/cues/ear"
	"drillbay/drills"
	"drillbay/drills/runner"
)

// hearing listens while there is something to be heard: strikes on drills
// with a ball, taps when they are switched on. Nothing of it is kept.
type hearing struct {
	live  *Live
	ear   *ear.Ear // of the watch alone; nil: not listening
	had   bool     // a microphone was there, of the watch alone
	taps  bool     // are listened for, of the watch alone
	done  sync.WaitGroup
	heard atomic.Int64 // strikes and taps

	mu     sync.Mutex
	phase  sight.Phase
	still  float64  // s, when the latest stillness began
	swings [4]swing // the latest times in which a downswing may be, newest last
}

// swing is a time in which the picture shows a downswing, s.
type swing struct{ from, to float64 }

const (
	turnsAfter = 0.45 // s from the first motion, the earliest that a swing turns down
	strikesIn  = 2.5  // s from the first motion, the latest that a ball is struck
	topRest    = 0.5  // s that hands may rest at the top
	seenTo     = 0.08 // s, how exactly the picture tells when a motion ends
	sureTo     = 0.06 // s that a strike may be off the impact that was seen
)

// strikes reports whether a ball is struck in a drill.
func strikes(d runner.Drill) bool { return d.Ball || d.Kind != runner.Catch }

// follow notes by what is seen when a downswing may be under way: some time
// into a motion that began out of stillness, or, where the club was held
// before, from its first moment. At the top of a swing the hands rest shortly.
func (h *hearing) follow(g sight.Glance, d runner.Drill) {
	h.mu.Lock()
	defer h.mu.Unlock()
	last := &h.swings[len(h.swings)-1]
	was := h.phase
	h.phase = g.Phase
	if !moves(g.Phase) {
		last.to = min(last.to, g.Since)
		if moves(was) {
			h.still = g.Since
		}
		return
	}
	if moves(was) || !strikes(d) {
		return
	}
	if begun := last.from - turnsAfter; g.Since-h.still < topRest && g.Since < begun+strikesIn {
		last.to = begun + strikesIn // it was the top of the same swing
		return
	}
	next := swing{g.Since + turnsAfter, g.Since + strikesIn}
	if was == sight.Hold && d.Kind == runner.CatchTurnStrike {
		next.from = g.Since
	}
	copy(h.swings[:], h.swings[1:])
	*last = next
}

// moves reports whether a phase is one of motion, or of a rest too short for
// anything else.
func moves(p sight.Phase) bool { return p != sight.Away && p != sight.Address && p != sight.Hold }

// downswing reports whether one was under way at a time, s.
func (h *hearing) downswing(at float64) bool {
	h.mu.Lock()
	defer h.mu.Unlock()
	for _, s := range h.swings {
		if at >= s.from-seenTo && at <= s.to+seenTo && s.to > s.from {
			return true
		}
	}
	return false
}

// attend opens the microphone when there is something to be heard, and lets go
// of it when there is not.
func (h *hearing) attend() {
	l := h.live
	s := l.runner.Snapshot()
	taps := l.taps.Load()
	wanted := !l.cfg.Deaf && s.Session != "" && s.Ready && (taps || strikes(s.Drill))
	if h.ear != nil && taps != h.taps {
		h.leave() // and listen anew
	}
	switch {
	case wanted && h.ear == nil:
		o := ear.Options{Now: l.Now, Microphone: l.cfg.Microphone, Downswing: h.downswing, Taps: taps, Distance: l.fromBall()}
		if l.sound != nil {
			o.Own, o.Speaking = l.sound.Sounding, l.sound.Speaking
		}
		h.ear, h.had, h.taps = ear.Open(o), false, taps
		h.done.Add(1)
		go h.take(h.ear.Heard())
	case !wanted && h.ear != nil:
		h.leave()
	case h.ear == nil:
		return
	}
	h.notice()
}

// notice tells when the microphone is lost, and when it is back.
func (h *hearing) notice() {
	if h.ear == nil {
		h.live.runner.Clear("ear")
		return
	}
	switch s := h.ear.State(); {
	case s == ear.Listening:
		if h.had {
			h.live.runner.Clear("ear")
		}
		h.had = true
	case s == ear.Deaf && h.had:
		h.live.runner.Raise("ear", "The microphone is gone: strikes are seen, not heard.", "Connect it; it comes back by itself.")
	}
}

// leave stops listening. It does not wait for the device.
func (h *hearing) leave() {
	e := h.ear
	h.ear = nil
	h.done.Add(1)
	go func() {
		defer h.done.Done()
		e.Close()
	}()
}

// close stops listening and waits.
func (h *hearing) close() {
	if h.ear != nil {
		h.leave()
	}
	h.done.Wait()
}

// take hands on what is heard, until the ear is closed.
func (h *hearing) take(heard <-chan ear.Heard) {
	defer h.done.Done()
	r := h.live.runner
	for x := range heard {
		h.heard.Add(1)
		switch x.Kind {
		case ear.Strike:
			r.Heard(x.At)
		case ear.Taps:
			r.Order(runner.Command{Do: tapped(r.Snapshot())})
		}
	}
}

// tapped is what two taps ask for: again, or after a set the next.
func tapped(s *runner.Snapshot) runner.Do {
	if s.SetDone {
		return runner.NewSet
	}
	return runner.Say
}

// fromBall is how far the microphone is from the ball, m: it is taken to be
// where the camera is.
func (l *Live) fromBall() float64 {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.bay.Distance
}

// sharpen takes the impact from the strike that was heard, where one fits
// the impact that was seen: sound tells it better than pictures. frame is the
// time between two pictures, s.
func sharpen(r *drills.Rep, strikes []float64, frame float64) {
	seen := r.Moments.Impact
	if math.IsNaN(seen) || math.IsNaN(r.Tempo) {
		return
	}
	best := math.NaN()
	for _, s := range strikes {
		if off := math.Abs(s - seen); off <= frame+sureTo && !(off >= math.Abs(best-seen)) {
			best = s
		}
	}
	back, down := r.Moments.Top-r.Moments.Start, best-r.Moments.Top
	if !(back > 0.2 && down > 0.08) {
		return
	}
	r.Moments.Impact, r.Tempo = best, back/down
	// Start and top lie evenly within a frame and are read to about 12 ms
	// besides; the strike is heard to 3 ms. The top is part of both times.
	moment, strike := math.Hypot(frame/math.Sqrt(12), 0.012/math.Sqrt2), 0.003
	rel := 1.96 * math.Hypot(moment/back, math.Hypot(moment*(1/back+1/down), strike/down))
	r.TempoLow, r.TempoHigh = r.Tempo*(1-rel), r.Tempo*(1+rel)
}
