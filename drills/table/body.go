package table

import (
	"fmt"
	"math"
	"strings"

	"drillbay/drills"
	"drillbay/drills/measure"
)

// bodyLegend says what the body's line of a rep means.
const bodyLegend = "Body: where the shaft is level or caught, against address; ± is one sigma. " + drills.NoAdvice

// bodyLine says how the body stood in a rep; "" where nothing of it was read.
func bodyLine(r measure.Result) string {
	var parts []string
	for p := range drills.BodyPart(drills.BodyParts) {
		if s := r.Rep.Body.Say(p); s != "" {
			parts = append(parts, fmt.Sprintf("%s (± %s)", s, p.Amount(r.Rep.Body[p].Sigma)))
		}
	}
	if t := r.Rep.Elevation; r.FaceOn && t.Known() {
		parts = append(parts, fmt.Sprintf("shaft %s (± %.0f°)", drills.ShaftLevel(t.Value), t.Sigma))
	}
	if t := r.Rep.Height; t.Known() {
		parts = append(parts, fmt.Sprintf("hands %s address at level (± %.0f cm)", above(t.Value), t.Sigma))
	}
	if t := r.Rep.TopHeight; t.Known() {
		parts = append(parts, fmt.Sprintf("hands %s address at the top (± %.0f cm)", above(t.Value), t.Sigma))
	}
	if r.Rep.BodyWhy != "" {
		parts = append(parts, "not told: "+r.Rep.BodyWhy)
	}
	if len(parts) == 0 {
		return ""
	}
	return fmt.Sprintf("  rep %d: %s", r.Rep.Number, strings.Join(parts, ", "))
}

// above is a height against address: "12 cm above".
func above(cm float64) string {
	if math.Round(cm) < 0 {
		return fmt.Sprintf("%.0f cm below", -cm)
	}
	return fmt.Sprintf("%.0f cm above", math.Abs(cm))
}

// bodyJSON tells how the body stood, by drills.BodyPart's keys, "height" and "top_height",
// each with its unit and with its uncertainty (one sigma); what was not read is
// left out, and nil is nothing.
func bodyJSON(r measure.Result) map[string]*float64 {
	out := map[string]*float64{}
	put := func(key, unit string, x drills.Reading) {
		if x.Known() {
			out[key+"_"+unit], out[key+"_sigma_"+unit] = number(x.Value, 1), number(x.Sigma, 1)
		}
	}
	for i, x := range r.Rep.Body {
		p := drills.BodyPart(i)
		put(p.Key(), map[string]string{"cm": "cm", "°": "deg", "%": "percent"}[p.Unit()], x)
	}
	put("height", "cm", r.Rep.Height) // of the hands at level, above address
	put("top_height", "cm", r.Rep.TopHeight)
	if len(out) == 0 {
		return nil
	}
	return out
}
