package app

import (
	"math"
	"slices"

	"drillbay/drills/runner"
)

// rowSlot is the first of the slots that hold the row's pictures, rowMost how many
// there are at most.
const rowSlot, rowMost = 2, 5

// row are the moments that stand below the picture: those of the rep, and half way
// back to level, where the club is seen to leave.
func (l *lookbackPart) row() []moment {
	list := l.moments()
	m := l.rep.Rep.Moments
	for i, x := range list {
		if x.name == "level" && m.BackStart < m.Level && i > 0 {
			list = slices.Insert(list, i, moment{"half way", (m.BackStart + m.Level) / 2})
			break
		}
	}
	return list[:min(len(list), rowMost)]
}

// rowHeight returns the height of the row below a picture, px; 0 where there is no room for
// one.
func rowHeight(c *canvas, picture Rect) float64 {
	tall := math.Round(min(0.2*picture.H, c.px(104)))
	if picture.H-tall < c.px(300) {
		return 0
	}
	return tall
}

// drawRow draws a rep as the row of its moments; the one that is held is framed. A
// press on one goes there.
func (l *lookbackPart) drawRow(a *App, c *canvas, r Rect) {
	list := l.row()
	if len(list) == 0 {
		c.fill(r, Plate, 0)
		return
	}
	gap := c.px(6)
	wide := math.Floor((r.W - gap*float64(len(list)-1)) / float64(len(list)))
	now := l.player.At(a.now).At
	for i, m := range list {
		box := Rect{r.X + float64(i)*(wide+gap), r.Y, wide, r.H}
		p := l.loop.Frame(m.at)
		if p == nil {
			c.fill(box, Plate, 0)
			continue
		}
		c.show(rowSlot+i, p, box, closer(framed(p, l.rep.Overlay, l.known, box.W/box.H), l.rep.Overlay.Hands))
		c.tag(box.X+c.px(4), box.Bottom()-math.Round(c.small*1.6)-c.px(4), m.name)
		if math.Abs(m.at-now) < 0.02 {
			c.frame(box, Ink, c.px(6), 0)
			c.frame(box.Inset(c.px(6)), Core, max(2, c.px(2)), 0)
		}
		c.press(box, Choose, i)
	}
}

// closer returns the part of a crop around the hands: in a small picture that is what
// matters, hands and club.
func closer(crop Rect, hands runner.Dot) Rect {
	const share = 0.62
	out := Rect{crop.X, crop.Y, math.Round(crop.W * share), math.Round(crop.H * share)}
	x, y := crop.X+crop.W/2, crop.Y+crop.H/2
	if !math.IsNaN(hands.X) && !math.IsNaN(hands.Y) && hands.X > 0 {
		x, y = hands.X, hands.Y
	}
	out.X = math.Round(min(max(x-out.W/2, crop.X), crop.Right()-out.W))
	out.Y = math.Round(min(max(y-out.H/2, crop.Y), crop.Bottom()-out.H))
	return out
}

// choose goes to a moment of the row, and stands still there.
func (l *lookbackPart) choose(n int) bool {
	list := l.row()
	if n < 0 || n >= len(list) {
		return false
	}
	l.player = l.player.Scrub(list[n].at)
	return true
}
