package app

import (
	"math"

	"drillbay/camera/sight"
	"drillbay/drills/runner"
)

// lensGuide draws over the live picture how the lens should move, while the player
// stands at address and the camera is off: the way from the target point to the
// hands, and the way in words.
func (a *App) lensGuide(c *canvas, o over, width int, snap *runner.Snapshot) {
	if snap.Phase != sight.Address || !a.bay.Set || !a.bay.found() || a.d.Hands == nil || a.d.Lens.Offset == nil {
		return
	}
	var hands Point
	hands.X, hands.Y = a.d.Hands()
	if math.IsNaN(hands.X) || math.IsNaN(hands.Y) {
		return
	}
	off, err := a.d.Lens.Offset(a.bay, hands, snap.Player.Hand)
	if err != nil || off.Good() {
		return
	}
	scale := float64(width) / float64(a.bay.Width)
	target := Point{a.bay.Target.X * scale, a.bay.Target.Y * scale}
	hands = Point{hands.X * scale, hands.Y * scale}
	if !o.holds(target.X, target.Y) || !o.holds(hands.X, hands.Y) {
		return
	}
	c.path(o.x(target.X), o.y(target.Y), o.x(hands.X), o.y(hands.Y))
	c.targetMark(o.x(target.X), o.y(target.Y), c.px(13))
	c.tag(o.at.X+c.px(12), o.at.Bottom()-c.small*1.6-c.px(10), "Camera off: "+off.moves(c.setup.units()))
}

// moves says how to move the lens in a few words.
func (o Offset) moves(u units) string {
	up, upCm, near, nearCm := o.words(u)
	if near != "" {
		near = nearCm + " " + map[string]string{"nearer ball": "nearer the ball", "nearer you": "nearer you"}[near]
	}
	switch {
	case up == "" && near == "":
		return ""
	case up == "":
		return "move it " + near
	case near == "":
		return up + " it " + upCm
	}
	return up + " it " + upCm + ", " + near
}
