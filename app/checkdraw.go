package app

import (
	"strings"

	"drillbay/drills"
	"drillbay/drills/runner"
)

// checkDrawing draws what a line of the set-up check is about, by its first word,
// in a square; ok is false where there is no drawing of it.
func (c *canvas) checkDrawing(head string, r Rect, hand drills.Hand) (ok bool) {
	word, _, _ := strings.Cut(strings.ToLower(head), " ")
	switch word {
	case "grip":
		c.gripDrawing(r, hand)
	case "posture":
		c.player(r, runner.Drill{}, addressed, fromBehind, seenWide[fromBehind], hand)
	case "aim":
		c.aimDrawing(r, hand)
	case "ball":
		c.player(r, runner.Drill{Ball: true}, addressed, fromFront, 1.9, hand)
		c.stance(r)
	default:
		return false
	}
	return true
}

// hundredths are lengths and places in a square of 100 by 100, mirrored for a
// left-hander.
type hundredths struct {
	c      *canvas
	r      Rect
	k      float64
	mirror bool
}

func (c *canvas) hundredths(r Rect, hand drills.Hand) hundredths {
	return hundredths{c, r, min(r.W, r.H) / 100, hand == drills.Left}
}

func (h hundredths) x(v float64) float64 {
	if h.mirror {
		v = 100 - v
	}
	return h.r.X + (h.r.W-100*h.k)/2 + v*h.k
}

func (h hundredths) y(v float64) float64 { return h.r.Y + (h.r.H-100*h.k)/2 + v*h.k }

func (h hundredths) line(x1, y1, x2, y2, thick float64, role Role) {
	h.c.line(h.x(x1), h.y(y1), h.x(x2), h.y(y2), max(2, thick*h.k), role)
}

// limb is a line with round ends.
func (h hundredths) limb(x1, y1, x2, y2, thick float64, role Role) {
	h.line(x1, y1, x2, y2, thick, role)
	h.disc(x1, y1, thick/2, role)
	h.disc(x2, y2, thick/2, role)
}

func (h hundredths) disc(x, y, radius float64, role Role) {
	h.c.disc(h.x(x), h.y(y), max(1, radius*h.k), role)
}

// gripDrawing shows both hands on the grip from the front: the lead hand's fingers
// about it, the trail hand over its thumb.
func (c *canvas) gripDrawing(r Rect, hand drills.Hand) {
	h := c.hundredths(r, hand)
	h.limb(65, 6, 50, 64, 7, Ink) // the grip, then the shaft
	h.line(50, 64, 43, 98, 4, Ink)
	h.limb(92, 11, 68, 24, 14, Quiet) // lead arm and hand
	for i := range 4 {                // its fingers
		y := 16 + 7*float64(i)
		h.limb(70-1.9*float64(i), y, 56-1.9*float64(i), y+2, 6, Quiet)
	}
	h.limb(60, 42, 56, 54, 6, Edge) // its thumb, down the grip
	h.limb(9, 17, 42, 45, 14, Quiet)
	for i := range 4 { // the trail hand's fingers, over the thumb
		y := 46 + 6.5*float64(i)
		h.limb(46-1.8*float64(i), y, 60-1.8*float64(i), y+1, 6, Quiet)
	}
}

// aimDrawing shows from above what is parallel to the target line: feet and
// shoulders, and the face square to it.
func (c *canvas) aimDrawing(r Rect, hand drills.Hand) {
	h := c.hundredths(r, hand)
	h.c.dashed(h.x(74), h.y(4), h.x(74), h.y(96), max(2, 2*h.k), 6*h.k, Ink) // the target line, upward
	h.line(74, 4, 69, 13, 2.5, Ink)
	h.line(74, 4, 79, 13, 2.5, Ink)
	for _, y := range []float64{36, 66} { // the feet
		h.limb(16, y, 34, y, 9, Quiet)
	}
	h.c.dashed(h.x(39), h.y(22), h.x(39), h.y(80), max(2, 1.5*h.k), 4*h.k, Edge) // along the toes
	h.limb(28, 38, 28, 64, 9, Quiet)                                             // the shoulders
	h.disc(32, 51, 8, Quiet)
	h.line(34, 51, 68, 52, 3, Ink) // the club
	h.limb(68, 52, 74, 52, 5, Ink)
	h.disc(74, 45, 3.5, Edge)
}

// stance marks the middle of the stance under a player seen from the front.
func (c *canvas) stance(r Rect) {
	x, y := r.X+r.W/2, r.Bottom()-0.02*r.H
	c.add(Item{Shape: Triangle, Role: Quiet, X: x, Y: y, R: 0.025 * r.H})
}
