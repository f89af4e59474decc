//go:build !linux

package laptop

// ScreenSize is the size of the screen in px, 0 when it is not known: the
// window's own settings then say what is readable.
func ScreenSize() (width, height int) { return 0, 0 }
