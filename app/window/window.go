// Package window is the game behind the window: raw input becomes actions, a
// view becomes pixels; it knows size and scale, closing and full screen.
package window

//lint:file-ignore SA1019 frames on demand have no other way: an idle form must cost nothing

import (
	"context"
	"errors"
	"fmt"
	"math"
	"sync"
	"sync/atomic"
	"time"

	"github.com/hajimehoshi/ebiten/v2"
	"github.com/hajimehoshi/ebiten/v2/inpututil"

	"drillbay/app"
	"drillbay/app/paint"
)

// Options are what a window needs.
type Options struct {
	Title string
	App   *app.App
	// Now is the session's clock, s.
	Now func() float64
	// Wake asks for a redraw when something changed by itself; nil is fine.
	Wake          <-chan struct{}
	Width, Height int // of the window at first; 0: 1280 × 720
	FullScreen    bool
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
	// An update only when there is something to do: an idle form costs
	// nothing, and a key tap is an event that cannot fall between ticks.
	ebiten.SetTPS(ebiten.SyncWithFPS)
	ebiten.SetFPSMode(ebiten.FPSModeVsyncOffMinimum)
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
	clicks  clicks
	more    bool     // taps or clicks wait for the next update
	repeat  repeater // where taps are not heard
	letters []rune
	actions []app.Action
	sent    app.Action // the size told last
	x, y    int        // the pointer
	view    *app.View
	timer   *time.Timer
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

// soon is the shortest time until the next update, s.
const soon = 0.004

// drawn is what is on the screen, to leave out drawing it again.
type drawn struct {
	items    []app.Item
	pictures [app.Slots]stamp
	theme    string
	w, h     int
	letters  int64 // fonts were found
}

type stamp struct {
	at    time.Duration
	index int64
}

func newGame(ctx context.Context, o Options, p *paint.Painter) *game {
	list := bindings()
	g := &game{ctx: ctx, o: o, painter: p, ruler: app.NewRuler(o.App.Letters()), keys: list, repeat: repeater{make([]float64, len(list))}, full: o.FullScreen, pasted: make(chan string, 1), unwatch: func() {}}
	g.timer = time.AfterFunc(time.Millisecond, ebiten.ScheduleFrame)
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
			ebiten.ScheduleFrame()
			return
		case <-done:
			return
		}
		ebiten.ScheduleFrame()
	}
}

// Update takes the input, steps the program and asks for the next frame.
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
	g.collect(now)
	g.stepping.Lock()
	g.view = g.o.App.Step(g.actions, now)
	g.stepping.Unlock()
	if g.view.Quit {
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
	again := g.view.Again
	if g.more {
		again = soon
	}
	if g.repeat.holds(g.keys) && (again == 0 || again > repeatEvery/2) {
		again = repeatEvery / 2
	}
	if inpututil.IsMouseButtonJustPressed(ebiten.MouseButtonLeft) {
		again = soon // it may be over already
	}
	g.calm.Store(g.view.Calm && again > 0)
	if again > 0 {
		g.timer.Reset(time.Duration(max(again, soon) * float64(time.Second)))
	}
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
	// The graphics library waits for events of the window, of which there are
	// none any more once it is destroyed: its loop is not come back to.
	d := display{press: func(key int, repeat bool) { g.taps.note(key, repeat); ebiten.ScheduleFrame() }, gone: lost}
	if end := d.watch(); end != nil {
		g.unwatch = end
		g.taps.listen()
	}
}

// leave keeps what somebody is in the middle of.
func (g *game) leave() {
	g.stepping.Lock()
	defer g.stepping.Unlock()
	g.o.App.Step([]app.Action{{Kind: app.Close}}, g.o.Now()).Release()
}

