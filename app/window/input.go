package window

import (
	"math"

	"github.com/hajimehoshi/ebiten/v2"
	"github.com/hajimehoshi/ebiten/v2/inpututil"

	"drillbay/app"
)

// collect turns raw input into actions, and reports whether there is any.
func (g *game) collect(now float64) bool {
	g.actions = g.actions[:0]
	if g.sent.X > 0 {
		g.actions = append(g.actions, g.sent)
	}
	resized := g.sent != g.told
	g.told = g.sent
	size := len(g.actions)
	if g.view == nil && g.o.FullScreen { // the program begins in a window
		g.actions = append(g.actions, app.Action{Kind: app.Key, Do: app.FullScreen})
	}
	if ebiten.IsWindowBeingClosed() {
		g.actions = append(g.actions, app.Action{Kind: app.Close})
	}
	g.letters = ebiten.AppendInputChars(g.letters[:0])
	var due []press
	due, g.more = g.taps.next(g.letters)
	g.actions = inOrder(g.actions, due, g.keys)
	for i, b := range g.keys {
		if !g.taps.hears() && g.repeat.acts(i, ebiten.IsKeyPressed(b.key), b.repeats, now) {
			g.actions = append(g.actions, app.Action{Kind: app.Key, Do: b.do})
		}
	}
	g.paste()
	x, y := ebiten.CursorPosition()
	at := app.Action{X: float64(x), Y: float64(y)}
	put := func(k app.Kind) {
		at.Kind = k
		g.pointer = append(g.pointer, at)
	}
	if x != g.x || y != g.y {
		g.x, g.y = x, y
		put(app.Move)
	}
	if inpututil.IsMouseButtonJustPressed(ebiten.MouseButtonLeft) {
		put(app.Press)
	}
	if inpututil.IsMouseButtonJustReleased(ebiten.MouseButtonLeft) {
		put(app.Let)
	}
	if _, wheel := ebiten.Wheel(); wheel != 0 {
		rows := int(math.Round(wheel))
		if rows == 0 {
			rows = int(math.Copysign(1, wheel))
		}
		g.pointer = append(g.pointer, app.Action{Kind: app.Roll, N: rows})
	}
	g.actions, g.pointer = afterKeys(g.actions, g.pointer, g.more)
	if g.o.Press != nil {
		g.actions = append(g.actions, g.o.Press()...)
	}
	return resized || len(g.actions) > size
}

// afterKeys adds what the pointer did, and keeps it where letters or keys that
// were pressed before it wait for the next update: a click acts after them.
func afterKeys(actions, pointer []app.Action, waiting bool) (all, kept []app.Action) {
	if waiting {
		return actions, pointer
	}
	return append(actions, pointer...), pointer[:0]
}

// inOrder adds the actions of some presses; letters that follow each other become one
// action.
func inOrder(actions []app.Action, due []press, keys []binding) []app.Action {
	typed := ""
	end := func() {
		if typed != "" {
			actions = append(actions, app.Action{Kind: app.Typed, Text: typed})
			typed = ""
		}
	}
	for _, x := range due {
		if x.letter {
			typed += string(x.typed)
			continue
		}
		end()
		for _, b := range keys {
			if b.code == x.key && (b.repeats || !x.repeat) {
				actions = append(actions, app.Action{Kind: app.Key, Do: b.do})
			}
		}
	}
	end()
	return actions
}

// paste takes what was copied elsewhere, or dropped here, as typed text. The
// clipboard is asked on a goroutine of its own: it may take a moment.
func (g *game) paste() {
	control := ebiten.IsKeyPressed(ebiten.KeyControl) || ebiten.IsKeyPressed(ebiten.KeyMeta)
	if control && inpututil.IsKeyJustPressed(ebiten.KeyV) {
		go func() {
			s := clipboard(g.ctx)
			select {
			case g.pasted <- s:
				g.pace.hurry()
			default:
			}
		}()
	}
	put := func(s string) {
		if s != "" {
			g.actions = append(g.actions, app.Action{Kind: app.Pasted, Text: s})
		}
	}
	select {
	case s := <-g.pasted:
		put(s)
	default:
	}
	if files := ebiten.DroppedFiles(); files != nil {
		put(dropped(files))
	}
}
