package app

import (
	"math"

	"drillbay/camera/frame"
	"drillbay/camera/lookback"
	"drillbay/drills"
	"drillbay/drills/runner"
)

// sides splits the place of the picture between two cameras; second has no width
// where there is one.
func (l *lookbackPart) sides(c *canvas, picture *Rect) (second Rect) {
	if l.beside == nil {
		return Rect{}
	}
	gap := c.px(4)
	second = *picture
	second.W = (picture.W - gap) / 2
	second.X = picture.Right() - second.W
	picture.W = second.W
	return second
}

// delayed is a reel whose pictures show the same moment later, s.
type delayed struct {
	loop  *lookback.Loop
	later float64
}

// Frame is the picture of a moment of the first camera.
func (d delayed) Frame(at float64) *frame.Picture {
	times := d.loop.Times()
	// The nearest one: the latest before may be most of a frame behind.
	half := 0.0
	if n := len(times); n > 1 {
		half = (times[n-1] - times[0]) / float64(n-1) / 2
	}
	return d.loop.Frame(at + d.later + half)
}

// other is the rep as the other camera's picture shows it.
func (l *lookbackPart) other(a *App) runner.Done {
	rep := l.rep
	rep.Overlay = rep.Beside
	if !a.bay.FaceOn {
		rep.Rep.Verdict = drills.NoReading // the shaft's side is not seen from there
	}
	return rep
}

// pictureBeside draws the other camera's picture of the same moment, with what was
// read in it.
func (l *lookbackPart) pictureBeside(a *App, c *canvas, box Rect) {
	if box.W == 0 {
		return
	}
	rep, view := l.other(a), drills.ViewOf(!a.bay.FaceOn)
	c.fill(box, Plate, 0)
	at := l.picture(a, c, 1, delayed{l.beside, l.later}, l.player, rep, l.known && rep.Beside.Here.Seen, box)
	c.tag(at.X+c.px(10), at.Y+c.px(10), view.String())
	if l.known && !a.setup.OverlayOff { // here there is room for it
		if from := rep.Beside; from.Head.X < from.Hands.X {
			at.Y += c.px(8) + c.small*1.6 // over the club, beside the head
		} else {
			at.X = at.Right() - c.px(150)
		}
		l.wedge(a, c, at, l.rep)
	}
}

// rollOf is the roll of the camera whose picture is in a slot, degrees.
func (a *App) rollOf(slot int) float64 {
	return a.bayOf(slot).Roll
}

// across widens a part of a picture to what was read in it: face-on the club lies
// across it.
func across(crop Rect, width float64, o runner.Overlay) Rect {
	const room = 0.04 // of the picture, beside it
	lo, hi := crop.X, crop.Right()
	for _, d := range []runner.Dot{o.Hands, o.Head, o.Here.Crown, o.Here.Hips} {
		if there(d) {
			lo, hi = min(lo, d.X-room*width), max(hi, d.X+room*width)
		}
	}
	lo, hi = max(lo, 0), min(hi, width)
	return Rect{math.Round(lo), crop.Y, math.Round(hi - lo), crop.H}
}

// drawsBody reports whether a reading of the body is drawn in a picture: it is drawn in the
// picture of the camera that it was read from.
func (l *lookbackPart) drawsBody(a *App, p drills.BodyPart, rep runner.Done, slot int) bool {
	from := rep.Rep.Views.Body[p]
	if from == drills.NoView {
		return slot == 0
	}
	first := from == drills.ViewOf(a.bay.FaceOn)
	return first == (slot == 0)
}
