package table

import (
	"fmt"
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
	if t := r.Rep.TopHeight; t.Known() {
		parts = append(parts, fmt.Sprintf("hands %.0f cm above address at the top (± %.0f cm)", t.Value, t.Sigma))
	}
	if r.Rep.BodyWhy != "" {
		parts = append(parts, "not told: "+r.Rep.BodyWhy)
	}
	if len(parts) == 0 {
		return ""
	}
	return fmt.Sprintf("  rep %d: %s", r.Rep.Number, strings.Join(parts, ", "))
}

// bodyJSON tells how the body stood, by drills.BodyPart's keys and "top_height",
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
	put("top_height", "cm", r.Rep.TopHeight)
	if len(out) == 0 {
		return nil
	}
	return out
}
