package app

import (
	"drillbay/camera/lookback"
	"drillbay/drills/runner"
)

// work starts something that takes time.
func (a *App) work(what string, j Job) { a.workThen(what, j, nil) }

// workThen starts something that takes time. What came of it is told as a notice, unless
// then has said it.
func (a *App) workThen(what string, j Job, then func(error) bool) {
	for _, loop := range []*lookback.Loop{j.Loop, j.Beside} {
		if loop != nil && (a.d.Work == nil || a.busy != "") {
			loop.Release()
		}
	}
	if a.d.Work == nil {
		a.tell("work", "That cannot be done here.", "")
		return
	}
	if a.busy != "" {
		a.tell("work", "Still busy: "+a.busy+".", "Wait a moment.")
		return
	}
	a.busy, a.busyAt, a.then = what, a.now, then
	go func() {
		text, err := a.d.Work(j)
		a.done <- outcome{text, err}
	}()
}

// collect takes the results of finished work.
func (a *App) collect() {
	select {
	case o := <-a.done:
		a.busy = ""
		switch {
		case a.then != nil && a.then(o.err):
		case o.err != nil:
			a.tell("work", o.err.Error(), "")
		default:
			a.tell("work", o.text, "")
		}
	default:
	}
	kept := a.told[:0]
	for _, n := range a.told {
		if a.now-n.Since < toldFor {
			kept = append(kept, n)
		}
	}
	a.told = kept
}

// toldFor is the time for which the app's own notices stay, s.
const toldFor = 8

// tell puts up a notice of the app's own.
func (a *App) tell(key, text, to string) {
	n := runner.Notice{Key: key, Text: text, To: to, Since: a.now}
	for i := range a.told {
		if a.told[i].Key == key {
			a.told[i] = n
			return
		}
	}
	a.told = append(a.told, n)
}
