package app

import (
	"math"

	"drillbay/drills/runner"
)

// lines are the notices to show: those of the session, then the app's own.
func (a *App) lines() (out []runner.Notice) {
	if a.busy != "" && a.now-a.busyAt > 0.5 {
		out = append(out, runner.Notice{Text: a.busy + ".", To: "This takes a moment. You can carry on."})
	}
	if a.waits() && a.now-a.storing[0].since > diskSlow {
		out = append(out, runner.Notice{Text: "The disk is slow.", To: "Nothing is lost: it is saved as soon as the disk answers."})
	}
	for _, n := range a.d.Snapshot().Notices {
		if lasting(n) == "" || befell(n) && a.now-n.Since < tellFor {
			out = append(out, n)
		}
	}
	return append(out, a.told...)
}

// tellFor is the time for which the sentence of a lasting condition is shown, s: when
// somebody asks for it, and of what befell while it was in use when it begins.
const tellFor = 8.0

// lasting is the mark of a condition that lasts, "" for what passes or must be
// seen to: its sentence is shown on demand.
func lasting(n runner.Notice) string {
	return map[string]string{"virtual": "virtual bay", "sound": "no sound", "sound lost": "no sound", "ear": "no microphone", "rate": "slow camera", "other view": "one view", "first view": "other view"}[n.Key]
}

// befell reports whether something that was in use has just gone, a loudspeaker, a
// microphone or a camera: that is told when it begins, too.
func befell(n runner.Notice) bool {
	return n.Key == "sound lost" || n.Key == "ear" || n.Key == "other view" || n.Key == "first view"
}

// conditions are what lasts, in the order of their marks.
func (a *App) conditions() (out []runner.Notice) {
	for _, n := range a.d.Snapshot().Notices {
		if lasting(n) != "" {
			out = append(out, n)
		}
	}
	return out
}

// askNotice shows the sentence of a lasting condition, and takes it away when it is there.
func (a *App) askNotice(n int) {
	if all := a.conditions(); n >= 0 && n < len(all) {
		if a.asking(all[n]) {
			a.asked = ""
			return
		}
		a.asked, a.askedAt = all[n].Key, a.now
	}
}

// asking reports whether the sentence of a lasting condition is shown on demand.
func (a *App) asking(n runner.Notice) bool { return n.Key == a.asked && a.now-a.askedAt < tellFor }

// answer shows the sentence that was asked for under its mark. It moves nothing.
func (a *App) answer(c *canvas) {
	for i, n := range a.conditions() {
		if !a.asking(n) || i >= len(c.markAt) {
			continue
		}
		at, pad, room := c.markAt[i], math.Round(c.body*0.7), c.Width-2*c.margin
		lines := c.ruler.Wrap(n.Text, c.body, Bold, room-2*pad)
		bold := len(lines)
		if n.To != "" {
			lines = append(lines, c.ruler.Wrap(n.To, c.body, Regular, room-2*pad)...)
		}
		weight := func(k int) Weight {
			if k < bold {
				return Bold
			}
			return Regular
		}
		wide := 0.0
		for k, line := range lines {
			wide = max(wide, c.ruler.Width(line, c.body, weight(k)))
		}
		tall := math.Round(c.body * 1.35)
		r := Rect{at.X, at.Bottom() + c.px(6), math.Ceil(wide) + 2*pad, tall*float64(len(lines)) + pad}
		r.X = max(c.margin, min(r.X, c.Width-c.margin-r.W))
		c.fill(r.Inset(-max(1, c.px(2))), Page, math.Round(4*max(c.k, 1)))
		c.fill(r, Ink, math.Round(4*max(c.k, 1)))
		for k, line := range lines {
			y := r.Y + math.Round(pad/2+tall*(float64(k)+0.5)+c.body*CapHeight/2)
			c.text(r.X+pad, y, line, c.body, weight(k), Page)
		}
		c.press(r, Tell, i)
		c.again(0.5)
	}
}

// marks draws the marks of what lasts from x on, and returns where they end.
func (c *canvas) marks(x, base float64) float64 {
	for i, word := range c.lasting {
		w := c.ruler.Width(word, c.small, Medium) + c.small
		r := Rect{math.Round(x), math.Round(base - c.small*1.15), math.Round(w), math.Round(c.small * 1.5)}
		c.frame(r, Quiet, max(1, c.px(1)), math.Round(4*max(c.k, 1)))
		c.middle(r.X+r.W/2, base, word, c.small, Medium, Quiet)
		c.press(r, Tell, i)
		c.markAt = append(c.markAt, r)
		x = r.Right() + c.px(12)
	}
	return x
}

// marksWidth returns the width that marks needs.
func (c *canvas) marksWidth() (w float64) {
	for _, word := range c.lasting {
		w += c.ruler.Width(word, c.small, Medium) + c.small + c.px(12)
	}
	return w
}

func (c *canvas) noticeHeight() float64 { return math.Round(c.body * 1.7) }

// keeper is a screen that keeps a place for notices: they come and go, and
// nothing moves.
type keeper interface {
	place(c *canvas) Rect
}

// stripHeight is the height of a place kept for notices.
func (c *canvas) stripHeight() float64 { return math.Round(c.small * 2.2) }

// strip tells the lines in a place kept for them: one in the usual size, two
// below each other, more in columns.
func (c *canvas) strip(r Rect, lines []runner.Notice) {
	if len(lines) == 0 {
		return
	}
	if c.free > 0 {
		r.W = c.free
	}
	c.fill(r, Ink, 0)
	size, rows := c.body, min(len(lines), 2)
	if rows == 2 {
		size = c.small
	}
	columns := (len(lines) + rows - 1) / rows
	wide := (r.W - 2*c.margin - float64(columns-1)*c.margin) / float64(columns)
	tall := math.Round(size * 1.1)
	if full := noticeWidth(c, lines[0], size); rows == 1 && full > wide {
		size = c.small
	}
	for i, n := range lines {
		x := r.X + c.margin + float64(i/rows)*(wide+c.margin)
		base := r.Y + math.Round(r.H/2+size*CapHeight/2+(float64(i%rows)-float64(rows-1)/2)*tall)
		c.notice(x, base, x+wide, n, size, Page)
	}
}

func noticeWidth(c *canvas, n runner.Notice, size float64) float64 {
	return c.ruler.Width(n.Text, size, Bold) + math.Round(size*0.6) + c.ruler.Width(n.To, size, Regular)
}

// notice writes what happened and what to do.
func (c *canvas) notice(x, base, right float64, n runner.Notice, size float64, words Role) {
	x = c.text(x, base, c.ruler.Cut(n.Text, size, Bold, right-x), size, Bold, words) + math.Round(size*0.6)
	c.text(x, base, c.ruler.Cut(n.To, size, Regular, right-x), size, Regular, words)
}

// notices draws the lines that tell what happened and what to do: inverted,
// under the head, the newest last.
func (a *App) notices(c *canvas, lines []runner.Notice) {
	y, tall := c.thinHead(), c.noticeHeight()
	for _, n := range lines {
		c.fill(Rect{0, y, c.Width, tall}, Ink, 0)
		c.notice(c.margin, y+math.Round(tall/2+c.body*CapHeight/2), c.Width-c.margin, n, c.body, Page)
		y += tall
	}
}

// again asks for another step within a time, s.
func (c *canvas) again(within float64) {
	if c.Again == 0 || within < c.Again {
		c.Again = within
	}
}
