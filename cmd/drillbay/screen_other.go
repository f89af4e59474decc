//go:build !linux

package main

// screenSize is the size of the screen in px, ok is false when it is not
// known: the window's own settings then say what is readable.
func screenSize() (width, height int, ok bool) { return 0, 0, false }
