package pattern

import (
	"fmt"

	"drillbay/drills"
)

// Summary tells what the reps have in common, cause or none: direction with
// its test for bias, spread, depth, manner, rhythm. What has fewer than Fewest
// readings is left out; drift is told by Drift.
func (e Evidence) Summary() []string {
	var out []string
	if e.Line.N >= Fewest {
		bias := fmt.Sprintf("no bias is shown (t-test, p = %.2f)", e.Line.PValue())
		if p := e.Line.PValue(); p < 0.05 {
			bias = fmt.Sprintf("a bias (t-test, p %s)", probability(p))
		}
		middle := ""
		if m := Side(e.Middle); m != Side(e.Line.Value) { // else it says the same
			middle = ", the middle one " + m
		}
		out = append(out, fmt.Sprintf("Direction: %s on average over %d readings%s, %s; %s not in line.", Side(e.Line.Value), e.Line.N, middle, bias, e.Beyond))
		low, high := e.Line.SpreadBounds()
		out = append(out, fmt.Sprintf("Spread: %.1f° (standard deviation; %s).", e.Line.Spread, within(fmt.Sprintf("%.1f°", low), fmt.Sprintf("%.1f°", high))))
	}
	for _, u := range []use{useDepth, useShoulder, useHeight, useManner, useTop} {
		if s := e.sentence(u); s != "" {
			out = append(out, s)
		}
	}
	for p := range drills.BodyPart(drills.BodyParts) {
		if s := e.partly(p); s != "" && p != drills.HandsUnder { // told above
			out = append(out, s)
		}
	}
	if e.Ratio.N >= Fewest {
		out = append(out, fmt.Sprintf("Rhythm: %.1f to 1 on average over %d ordinary swings, spread %.1f; backswing %.2f s, spread %.2f s.",
			e.Ratio.Value, e.Ratio.N, e.Ratio.Spread, e.Backswing.Value, e.Backswing.Spread))
	}
	return out
}
