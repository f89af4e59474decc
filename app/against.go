package app

import (
	"fmt"
	"math"

	"drillbay/camera/lookback"
	"drillbay/drills"
	"drillbay/drills/runner"
)

// drawTwo shows this rep beside another one, aligned on their level moments,
// and says in one cue how this one differs.
func (l *lookbackPart) drawTwo(a *App, c *canvas, snap *runner.Snapshot, other runner.Compare) {
	word := fmt.Sprintf("against %s", other.Label)
	next := "one rep"
	if l.against < len(snap.Against) {
		next = "another rep"
	}
	c.head("Lookback, two reps", []string{snap.Player.Name, word},
		button{do: Against, word: next}, button{do: Pencil, word: "pencil"}, button{do: Keep, word: "keep"}, button{do: Back, word: "back"})
	bar := c.bar(differs(l.rep.Rep, other.Rep.Rep, l.known, a.units()))
	half := (c.Width - 2*c.margin - c.px(16)) / 2
	top := c.headHeight() + c.px(64)
	box := Rect{c.margin, top, half, bar - c.px(106) - top}
	second := box
	second.X += half + c.px(16)
	now := l.player.At(a.now).At
	that := l.aligned(now, other)
	c.label(box, l.rep.Rep, l.known, fmt.Sprintf("this, rep %d", l.number), a.bay.Side(snap.Player.Hand))
	c.label(second, other.Rep.Rep, true, fmt.Sprintf("%s, rep %d", other.Label, other.Rep.Rep.Number), a.bay.Side(snap.Player.Hand))
	at := l.picture(a, c, 0, l.loop, l.player, l.rep, l.known, box)
	c.tags(at, l.said...)
	still := lookback.NewPlayer(other.Loop.Times(), math.NaN(), 0).Scrub(that)
	l.picture(a, c, 1, other.Loop, still, other.Rep, true, second)
	x := l.twoLines(c, Rect{c.margin, box.Bottom(), c.Width - 2*c.margin, bar - box.Bottom()}, now, other)
	if x > c.Width/2 {
		x = c.margin + c.px(90)
	} else {
		x = c.Width - c.margin - c.px(310)
	}
	c.speeds(x, bar-c.px(26), l.player.Speed())
}

// aligned is the instant of the other rep that is as far from its level
// moment as now is from this one's.
func (l *lookbackPart) aligned(now float64, other runner.Compare) float64 {
	return now - level(l.rep.Rep, l.player.To()) + level(other.Rep.Rep, other.Loop.Times()[0])
}

// level is a rep's level moment or what comes nearest, or else.
func level(r drills.Rep, otherwise float64) float64 {
	for _, t := range []float64{r.Moments.Level, r.Moments.Catch, r.Moments.Top} {
		if !math.IsNaN(t) {
			return t
		}
	}
	return otherwise
}

// label heads one of two pictures: mark, verdict and number, whose it is.
func (c *canvas) label(box Rect, rep drills.Rep, known bool, whose string, hand drills.Hand) {
	base := box.Y - c.px(16)
	if known {
		h := c.px(44)
		c.mark(box.X+h*0.45, base-math.Round(c.title*CapHeight/2), h, rep, hand, onPage())
		x := box.X + c.px(58)
		c.fitted(x, base, box.Right()-c.ruler.Width(whose, c.body, Regular)-c.px(16)-x, tellingOf(rep).String(), c.title, c.small, Bold, onPage().of(rep.Verdict))
	}
	c.before(box.Right(), base, whose, c.body, Regular, Quiet)
}

// twoLines draws both reps on one time line that crosses at level, and
// returns where that is.
func (l *lookbackPart) twoLines(c *canvas, r Rect, now float64, other runner.Compare) float64 {
	mine, theirs := level(l.rep.Rep, l.player.To()), level(other.Rep.Rep, other.Loop.Times()[0])
	times := other.Loop.Times()
	before := max(mine-l.player.From(), theirs-times[0])
	after := max(l.player.To()-mine, times[len(times)-1]-theirs)
	left, right := r.X+c.px(90), r.Right()-c.px(20)
	place := func(t float64) float64 { return left + (t+before)/max(before+after, 1e-9)*(right-left) }
	line := func(y float64, name string, from, to, turn float64) {
		c.text(r.X, y+math.Round(c.small*CapHeight/2), name, c.small, Bold, Ink)
		c.fill(Rect{place(from), y - c.px(1), place(to) - place(from), max(2, c.px(3))}, Edge, 0)
		for _, t := range []float64{from, to, turn} {
			if !math.IsNaN(t) && t >= from && t <= to {
				c.fill(Rect{math.Round(place(t) - c.px(2)), y - c.px(9), c.px(4), c.px(18)}, Ink, 0)
			}
		}
		c.disc(place(min(max(now-mine, from), to)), y, c.px(9), Ink)
	}
	y := r.Y + c.px(22)
	line(y, "this", l.player.From()-mine, l.player.To()-mine, l.rep.Rep.Moments.BackStart-mine)
	line(y+c.px(28), other.Label, times[0]-theirs, times[len(times)-1]-theirs, other.Rep.Rep.Moments.BackStart-theirs)
	c.fill(Rect{math.Round(place(0) - c.px(1)), y - c.px(14), max(2, c.px(3)), c.px(74)}, Ink, 0)
	c.text(place(0)+c.px(8), y+c.px(58), "level", c.small, Bold, Ink)
	return place(0)
}

// differs says in one cue how this rep differs from the other: the side
// first, then the depth of the hands, then the time.
func differs(this, other drills.Rep, known bool, u units) string {
	if !known {
		return "Reading this rep"
	}
	if this.ShaftLine.OK() && other.ShaftLine.OK() {
		sure := 1.645 * math.Hypot(this.ShaftLine.Sigma, other.ShaftLine.Sigma)
		if d := this.ShaftLine.Value - other.ShaftLine.Value; math.Abs(d) > max(sure, 1) {
			if d > 0 {
				return fmt.Sprintf("%.0f° more inside", d)
			}
			return fmt.Sprintf("%.0f° more outside", -d)
		}
	}
	if this.Depth.OK() && other.Depth.OK() {
		if d := this.Depth.Value - other.Depth.Value; math.Abs(d) >= 2 {
			if d > 0 {
				return "Hands " + u.short(d) + " deeper"
			}
			return "Hands " + u.short(-d) + " away"
		}
	}
	if t, u := this.Moments, other.Moments; !math.IsNaN(t.Catch-t.BackStart) && !math.IsNaN(u.Catch-u.BackStart) {
		if d := (t.Catch - t.BackStart) - (u.Catch - u.BackStart); math.Abs(d) >= 0.1 {
			if d < 0 {
				return fmt.Sprintf("%.1f s quicker", -d)
			}
			return fmt.Sprintf("%.1f s slower", d)
		}
	}
	return "Much the same"
}
