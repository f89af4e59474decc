package app

// stored is something that was given to be stored, and what follows its answer.
type stored struct {
	answer chan error
	then   func(error)
	since  float64
}

// store has something stored off the window's goroutine, in the order in which
// it was asked for; then follows on it, once it answered.
func (a *App) store(put func() error, then func(error)) {
	s := stored{make(chan error, 1), then, a.now}
	a.d.Later(func() { s.answer <- put() })
	a.storing = append(a.storing, s)
	a.settle()
}

// settle goes on with what was stored.
func (a *App) settle() {
	for len(a.storing) > 0 {
		select {
		case err := <-a.storing[0].answer:
			then := a.storing[0].then
			a.storing = a.storing[1:]
			then(err)
		default:
			return
		}
	}
}

// waits reports whether something is still being stored: what depends on that is not asked
// for again until then.
func (a *App) waits() bool { return len(a.storing) > 0 }

// diskSlow is the time that storing may take before the screen says that the disk is slow,
// s.
const diskSlow = 1

// on reports whether a screen is the one that is shown.
func (a *App) on(s screen) bool { return a.top() == s }
