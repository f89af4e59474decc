package window

import (
	"errors"
	"fmt"
	"io"
	"math"
	"sync"

	"github.com/hajimehoshi/ebiten/v2"
	"github.com/hajimehoshi/ebiten/v2/inpututil"

	"drillbay/app"
	"drillbay/app/beside"
	"drillbay/app/letters"
	"drillbay/app/paint"
)

// Beside is the window of a second process: it shows the views that come through
// in, and tells through out how large it is. Where there are two screens it fills one
// that is not called away. It takes no keys but F11. It returns when it is closed or when
// the first process ended. It must be called from the main goroutine.
func Beside(title, away string, in io.Reader, out io.Writer, others *letters.Finder) error {
	painter, err := paint.New(others)
	if err != nil {
		return err
	}
	ebiten.SetWindowTitle(title)
	ebiten.SetWindowSize(1280, 720)
	ebiten.SetWindowSizeLimits(640, 360, -1, -1)
	ebiten.SetWindowResizingMode(ebiten.WindowResizingModeEnabled)
	ebiten.SetRunnableOnUnfocused(true)
	ebiten.SetTPS(30)
	all := ebiten.AppendMonitors(nil)
	names := make([]string, len(all))
	for i, m := range all {
		names[i] = m.Name()
	}
	if i := otherScreen(names, away); i >= 0 {
		ebiten.SetMonitor(all[i])
		ebiten.SetFullscreen(true)
	}
	b := &besideWindow{painter: painter, out: out}
	go b.receive(beside.NewReceiver(in))
	err = ebiten.RunGameWithOptions(b, &ebiten.RunGameOptions{InitUnfocused: true})
	if err != nil && !errors.Is(err, ebiten.Termination) {
		return fmt.Errorf("the second window ended: %w", err)
	}
	return nil
}

// Screen names the screen that the window is on, "" where that is not known.
func Screen() string {
	if m := ebiten.Monitor(); m != nil {
		return m.Name()
	}
	return ""
}

// otherScreen is a screen that is not called away, less than 0 where there is one only;
// the first one is the system's main one, and comes last. Screens of one name cannot be
// told apart: then it is the second.
func otherScreen(names []string, away string) int {
	if len(names) < 2 {
		return -1
	}
	for i := 1; i < len(names); i++ {
		if names[i] != away {
			return i
		}
	}
	if names[0] != away {
		return 0
	}
	return 1
}

// besideWindow is its ebiten.Game.
type besideWindow struct {
	painter *paint.Painter
	out     io.Writer
	told    beside.Size

	mu    sync.Mutex
	next  *app.View // the newest
	ended bool
	view  *app.View // what is drawn
}

// receive takes views until there are no more.
func (b *besideWindow) receive(r *beside.Receiver) {
	for {
		v, err := r.Receive()
		b.mu.Lock()
		if err != nil {
			b.ended = true
			b.mu.Unlock()
			return
		}
		if b.next != nil {
			b.next.Release()
		}
		b.next = v
		b.mu.Unlock()
	}
}

// Update takes the newest view.
func (b *besideWindow) Update() error {
	if inpututil.IsKeyJustPressed(ebiten.KeyF11) {
		ebiten.SetFullscreen(!ebiten.IsFullscreen())
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.next != nil {
		if b.view != nil {
			b.view.Release()
		}
		b.view, b.next = b.next, nil
	}
	if b.ended {
		return ebiten.Termination
	}
	return nil
}

// Draw draws it.
func (b *besideWindow) Draw(screen *ebiten.Image) {
	if b.view != nil {
		b.painter.Draw(screen, b.view)
	}
}

// Layout is for games without LayoutF.
func (b *besideWindow) Layout(w, h int) (int, int) { return w, h }

// LayoutF makes a pixel of the view a pixel of the screen, and tells its size.
func (b *besideWindow) LayoutF(w, h float64) (float64, float64) {
	w, h, diagonal := pixelsOf(w, h)
	if s := (beside.Size{Width: w, Height: h, Diagonal: diagonal}); s != b.told {
		b.told = s
		fmt.Fprintln(b.out, s.Width, s.Height, s.Diagonal) //nolint:errcheck // the first process may have ended
	}
	return w, h
}

// pixelsOf are a window's size and its screen's diagonal, px.
func pixelsOf(w, h float64) (width, height, diagonal float64) {
	scale := 1.0
	if m := ebiten.Monitor(); m != nil {
		scale = m.DeviceScaleFactor()
		mw, mh := m.Size()
		diagonal = math.Hypot(float64(mw), float64(mh)) * scale
	}
	width, height = math.Round(w*scale), math.Round(h*scale)
	if diagonal == 0 {
		diagonal = math.Hypot(width, height)
	}
	return width, height, diagonal
}
