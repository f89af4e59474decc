package app

import "drillbay/camera/frame"

// How often a screen with the live picture is drawn, s: a small picture to
// recognise, one to set the lens by, one to look at motion in.
const (
	liveSmall = 1.0 / 5
	liveIdle  = 3.0 // one to recognise, while nobody touches anything
	liveLens  = 1.0 / 15
	liveFull  = 1.0 / 20
)

// idleAfter is the time without any input after which a form counts as idle, s.
const idleAfter = 15.0

// live is the live picture late seconds ago with a reference for the caller,
// or nil; the next step comes within every s.
func (a *App) live(late, every float64) *frame.Picture {
	if a.d.Picture == nil {
		return nil
	}
	if every == liveSmall && a.now-a.touched > idleAfter {
		every = liveIdle
		a.view.Calm = true
	}
	if a.view.Again == 0 || every < a.view.Again {
		a.view.Again = every
	}
	return a.d.Picture(late)
}
