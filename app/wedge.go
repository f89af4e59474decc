package app

import (
	"math"

	"drillbay/camera/lookback"
	"drillbay/drills/runner"
)

// wedge draws what the shaft may have been at level, from the moment it is
// reached: the edges of where it lies with 95 % confidence, which the shaft's line
// halves. Under the overlay; nothing where the bay's lengths are not known.
func (c *canvas) wedge(at, crop Rect, rep runner.Done, pos lookback.Position, b Bay) {
	half := wedgeHalf(rep, b)
	level := rep.Rep.Moments.Level
	ov := rep.Overlay
	o := over{at, crop}
	if !(half > 0) || math.IsNaN(level) || pos.At < level-0.02 || !o.holds(ov.Hands.X, ov.Hands.Y) || !o.holds(ov.Head.X, ov.Head.Y) {
		return
	}
	hx, hy, y := o.x(ov.Hands.X), o.y(ov.Hands.Y), o.y(ov.Head.Y)
	left, right := o.x(max(ov.Head.X-half, crop.X)), o.x(min(ov.Head.X+half, crop.Right()))
	for _, role := range [...]Role{Casing, Core} {
		thick := c.px(3)
		if role == Casing {
			thick += 2 * c.casing()
		}
		c.line(hx, hy, left, y, thick, role)
		c.line(hx, hy, right, y, thick, role)
		c.line(left, y, right, y, thick, role)
	}
}

// wedgeHalf is half the width of what is possible at the clubhead, px of the
// picture; NaN when it is not known. A level shaft that is turned by a little moves
// its head sideways in the picture: by the length from hands to head times the
// turn, as large as things are at the head's distance.
func wedgeHalf(rep runner.Done, b Bay) float64 {
	line, long := rep.Rep.ShaftLine, b.Club-b.Grip
	if !line.OK() || b.FaceOn || b.Distance <= 0 || b.Field <= 0 || b.Width <= 0 || long <= 0 {
		return math.NaN()
	}
	focal := float64(b.Width) / 2 / math.Tan(b.Field*math.Pi/360)
	along := long * math.Cos(line.Value*math.Pi/180) // toward the camera
	if b.Distance-along < 0.5 {
		return math.NaN()
	}
	return focal * along / (b.Distance - along) * 1.96 * line.Sigma * math.Pi / 180
}
