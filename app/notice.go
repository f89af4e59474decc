package app

import (
	"math"

	"drillbay/drills/runner"
)

// lines are the notices to show: those of the session, then the app's own.
func (a *App) lines() (out []runner.Notice) {
	if a.busy != "" && a.now-a.busyAt > 0.5 {
		out = append(out, runner.Notice{Text: a.busy + ".", To: "This takes a moment; all else goes on."})
	}
	out = append(out, a.d.Snapshot().Notices...)
	return append(out, a.told...)
}

func (c *canvas) noticeHeight() float64 { return math.Round(c.body * 1.7) }

// notices draws the lines that tell what happened and what to do: inverted,
// under the head, the newest last.
func (a *App) notices(c *canvas, lines []runner.Notice) {
	y, tall := c.thinHead(), c.noticeHeight()
	for _, n := range lines {
		c.fill(Rect{0, y, c.Width, tall}, Ink, 0)
		base := y + math.Round(tall/2+c.body*CapHeight/2)
		text := c.ruler.Cut(n.Text, c.body, Bold, c.Width-2*c.margin)
		x := c.text(c.margin, base, text, c.body, Bold, Page) + math.Round(c.body*0.6)
		c.text(x, base, c.ruler.Cut(n.To, c.body, Regular, c.Width-c.margin-x), c.body, Regular, Page)
		y += tall
	}
	if len(a.told) > 0 || a.busy != "" {
		c.again(0.5)
	}
}

// again asks for another step within a time, s.
func (c *canvas) again(within float64) {
	if c.Again == 0 || within < c.Again {
		c.Again = within
	}
}
