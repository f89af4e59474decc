package app

import "math"

// notices draws the lines that tell what happened and what to do: inverted,
// under the head, the newest last.
func (a *App) notices(c *canvas) {
	y := c.headHeight()
	line := math.Round(c.body * 1.7)
	put := func(text, to string) {
		c.fill(Rect{0, y, c.Width, line}, Ink, 0)
		base := y + math.Round(line/2+c.body*CapHeight/2)
		text = c.ruler.Cut(text, c.body, Bold, c.Width-2*c.margin)
		x := c.text(c.margin, base, text, c.body, Bold, Page) + math.Round(c.body*0.6)
		c.text(x, base, c.ruler.Cut(to, c.body, Regular, c.Width-c.margin-x), c.body, Regular, Page)
		y += line
	}
	if a.busy != "" && a.now-a.busyAt > 0.5 {
		put(a.busy, "This takes a moment; all else goes on.")
	}
	for _, n := range a.d.Snapshot().Notices {
		put(n.Text, n.To)
	}
	for _, n := range a.told {
		put(n.Text, n.To)
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