// collect turns raw input into actions.
func (g *game) collect(now float64) {
	g.actions = g.actions[:0]
	if g.sent.X > 0 {
		g.actions = append(g.actions, g.sent)
	}
	if ebiten.IsWindowBeingClosed() {
		g.actions = append(g.actions, app.Action{Kind: app.Close})
	}
	g.letters = ebiten.AppendInputChars(g.letters[:0])
	if len(g.letters) > 0 {
		g.actions = append(g.actions, app.Action{Kind: app.Typed, Text: string(g.letters)})
	}
	var due []tap
	due, g.more = g.taps.next()
	for _, tap := range due {
		for _, b := range g.keys {
			if b.code == tap.key && (b.repeats || !tap.repeat) {
				g.actions = append(g.actions, app.Action{Kind: app.Key, Do: b.do})
			}
		}
	}
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
		g.actions = append(g.actions, at)
	}
	if x != g.x || y != g.y {
		g.x, g.y = x, y
		put(app.Move)
	}
	if inpututil.IsMouseButtonJustPressed(ebiten.MouseButtonLeft) {
		g.clicks.see(app.Action{Kind: app.Press, X: at.X, Y: at.Y}, now)
	}
	if inpututil.IsMouseButtonJustReleased(ebiten.MouseButtonLeft) {
		g.clicks.see(app.Action{Kind: app.Let, X: at.X, Y: at.Y}, now)
	}
	var wait bool
	g.actions, wait = g.clicks.take(g.actions, now)
	g.more = g.more || wait
	if _, wheel := ebiten.Wheel(); wheel != 0 {
		rows := int(math.Round(wheel))
		if rows == 0 {
			rows = int(math.Copysign(1, wheel))
		}
		g.actions = append(g.actions, app.Action{Kind: app.Roll, N: rows})
	}
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
				ebiten.ScheduleFrame()
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

// Draw draws the part of the view that is not on the screen already.
func (g *game) Draw(screen *ebiten.Image) {
	if g.view == nil {
		return
	}
	b := screen.Bounds()
	now := drawn{items: g.view.Items, theme: g.view.Theme, w: b.Dx(), h: b.Dy(), letters: g.o.App.Letters().Grown()}
	var fresh [app.Slots]bool
	for i, p := range g.view.Pictures {
		if p != nil {
			now.pictures[i] = stamp{p.At, p.Index}
		}
		fresh[i] = now.pictures[i] != g.drawn.pictures[i]
	}
	if now.w != g.drawn.w || now.h != g.drawn.h || now.theme != g.drawn.theme || now.letters != g.drawn.letters {
		g.painter.Draw(screen, g.view)
	} else {
		part, _ := paint.Change(g.ruler, g.drawn.items, now.items)
		g.painter.Part(screen, g.view, part.Union(paint.Touches(g.ruler, now.items, fresh)))
	}
	now.items = append(g.drawn.items[:0], now.items...)
	g.drawn = now
}

// DrawFinalScreen copies what was drawn to the window; it is opaque, so
// nothing need be blended.
func (g *game) DrawFinalScreen(screen ebiten.FinalScreen, offscreen *ebiten.Image, m ebiten.GeoM) {
	screen.DrawImage(offscreen, &ebiten.DrawImageOptions{GeoM: m, Blend: ebiten.BlendCopy})
}

// Layout is for games without LayoutF.
func (g *game) Layout(w, h int) (int, int) { return w, h }

// LayoutF makes a pixel of the view a pixel of the screen.
func (g *game) LayoutF(w, h float64) (float64, float64) {
	scale, diagonal := 1.0, 0.0
	if m := ebiten.Monitor(); m != nil {
		scale = m.DeviceScaleFactor()
		mw, mh := m.Size()
		diagonal = math.Hypot(float64(mw), float64(mh)) * scale
	}
	w, h = math.Round(w*scale), math.Round(h*scale)
	if diagonal == 0 {
		diagonal = math.Hypot(w, h)
	}
	g.sent = app.Action{Kind: app.Size, X: w, Y: h, N: int(math.Round(diagonal))}
	return w, h
}
