package app

// byItself is a screen that came by itself: a lookback, its end, the list that
// the next player of a clinic ticks.
type byItself struct {
	from, to string
	at       float64 // s
	asked    float64 // s, when the user ended a lookback last: that is not by itself
}

// grace is the time, s, for which a key keeps the meaning it had before a screen came up by
// itself: nobody reads a screen and lets go of a key sooner (simple reactions take 0.2 s,
// choices about twice that: from memory).
const grace = 0.6

// noteChange notes that the screen was changed by none of the user's actions.
func (a *App) noteChange(was string) {
	now := a.top().name()
	switch {
	case now == was:
		return
	case now == "lookback" && a.d.Snapshot().Lookback.Stays, was == "lookback" && a.now-a.self.asked < 2*grace:
		a.self.from = ""
		return
	}
	a.self.from, a.self.to, a.self.at = was, now, a.now
}

// meant carries out a key for the screen before, when another came by itself a
// moment ago and the key would do something else on it.
func (a *App) meant(d Do) bool {
	if a.self.from == "" || a.top().name() != a.self.to || a.now-a.self.at > grace || a.now < a.self.at {
		return false
	}
	switch d {
	case Go, Back, PageOn, PageBack:
	default:
		return false // the same on all of them
	}
	p, ok := a.practised()
	switch {
	case !ok, a.self.from == "lookback" && a.self.to == "practice" && d == Back: // the end, on both
		return false
	case a.self.from == "practice":
		p.bare(a, d, 0)
	}
	a.self.from = "" // once: the next press is for what is seen
	return true      // it was to end what has ended by itself
}

// practised is the practice screen, on top or under the list of a player and the board.
func (a *App) practised() (*practiceScreen, bool) {
	for i := len(a.stack) - 1; i >= 0; i-- {
		switch s := a.stack[i].(type) {
		case *practiceScreen:
			return s, true
		case *checkScreen, *clinicScreen:
		default:
			return nil, false
		}
	}
	return nil, false
}
