// Package window is the game behind the window: raw input becomes actions, a
// view becomes pixels; it knows size and scale, closing and full screen.
package window

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"sync"
	"sync/atomic"

	"github.com/hajimehoshi/ebiten/v2"

	"drillbay/app"
	"drillbay/app/paint"
)

// Options holds what a window needs.
type Options struct {
	Title string
	App   *app.App
	// Now is the session's clock, s.
	Now func() float64
	// Wake asks for a redraw when something changed by itself; nil is fine.
	Wake          <-chan struct{}
	Width, Height int // of the window at first; 0: 1280 × 720
	FullScreen    bool
	// Press gives actions beside the user's, at each update; nil: none.
	Press func() []app.Action
	// Beside is called after a step, for another window; it returns how soon it is
	// to be called again, s, 0: not. nil: there is none.
	Beside func(now float64) float64
	// Gone is called when the window was destroyed from outside, or its display
	// is gone: the graphics library does not come back from that. It ends the
	// program.
	Gone func()
}

// Run opens the window and returns when it was closed, when the program left,
// or when ctx is done. It must be called from the main goroutine.
func Run(ctx context.Context, o Options) error {
	painter, err := paint.New(o.App.Letters())
	if err != nil {
		return err
	}
	if o.Width == 0 || o.Height == 0 {
		o.Width, o.Height = 1280, 720
	}
	if m := ebiten.Monitor(); m != nil {
		// A small screen gets a small window.
		if w, h := m.Size(); w > 0 && h > 0 {
			o.Width, o.Height = min(o.Width, w), min(o.Height, h)
		}
	}
	ebiten.SetWindowTitle(o.Title)
	ebiten.SetWindowSize(o.Width, o.Height)
	ebiten.SetWindowSizeLimits(640, 360, -1, -1)
	ebiten.SetWindowResizingMode(ebiten.WindowResizingModeEnabled)
	ebiten.SetWindowClosingHandled(true)
	ebiten.SetFullscreen(o.FullScreen)
	ebiten.SetRunnableOnUnfocused(true)
	ebiten.SetScreenClearedEveryFrame(false)
	// An update each time that the library looks at keys and pointer; the pace
	// is the program's own. Unlike with frames on demand, a tap that is over
	// before the library looks counts as down at that look.
	ebiten.SetTPS(ebiten.SyncWithFPS)
	g := newGame(ctx, o, painter)
	done := make(chan struct{})
	defer close(done)
	go g.wake(ctx, done)
	defer func() { g.unwatch() }()
	err = ebiten.RunGameWithOptions(g, &ebiten.RunGameOptions{SingleThread: true})
	if err != nil && !errors.Is(err, ebiten.Termination) {
		return fmt.Errorf("the window ended: %w", err)
	}
	return nil
}

// game is the ebiten.Game.
type game struct {
	ctx     context.Context
	o       Options
	painter *paint.Painter
	ruler   *app.Ruler
	keys    []binding
	taps    taps
	more    bool     // taps wait for the next update
	repeat  repeater // where taps are not heard
	letters []rune
	actions []app.Action
	pointer []app.Action // what the pointer did while keys before it wait
	sent    app.Action   // the size of the window
	told    app.Action   // the size told last
	x, y    int          // the pointer
	view    *app.View
	stepped bool // at this update
	pace    *pace
	drawn   drawn
	full    bool
	begun   bool
	gone    atomic.Bool // the window was destroyed
	// Held while the program steps: the end may come from another goroutine.
	stepping sync.Mutex
	unwatch  func()
	calm     atomic.Bool // what happens outside waits for the timer
	screen   string      // told in the title
	pasted   chan string
}

func newGame(ctx context.Context, o Options, p *paint.Painter) *game {
	list := bindings()
	g := &game{ctx: ctx, o: o, painter: p, ruler: app.NewRuler(o.App.Letters()), keys: list, repeat: repeater{make([]float64, len(list))}, pace: newPace(),
		full: o.FullScreen, pasted: make(chan string, 1), unwatch: func() {}}
	return g
}

// wake turns what happens outside into a frame.
func (g *game) wake(ctx context.Context, done chan struct{}) {
	for {
		select {
		case _, ok := <-g.o.Wake:
			if !ok {
				g.o.Wake = nil
				continue
			}
			if g.calm.Load() {
				continue
			}
		case <-ctx.Done():
			g.pace.hurry()
			return
		case <-done:
			return
		}
		g.pace.hurry()
	}
}

// Update takes the input and steps the program where there is something to do.
func (g *game) Update() error {
	now := g.o.Now()
	if g.ctx.Err() != nil || g.gone.Load() {
		g.leave()
		return ebiten.Termination
	}
	if !g.begun {
		g.begun = true
		g.look()
	}
	input := g.collect(now)
	if g.stepped = g.pace.next(input || g.view == nil, g.more); !g.stepped {
		return nil
	}
	g.stepping.Lock()
	g.view = g.o.App.Step(g.actions, g.o.Now())
	g.stepping.Unlock()
	if g.view.Quit {
		g.gone.Store(true) // by the user, not from outside
		return ebiten.Termination
	}
	if g.view.Screen != g.screen {
		// Who listens to the window hears where the user is.
		g.screen = g.view.Screen
		ebiten.SetWindowTitle(g.o.Title + ": " + g.screen)
	}
	if g.view.FullScreen != g.full {
		g.full = g.view.FullScreen
		ebiten.SetFullscreen(g.full)
	}
	again, calm := g.view.Again, g.view.Calm
	if g.o.Beside != nil {
		if in := g.o.Beside(g.o.Now()); in > 0 && (again == 0 || again > in) {
			again, calm = in, false
		}
	}
	if g.repeat.holds(g.keys) && (again == 0 || again > repeatEvery/2) {
		again = repeatEvery / 2
	}
	g.calm.Store(calm && again > 0)
	g.pace.again(again)
	return nil
}

// look begins to look at the window from beside the graphics library.
func (g *game) look() {
	lost := func() {
		if g.o.Gone != nil && !g.gone.Swap(true) {
			g.leave()
			g.o.Gone()
		}
	}
	outlive(lost)
	d := display{press: g.pressed, gone: lost}
	if end := d.watch(); end != nil {
		g.unwatch = end
		g.taps.listen()
	}
}

// pressed takes a press of a key that acts or types.
func (g *game) pressed(key int, repeat bool) {
	acts := slices.ContainsFunc(g.keys, func(b binding) bool { return b.code == key })
	if acts || types(key) {
		g.taps.note(tap{key, repeat, !acts})
		g.pace.hurry()
	}
}

// leave keeps what somebody is in the middle of.
func (g *game) leave() {
	g.stepping.Lock()
	defer g.stepping.Unlock()
	g.o.App.Step([]app.Action{{Kind: app.Close}}, g.o.Now()).Release()
}

// Layout is for games without LayoutF.
func (g *game) Layout(w, h int) (int, int) { return w, h }

// LayoutF makes a pixel of the view a pixel of the screen.
func (g *game) LayoutF(w, h float64) (float64, float64) {
	w, h, diagonal := pixelsOf(w, h)
	g.sent = app.Action{Kind: app.Size, X: w, Y: h, N: int(math.Round(diagonal))}
	return w, h
}
