//go:build !linux

package window

// watch has nothing to look at here.
func (d display) watch() (end func()) { return nil }

// outlive has nothing to do here.
func outlive(func()) {}
