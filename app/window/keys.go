package window

import (
	"github.com/hajimehoshi/ebiten/v2"

	"drillbay/app"
)

// binding is a key that is no letter. Letters come as typed text, as the
// user's keyboard gives them.
type binding struct {
	key     ebiten.Key
	code    int // a keysym (X11, keysymdef.h)
	do      app.Do
	repeats bool
}

// bindings are the keys of keyboard and clicker; a presenter's clicker sends
// page up and page down, F5 and a period.
func bindings() []binding {
	return []binding{
		{ebiten.KeyEnter, 0xff0d, app.Go, false}, {ebiten.KeyNumpadEnter, 0xff8d, app.Go, false},
		{ebiten.KeyEscape, 0xff1b, app.Back, false}, {ebiten.KeyF11, 0xffc8, app.FullScreen, false}, {ebiten.KeyF9, 0xffc6, app.Second, false},
		{ebiten.KeyPageDown, 0xff56, app.PageOn, false}, {ebiten.KeyPageUp, 0xff55, app.PageBack, false}, {ebiten.KeyF5, 0xffc2, app.PageOn, false},
		{ebiten.KeyTab, 0xff09, app.Next, false},
		{ebiten.KeyArrowLeft, 0xff51, app.Left, true}, {ebiten.KeyArrowRight, 0xff53, app.Right, true},
		{ebiten.KeyArrowUp, 0xff52, app.Up, true}, {ebiten.KeyArrowDown, 0xff54, app.Down, true},
		{ebiten.KeyBackspace, 0xff08, app.Erase, true}, {ebiten.KeyDelete, 0xffff, app.EraseOn, true},
		{ebiten.KeyHome, 0xff50, app.Home, false}, {ebiten.KeyEnd, 0xff57, app.End, false},
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
