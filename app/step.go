package app

import "drillbay/drills"

// take resolves one raw input.
func (a *App) take(x Action) {
	s := a.top()
	switch x.Kind {
	case Size:
		if x.X >= 1 && x.Y >= 1 {
			a.view.Width, a.view.Height, a.diag = x.X, x.Y, max(float64(x.N), 1)
		}
	case Close:
		a.leave()
		a.view.Quit = true
	case Typed:
		if t, ok := s.(typer); ok && t.typing() {
			t.typed(a, x.Text)
			return
		}
		for _, r := range x.Text {
			if d, n := doOf(r); d != Nothing && bound(s.name(), false, d, n) {
				a.do(d, n)
			}
			s = a.top()
		}
	case Pasted:
		if t, ok := s.(typer); ok && t.typing() {
			t.typed(a, x.Text)
		}
	case Key:
		t, ok := s.(typer)
		if bound(s.name(), ok && t.typing(), x.Do, x.N) {
			a.do(x.Do, x.N)
		}
	case Roll:
		for range min(max(x.N, -x.N), 20) {
			if x.N > 0 {
				a.do(Up, 0)
			} else {
				a.do(Down, 0)
			}
		}
	case Press, Move, Let:
		a.pointAt(x)
	}
}

// pointAt gives the pointer to the screen, or to what can be pressed.
func (a *App) pointAt(x Action) {
	if p, ok := a.top().(pointer); ok && p.point(a, x.Kind, x.X, x.Y) {
		return
	}
	hit := -1
	for i := len(a.view.Hits) - 1; i >= 0; i-- {
		if a.view.Hits[i].Holds(x.X, x.Y) {
			hit = i
			break
		}
	}
	switch x.Kind {
	case Press:
		a.press.Down(hit)
	case Let:
		if a.press.Up(hit) {
			h := a.view.Hits[hit]
			a.do(h.Do, h.N)
		}
	}
}

// do carries out a named action: what means the same everywhere here, the
// rest on the screen.
func (a *App) do(d Do, n int) {
	t, ok := a.top().(typer)
	typing := ok && t.typing()
	if d != Tell {
		a.asked = "" // who goes on has read it
	}
	switch {
	case d == FullScreen:
		a.view.FullScreen = !a.view.FullScreen
	case d == Second:
		a.second()
	case d == Keys && !typing:
		if _, open := a.top().(*keysScreen); open {
			a.back()
			return
		}
		a.open(&keysScreen{of: a.top().name()})
	case d == Tell:
		a.askNotice(n)
	case a.meant(d):
	default:
		a.top().act(a, d, n)
	}
}

// follow keeps the screens in step with the session.
func (a *App) follow() {
	for _, s := range a.stack {
		if p, ok := s.(*practiceScreen); ok {
			p.follow(a)
		}
	}
	a.turn()
	if a.plan != nil {
		a.plan.follow(a)
	}
}

// leave stores what somebody is in the middle of.
func (a *App) leave() {
	for _, s := range a.stack {
		if p, ok := s.(*practiceScreen); ok {
			p.look.leave(a)
		}
	}
}

// second opens a window of its own for what the mat sees.
func (a *App) second() {
	if a.d.Second == nil {
		a.tell("second", "There is no second window here.", "C goes between the clinic's board and what the mat sees.")
		return
	}
	text, err := a.d.Second()
	if err != nil {
		text = drills.Sentence(err.Error())
	}
	a.tell("second", text, "")
}
