package app

import (
	"fmt"
	"math"
	"strings"

	"drillbay/drills"
	"drillbay/drills/runner"
)

// RepWords is a rep as every screen words it: "just inside, 9°, placed".
func RepWords(r drills.Rep) string { return tellingOf(r).String() }

// RepDrawing is a rep from above where its shaft is level, as an SVG picture drawn
// from its reading: the target line, its parallel through the hands, the band that counts as in
// line, and the shaft as wide at its end as it is unsure (95 %). "" without a
// reading.
func RepDrawing(rep drills.Rep, band float64, hand drills.Hand) string {
	if !rep.ShaftLine.OK() {
		return ""
	}
	const w, h, k = 200.0, 260.0, 105.0
	mirror := 1.0
	if hand == drills.Left {
		mirror = -1
	}
	// From above, the target at the top: the player stands on the left.
	at := func(v vector) (x, y float64) { return w/2 - mirror*(v.y-0.22)*k, 88 - v.x*k }
	hands := atLevel.hands
	reach := func(degrees, long float64) (x, y float64) {
		a := degrees * math.Pi / 180
		return at(hands.plus(vector{-math.Cos(a), math.Sin(a), 0}.times(long)))
	}
	var b strings.Builder
	v := rep.ShaftLine
	svg(&b, w, h, "From above where the shaft is level: "+RepWords(rep))
	fmt.Fprintf(&b, `<rect width="%s" height="%s" rx="4" fill="%s"/>`, number(w, 0), number(h, 0), onPaper[Plate])
	line := func(x1, y1, x2, y2, thick float64, colour, more string) {
		fmt.Fprintf(&b, `<line x1="%s" y1="%s" x2="%s" y2="%s" stroke="%s" stroke-width="%s" %s/>`, number(x1, 1), number(y1, 1), number(x2, 1), number(y2, 1), colour, number(thick, 1), more)
	}
	wedge := func(from, to, long float64, colour, more string) {
		x, y := at(hands)
		fmt.Fprintf(&b, `<path d="M%s %s`, number(x, 1), number(y, 1))
		for i := range 7 {
			x, y := reach(from+(to-from)*float64(i)/6, long)
			fmt.Fprintf(&b, `L%s %s`, number(x, 1), number(y, 1))
		}
		fmt.Fprintf(&b, `z" fill="%s" %s/>`, colour, more)
	}
	// The player, turned: feet, hips, shoulders, head, arm.
	f := atLevel.body(runner.Drill{})
	for _, side := range []float64{1, -1} {
		x1, y1 := at(vector{0.24 * side, 0.80, 0})
		x2, y2 := at(vector{0.24 * side, 0.55, 0})
		line(x1, y1, x2, y2, 9, onPaper[Edge], `stroke-linecap="round"`)
	}
	x1, y1 := at(f.shoulders[0])
	x2, y2 := at(f.shoulders[1])
	line(x1, y1, x2, y2, 17, onPaper[Quiet], `stroke-linecap="round"`)
	hx, hy := at(hands)
	for i := range 2 {
		x, y := at(f.shoulders[i])
		line(x, y, hx, hy, 7, onPaper[Quiet], `stroke-linecap="round"`)
	}
	x, y := at(f.head)
	fmt.Fprintf(&b, `<circle cx="%s" cy="%s" r="12" fill="%s"/>`, number(x, 1), number(y, 1), onPaper[Quiet])
	bx, by := at(vector{})
	line(bx, 8, bx, h-8, 1, onPaper[Edge], "")
	fmt.Fprintf(&b, `<circle cx="%s" cy="%s" r="4" fill="%s" stroke="%s"/>`, number(bx, 1), number(by, 1), onPaper[Page], onPaper[Ink])
	wedge(-band, band, 1.0, onPaper[BandInk], "")
	line(hx, 8, hx, h-8, 1.6, onPaper[Ink], `stroke-dasharray="6 5"`)
	role := map[drills.Verdict]Role{drills.Inside: Inside, drills.Outside: Outside}[rep.Verdict]
	if role == Page {
		role = Ink
	}
	wedge(v.Value-1.96*v.Sigma, v.Value+1.96*v.Sigma, clubLong, onPaper[role], `fill-opacity=".35"`)
	ex, ey := reach(v.Value, clubLong)
	line(hx, hy, ex, ey, 3.5, onPaper[role], `stroke-linecap="round"`)
	fmt.Fprintf(&b, `<circle cx="%s" cy="%s" r="6" fill="%s"/><circle cx="%s" cy="%s" r="5" fill="%s"/>`, number(ex, 1), number(ey, 1), onPaper[role], number(hx, 1), number(hy, 1), onPaper[Ink])
	tx := bx + mirror*5
	anchor := "start"
	if mirror < 0 {
		anchor = "end"
	}
	fmt.Fprintf(&b, `<text x="%s" y="20" text-anchor="%s" fill="%s">target line</text></svg>`, number(tx, 1), anchor, onPaper[Ink])
	return b.String()
}
