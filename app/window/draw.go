package window

import (
	"time"

	"github.com/hajimehoshi/ebiten/v2"

	"drillbay/app"
	"drillbay/app/paint"
)

// drawn remembers what is on the screen, so that the same is not drawn again.
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

// Draw draws the part of the view that is not on the screen already.
func (g *game) Draw(screen *ebiten.Image) {
	if g.view == nil || !g.stepped {
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
