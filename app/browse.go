package app

import "drillbay/app/widget"

// browse moves about in a screen's list, and goes back from there.
func (a *App) browse(list *widget.List, d Do, n int) {
	switch d {
	case Back, PageBack:
		a.back()
	case Up:
		list.Move(-1)
	case Down, Next:
		list.Move(1)
	case Choose:
		list.Choose(n)
	}
}
