package window

import (
	"github.com/hajimehoshi/ebiten/v2"

	"drillbay/app"
)

// binding is a key that is no letter. Letters come as typed text, as the
// user's keyboard gives them.
type binding struct {
	key     ebiten.Key
	do      app.Do
	repeats bool
}

// bindings are the keys of keyboard and clicker; a presenter's clicker sends
// page up and page down, F5 and a period.
func bindings() []binding {
	return []binding{
		{ebiten.KeyEnter, app.Go, false}, {ebiten.KeyNumpadEnter, app.Go, false},
		{ebiten.KeyEscape, app.Back, false}, {ebiten.KeyF11, app.FullScreen, false},
		{ebiten.KeyPageDown, app.PageOn, false}, {ebiten.KeyPageUp, app.PageBack, false}, {ebiten.KeyF5, app.PageOn, false},
		{ebiten.KeyTab, app.Next, false},
		{ebiten.KeyArrowLeft, app.Left, true}, {ebiten.KeyArrowRight, app.Right, true},
		{ebiten.KeyArrowUp, app.Up, true}, {ebiten.KeyArrowDown, app.Down, true},
		{ebiten.KeyBackspace, app.Erase, true}, {ebiten.KeyDelete, app.EraseOn, true},
		{ebiten.KeyHome, app.Home, false}, {ebiten.KeyEnd, app.End, false},
	}
}

const (
	repeatAfter = 0.4  // s a key is held until it repeats
	repeatEvery = 0.05 // s
)

// repeater says when a held key acts again. Ebiten gives no repeats.
type repeater struct {
	next []float64 // s, a key each; 0: not held
}

// acts reports whether the i-th key acts now.
func (r *repeater) acts(i int, down, repeats bool, now float64) bool {
	switch {
	case !down:
		r.next[i] = 0
		return false
	case r.next[i] == 0:
		r.next[i] = now + repeatAfter
		return true
	case repeats && now >= r.next[i]:
		r.next[i] = now + repeatEvery
		return true
	}
	return false
}

// holds reports whether a key is down that will repeat.
func (r *repeater) holds(list []binding) bool {
	for i, b := range list {
		if b.repeats && r.next[i] > 0 {
			return true
		}
	}
	return false
}
