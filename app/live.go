package app

import "drillbay/camera/frame"

// liveEvery is how often a screen with the live picture is drawn, s.
const liveEvery = 1.0 / 30

// live is the live picture late seconds ago with a reference for the caller,
// or nil.
func (a *App) live(late float64) *frame.Picture {
	if a.d.Picture == nil {
		return nil
	}
	if a.view.Again == 0 || liveEvery < a.view.Again {
		a.view.Again = liveEvery
	}
	return a.d.Picture(late)
}
