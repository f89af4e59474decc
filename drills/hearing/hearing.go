// Package hearing listens during a session: to strikes where the picture shows a
// downswing, and to taps.
package hearing

import (
	"sync"
	"sync/atomic"

	"drillbay/camera/sight"
	"drillbay/cues/ear"
	"drillbay/drills/runner"
)

// Options holds what hearing works with.
type Options struct {
	Runner     *runner.Runner
	Now        func() float64 // the session's clock, s
	Microphone string         // its name, "" the system's own choice
	Deaf       bool           // no microphone is opened
	Taps       *atomic.Bool   // taps are listened for
	Distance   func() float64 // from the ball to the microphone, m
	// Own and Speaking are as for ear.Options; nil: nothing is heard of the program
	// itself.
	Own, Speaking func(at, within float64) bool
}

// Hearing listens while there is something to be heard: strikes on drills
// with a ball, taps when they are switched on. Nothing of it is kept.
type Hearing struct {
	o     Options
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
)

// New returns hearing that hears nothing until Attend finds that it should.
func New(o Options) *Hearing { return &Hearing{o: o} }

// Count counts the strikes and taps that were heard.
func (h *Hearing) Count() int { return int(h.heard.Load()) }

// strikes reports whether a ball is struck in a drill.
func strikes(d runner.Drill) bool { return d.Ball || d.Kind != runner.Catch }

// Follow notes by what is seen when a downswing may be under way: some time
// into a motion that began out of stillness, or, where the club was held
// before, from its first moment. At the top of a swing the hands rest shortly.
func (h *Hearing) Follow(g sight.Glance, d runner.Drill) {
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
func (h *Hearing) downswing(at float64) bool {
	h.mu.Lock()
	defer h.mu.Unlock()
	for _, s := range h.swings {
		if at >= s.from-seenTo && at <= s.to+seenTo && s.to > s.from {
			return true
		}
	}
	return false
}

// Attend opens the microphone when there is something to be heard, and lets go
// of it when there is not.
func (h *Hearing) Attend() {
	s := h.o.Runner.Snapshot()
	taps := h.o.Taps.Load()
	wanted := !h.o.Deaf && s.Session != "" && s.Ready && (taps || strikes(s.Drill))
	if h.ear != nil && taps != h.taps {
		h.leave() // and listen anew
	}
	switch {
	case wanted && h.ear == nil:
		o := ear.Options{Now: h.o.Now, Microphone: h.o.Microphone, Downswing: h.downswing, Taps: taps, Distance: h.o.Distance(), Own: h.o.Own, Speaking: h.o.Speaking}
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
func (h *Hearing) notice() {
	if h.ear == nil {
		h.o.Runner.Clear("ear")
		return
	}
	switch s := h.ear.State(); {
	case s == ear.Listening:
		if h.had {
			h.o.Runner.Clear("ear")
		}
		h.had = true
	case s == ear.Deaf && h.had:
		h.o.Runner.Raise("ear", "The microphone is gone: strikes are seen, not heard.", "Connect it; it comes back by itself.")
	}
}

// leave stops listening. It does not wait for the device.
func (h *Hearing) leave() {
	e := h.ear
	h.ear = nil
	h.done.Add(1)
	go func() {
		defer h.done.Done()
		e.Close()
	}()
}

// Close stops listening and waits.
func (h *Hearing) Close() {
	if h.ear != nil {
		h.leave()
	}
	h.done.Wait()
}

// take hands on what is heard, until the ear is closed.
func (h *Hearing) take(heard <-chan ear.Heard) {
	defer h.done.Done()
	r := h.o.Runner
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

// tapped gives the command for two taps: say it again, or after a set begin the next.
func tapped(s *runner.Snapshot) runner.Do {
	if s.SetDone {
		return runner.NewSet
	}
	return runner.Say
}
