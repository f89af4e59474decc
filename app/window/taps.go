package window

import "sync"

// taps are presses of keys in their order. The graphics library asks at an update
// which keys are down, and never hears of one that was pressed and let go in
// between; the window system tells every press. They are told from another
// goroutine, and act at the update after the next, so that letters that were
// typed before them come first.
type taps struct {
	mu      sync.Mutex
	heard   bool  // presses are told
	arrived []tap // since the last update
	waiting []tap // before it
	due     []tap // act now
}

// tap is one press of a key, or a repeat of it while held.
type tap struct {
	key    int
	repeat bool
}

// listen begins.
func (t *taps) listen() {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.heard = true
}

// hears reports whether presses are told.
func (t *taps) hears() bool {
	t.mu.Lock()
	defer t.mu.Unlock()
	return t.heard
}

// note is told each press of a key.
func (t *taps) note(key int, repeat bool) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.heard {
		t.arrived = append(t.arrived, tap{key, repeat})
	}
}

// next are those that act at this update; more reports that there is something
// for the update after. What is returned is valid until the next call.
func (t *taps) next() (act []tap, more bool) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.due, t.waiting, t.arrived = t.waiting, t.arrived, t.due[:0]
	return t.due, len(t.waiting) > 0
}
