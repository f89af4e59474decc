//go:build !linux

package window

// watch has nothing to look at here.
func (d display) watch() (end func(), clicks bool) { return nil, false }

// outlive has nothing to do here.
func outlive(func()) {}
