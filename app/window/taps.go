package window

import "sync"

// taps counts presses of keys. The graphics library asks at an update which
// keys are down, and never hears of one that was pressed and let go in
// between; the window system tells every press. They are told from another
// goroutine, and act at the update after the next, so that letters that were
// typed before them come first.
type taps struct {
	mu      sync.Mutex
	heard   bool        // presses are told
	arrived map[int]tap // since the last update
	waiting map[int]tap // before it
	due     map[int]tap // act now
}

// tap is how often a key was pressed, and how often it repeated while held.
type tap struct{ pressed, repeated int }

// listen begins.
func (t *taps) listen() {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.heard, t.arrived, t.waiting, t.due = true, map[int]tap{}, map[int]tap{}, map[int]tap{}
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
	if !t.heard {
		return
	}
	n := t.arrived[key]
	if repeat {
		n.repeated++
	} else {
		n.pressed++
	}
	t.arrived[key] = n
}

// next is called at each update, before take; more reports that there is
// something for the update after.
func (t *taps) next() (more bool) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.due, t.waiting, t.arrived = t.waiting, t.arrived, t.due
	clear(t.arrived)
	return len(t.waiting) > 0
}

// take is how often a key acted.
func (t *taps) take(key int, repeats bool) int {
	t.mu.Lock()
	defer t.mu.Unlock()
	n := t.due[key]
	delete(t.due, key)
	if repeats {
		return n.pressed + n.repeated
	}
	return n.pressed
}
