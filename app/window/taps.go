package window

import "sync"

// taps are presses of keys in their order. The graphics library asks at an update
// which keys are down, and never hears of one that was pressed and let go in
// between; letters it gives apart from them, as the user's keyboard makes them.
// The window system tells every press, of both kinds, from another goroutine. A
// press acts at the update after the next, by when the letters that were typed
// before it are there for sure; letters wait for the keys that were pressed before
// them, and for nothing else.
type taps struct {
	mu      sync.Mutex
	heard   bool  // presses are told
	arrived []tap // since the last update
	waiting []tap // before it
	spare   []tap
	held    []rune // letters that wait for keys
	early   int    // letters that acted before their press was told
	quiet   int    // updates at which nothing came
	act     []press
}

// tap is one press of a key, or a repeat of it while held.
type tap struct {
	key    int
	repeat bool
	letter bool // it types something
}

// press is a press that takes effect: of a key, or of a letter where it types.
type press struct {
	tap
	typed rune
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

// note is told each press of a key that acts or types.
func (t *taps) note(x tap) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.heard {
		t.arrived = append(t.arrived, x)
	}
}

// next takes the letters that came since the last update and gives what acts at
// this one, in the order in which it was pressed; more reports that there is
// something for the update after. What is returned is valid until the next call.
func (t *taps) next(letters []rune) (act []press, more bool) {
	t.mu.Lock()
	defer t.mu.Unlock()
	due := t.waiting
	t.waiting, t.arrived, t.spare = t.arrived, t.spare[:0], due
	t.held = append(t.held, letters...)
	t.act = t.act[:0]
	for _, x := range due {
		switch {
		case !x.letter:
			t.act = append(t.act, press{tap: x})
		case t.early > 0:
			t.early--
		case len(t.held) > 0:
			t.type1()
		}
	}
	if !t.keyWaits() {
		for len(t.held) > 0 {
			t.type1()
			t.early++
		}
	}
	if t.quiet++; len(letters)+len(due)+len(t.waiting) > 0 {
		t.quiet = 0
	}
	if t.quiet >= 2 {
		t.early = 0 // what was typed with a key of its own, by an input method say
	}
	return t.act, len(t.waiting)+len(t.held) > 0
}

// type1 lets the first letter act.
func (t *taps) type1() {
	t.act = append(t.act, press{tap: tap{letter: true}, typed: t.held[0]})
	t.held = append(t.held[:0], t.held[1:]...)
}

// keyWaits reports whether a key that types nothing waits to act.
func (t *taps) keyWaits() bool {
	for _, x := range t.waiting {
		if !x.letter {
			return true
		}
	}
	return false
}

// types reports whether a keysym types a letter (keysymdef.h): all but those of
// functions, cursor, modifiers and dead keys.
func types(keysym int) bool {
	return keysym >= 0x20 && keysym < 0xfe00 || keysym >= 0xffaa && keysym <= 0xffb9 || keysym >= 0x01000100
}
