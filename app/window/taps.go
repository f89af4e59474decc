package window

import (
	"fmt"
	"unsafe"
)

// The graphics library asks at an update which keys are down, and never hears
// of one that was pressed and let go in between. The windowing library below
// it tells every press (GLFW, "Keyboard input"), but the one above passes it
// on to nobody: these functions are linked by their names.

//go:linkname currentContext github.com/hajimehoshi/ebiten/v2/internal/glfw.GetCurrentContext
func currentContext() (unsafe.Pointer, error)

//go:linkname setInputMode github.com/hajimehoshi/ebiten/v2/internal/glfw.(*Window).SetInputMode
func setInputMode(window unsafe.Pointer, mode, value int) error

//go:linkname setKeyCallback github.com/hajimehoshi/ebiten/v2/internal/glfw.(*Window).SetKeyCallback
func setKeyCallback(window unsafe.Pointer, told onKey) (before onKey, err error)

type onKey func(window unsafe.Pointer, key, code, action, mods int)

const (
	stickyButtons = 0x00033003 // GLFW_STICKY_MOUSE_BUTTONS: down until asked
	keyPressed    = 1          // GLFW_PRESS
	keyRepeats    = 2          // GLFW_REPEAT
)

// taps counts presses of keys between two updates. It is used by the one
// thread that both draws and hears the system's events.
type taps struct {
	heard  bool // presses are told
	counts map[int]int
}

// listen begins. Where nothing is drawn by OpenGL (on Windows and macOS) there
// is no window to ask, and heard stays false.
func (t *taps) listen() error {
	w, err := currentContext()
	if err != nil || w == nil {
		return err
	}
	if err := setInputMode(w, stickyButtons, 1); err != nil {
		return fmt.Errorf("short presses of the mouse cannot be heard: %w", err)
	}
	t.counts = map[int]int{}
	if _, err := setKeyCallback(w, t.note); err != nil {
		return fmt.Errorf("short presses of keys cannot be heard: %w", err)
	}
	t.heard = true
	return nil
}

// note is told each change of a key; a held one repeats as the system says.
func (t *taps) note(_ unsafe.Pointer, key, _, action, _ int) {
	switch action {
	case keyPressed:
		t.counts[key] += 1 << 16
	case keyRepeats:
		t.counts[key]++
	}
}

// take is how often a key acted since it was asked last.
func (t *taps) take(key int, repeats bool) int {
	n := t.counts[key]
	delete(t.counts, key)
	if repeats {
		return n>>16 + n&0xffff
	}
	return n >> 16
}
