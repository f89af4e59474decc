package app

import (
	"math"

	"drillbay/drills"
	"drillbay/drills/runner"
)

// wedge draws a rep's shaft at level from above, in the upper left corner of its picture:
// the dashed target line, the edges of the band beside it, and the shaft as a wedge that
// holds its true direction with 95 %. Down the line a level shaft is seen from its end, and
// nothing of this can be seen in the picture itself. Nothing is drawn without a reading.
func (c *canvas) wedge(at Rect, rep runner.Done, band float64, hand drills.Hand) {
	line := rep.Rep.ShaftLine
	if !line.OK() || rep.Rep.Verdict == drills.NoReading || rep.Rep.Verdict == drills.Short {
		return
	}
	r := Rect{at.X + c.px(12), at.Y + c.px(10), c.px(126), c.px(168)}
	word := "from above"
	r.W = max(r.W, c.ruler.Width(word, c.small, Medium)+c.small)
	foot := math.Round(c.small * 1.5)
	if r.H > at.H*0.6 || r.W > at.W*0.4 {
		return
	}
	c.fill(r, Casing, math.Round(4*max(c.k, 1)))
	c.middle(r.X+r.W/2, r.Bottom()-math.Round(c.small*0.45), word, c.small, Medium, Core)
	// The target at the top; inside lies where the player stands.
	x, y, long := r.X+r.W/2, r.Y+c.px(34), r.H-foot-c.px(34)
	side := -1.0
	if hand == drills.Left {
		side = 1
	}
	end := func(degrees, long float64) (float64, float64) {
		a := degrees * math.Pi / 180
		return x + side*long*math.Sin(a), y + long*math.Cos(a)
	}
	for _, edge := range []float64{-band, band} {
		ex, ey := end(edge, long)
		c.line(x, y, ex, ey, max(1, c.px(2)), Quiet)
	}
	c.dashed(x, r.Y+c.px(8), x, y+long, c.px(3), c.px(8), Core)
	role := tint{Core, Core, CoreInside, CoreOutside}.of(rep.Rep.Verdict)
	turn := min(max(line.Value, -60), 60)
	ex, ey := end(turn, long*0.92)
	c.add(Item{Shape: Wedge, Role: role, X: x, Y: y, W: ex, H: ey, R: max(long*0.92*math.Tan(wedgeTurn(rep)), c.px(2))})
	c.disc(x, y, c.px(6), Core)
}

// wedgeTurn is half the angle that a wedge spans, rad.
func wedgeTurn(rep runner.Done) float64 {
	return min(1.96*rep.Rep.ShaftLine.Sigma, 30) * math.Pi / 180
}
