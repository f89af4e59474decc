package app

import "drillbay/app/widget"

// edit applies an editing key to a field; ok is false for every other key.
func edit(f *widget.Field, d Do) (ok bool) {
	switch d {
	case Erase:
		f.Back()
	case EraseOn:
		f.Delete()
	case Home:
		f.Home()
	case End:
		f.End()
	default:
		return false
	}
	return true
}
