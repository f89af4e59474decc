package window

import (
	"sync"

	"drillbay/app"
)

// clicks are presses of the pointer's first button and their ends. As with keys,
// the graphics library asks at an update whether it is down: where the window
// system tells of each, with its place, these count, and what the library saw
// counts where that is silent (a touch).
type clicks struct {
	mu    sync.Mutex
	heard bool         // the window system is looked at
	told  []app.Action // Press or Let, since the last update

	last   float64 // when it told one last, s
	polled []polled
}

// polled is what the graphics library saw, and when, s.
type polled struct {
	app.Action
	at float64
}

// What the library saw waits for patience, s, whether the window system tells of
// it as well: it may have up to apart, s, before.
const (
	patience = 0.06
	apart    = 0.25
)

// listen begins.
func (c *clicks) listen() {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.heard, c.last = true, -apart
}

// note is told each press and each end of one, px of the window.
func (c *clicks) note(down bool, x, y int) {
	kind := app.Let
	if down {
		kind = app.Press
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	c.told = append(c.told, app.Action{Kind: kind, X: float64(x), Y: float64(y)})
}

// see is told what the library saw.
func (c *clicks) see(a app.Action, now float64) { c.polled = append(c.polled, polled{a, now}) }

// take appends what acts now; more says that something waits.
func (c *clicks) take(out []app.Action, now float64) (_ []app.Action, more bool) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if len(c.told) > 0 {
		c.last = now
		out = append(out, c.told...)
		c.told = c.told[:0]
	}
	kept := c.polled[:0]
	for _, p := range c.polled {
		switch {
		case c.heard && c.last >= p.at-apart: // told as well
		case c.heard && now < p.at+patience:
			kept = append(kept, p)
		default:
			out = append(out, p.Action)
		}
	}
	c.polled = kept
	return out, len(kept) > 0
}
