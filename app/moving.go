package app

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"drillbay/drills"
	"drillbay/drills/runner"
)

// The size of a drawing on paper, px: from behind, and from the front, where the
// club reaches far to the side.
const (
	drawnTall   = 240.0
	drawnBehind = 224.0
	drawnFront  = 320.0
	drawnGap    = 8.0
)

// MovingDrawing is a drill as it is done, from behind and from the front, as one
// SVG picture that moves at the drill's own beat, without a script.
func MovingDrawing(d runner.Drill, hand drills.Hand) string {
	rate := d.Beat
	if rate <= 0 {
		rate = 60
	}
	times := keyTimes(d)
	whole := times[len(times)-1]
	frames := make([][]Item, len(times))
	for i, t := range times {
		frames[i] = drillItems(d, poseAt(d, min(t, whole-1e-9), false), hand)
	}
	shares := make([]string, len(times))
	for i, t := range times {
		shares[i] = number(t/whole, 4)
	}
	timing := fmt.Sprintf(`dur="%ss" repeatCount="indefinite" keyTimes="%s"`, number(whole*60/rate, 2), strings.Join(shares, ";"))
	var b strings.Builder
	svg(&b, drawnBehind+drawnGap+drawnFront, drawnTall, d.Name+", as it is done, from behind and from the front")
	for i := range frames[0] {
		through := make([]Item, len(frames))
		for k := range frames {
			through[k] = frames[k][i]
		}
		moves(&b, through, timing)
	}
	b.WriteString("</svg>")
	return b.String()
}

// DrillMoments are the moments of a drill side by side from the front, as an SVG
// picture, for paper.
func DrillMoments(d runner.Drill, hand drills.Hand) string {
	var list []pose
	for _, s := range steps(d) {
		if !slices.Contains(list, s.pose) && s.pose != downward && s.pose != through {
			list = append(list, s.pose)
		}
	}
	var b strings.Builder
	svg(&b, float64(len(list))*(drawnFront+drawnGap)-drawnGap, drawnTall, d.Name+": its moments from the front")
	for i, p := range list {
		c := canvas{View: &View{}}
		r := Rect{float64(i) * (drawnFront + drawnGap), 0, drawnFront, drawnTall}
		c.fill(r, Plate, 4)
		c.player(r.Inset(4), d, p, fromFront, seenWide[fromFront], hand)
		for _, item := range c.Items {
			b.WriteString(shape(item, ""))
		}
	}
	b.WriteString("</svg>")
	return b.String()
}

// keyTimes are the beats at which a drill's drawing is reckoned: between them it
// moves evenly.
func keyTimes(d runner.Drill) []float64 {
	list := steps(d)
	out := []float64{0}
	for i := 1; i < len(list); i++ {
		a, b := list[i-1], list[i]
		n := 1
		if a.pose != b.pose {
			n = max(3, int(math.Ceil((b.beat-a.beat)*6)))
		}
		for k := 1; k <= n; k++ {
			out = append(out, a.beat+(b.beat-a.beat)*float64(k)/float64(n))
		}
	}
	return out
}

// drillItems are the shapes of a drill at a pose, from behind and from the front:
// of every pose as many, in the same order.
func drillItems(d runner.Drill, p pose, hand drills.Hand) []Item {
	c := canvas{View: &View{}}
	for view, r := range [...]Rect{{0, 0, drawnBehind, drawnTall}, {drawnBehind + drawnGap, 0, drawnFront, drawnTall}} {
		c.fill(r, Plate, 4)
		c.player(r.Inset(4), d, p, view, seenWide[view], hand)
	}
	return c.Items
}

// moves writes one shape through all its places.
func moves(b *strings.Builder, through []Item, timing string) {
	var inner strings.Builder
	for _, a := range [...]struct {
		line, disc string
		of         func(Item) float64
	}{
		{"x1", "cx", func(i Item) float64 { return i.X }}, {"y1", "cy", func(i Item) float64 { return i.Y }},
		{"x2", "", func(i Item) float64 { return i.W }}, {"y2", "", func(i Item) float64 { return i.H }},
	} {
		name := map[Shape]string{Line: a.line, Disc: a.disc}[through[0].Shape]
		values := make([]string, len(through))
		for k, item := range through {
			values[k] = number(a.of(item), 1)
		}
		if name == "" || len(slices.Compact(slices.Clone(values))) == 1 {
			continue
		}
		fmt.Fprintf(&inner, `<animate attributeName="%s" values="%s" %s/>`, name, strings.Join(values, ";"), timing)
	}
	b.WriteString(shape(through[0], inner.String()))
}
