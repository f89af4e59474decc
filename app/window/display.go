package window

// display receives what a connection of our own to the window system tells in addition to
// the graphics library: every press of a key, and that the window is gone.
type display struct {
	press func(key int, repeat bool) // a keysym (X11, keysymdef.h)
	gone  func()                     // the window was destroyed from outside
}
