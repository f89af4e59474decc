package app

import (
	"math"

	"drillbay/camera/sight"
	"drillbay/drills"
	"drillbay/drills/bay"
	"drillbay/drills/runner"
)

// lensGuide draws over the live picture how the lens should move, while the player
// stands at address and the camera is off: the way from the target point to the
// hands, and the way in words.
func (a *App) lensGuide(c *canvas, o over, width int, snap *runner.Snapshot) {
	if snap.Phase != sight.Address || !a.bay.Set || !a.bay.HasTarget() || a.d.Hands == nil || a.d.Lens.Offset == nil {
		return
	}
	var hands drills.Pixel
	hands.X, hands.Y = a.d.Hands()
	if math.IsNaN(hands.X) || math.IsNaN(hands.Y) {
		return
	}
	off, err := a.d.Lens.Offset(a.bay, hands, snap.Player.Hand)
	if err != nil || off.Good() {
		return
	}
	scale := float64(width) / float64(a.bay.Width)
	target := drills.Pixel{X: a.bay.Target.X * scale, Y: a.bay.Target.Y * scale}
	hands = drills.Pixel{X: hands.X * scale, Y: hands.Y * scale}
	if !o.holds(target.X, target.Y) || !o.holds(hands.X, hands.Y) {
		return
	}
	c.path(o.x(target.X), o.y(target.Y), o.x(hands.X), o.y(hands.Y))
	c.targetMark(o.x(target.X), o.y(target.Y), c.px(13))
	c.tag(o.at.X+c.px(12), o.at.Bottom()-c.small*1.6-c.px(10), "Camera off: "+moveLine(off, c.units()))
}

// moveLine says how to move the lens in a few words.
func moveLine(o bay.Offset, u units) string {
	up, upCm, near, nearCm := moveWords(o, u)
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

// moveWords say how to move the lens, upward and across: each a word and a
// length, "" where it is good enough.
func moveWords(o bay.Offset, u units) (up, upCm, near, nearCm string) {
	rise, nearer := o.Moves()
	switch {
	case rise > 0:
		up = "raise"
	case rise < 0:
		up = "lower"
	}
	switch {
	case nearer > 0:
		near = "nearer ball"
	case nearer < 0:
		near = "nearer you"
	}
	if up != "" {
		upCm = u.short(math.Abs(rise))
	}
	if near != "" {
		nearCm = u.short(math.Abs(nearer))
	}
	return up, upCm, near, nearCm
}
