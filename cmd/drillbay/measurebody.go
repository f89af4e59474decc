package main

import (
	"fmt"
	"math"
	"strings"

	"drillbay/camera/sight"
	"drillbay/drills/measure"
)

// bodyLegend says what the body's line of a rep means.
const bodyLegend = "Body: in the hold, against address; ± is one sigma. A practice aid, no medical advice: stop on pain."

// bodyLine says how the body stood in a rep's hold; "" where nothing of it was seen.
func bodyLine(r measure.Result) string {
	b, ok := r.Track.Body()
	if !ok {
		return ""
	}
	var parts []string
	add := func(m sight.Measure, unit float64, sign string, positive, negative string) {
		if math.IsNaN(m.Value) || math.IsNaN(m.Sigma) {
			return
		}
		v := math.Round(unit * m.Value)
		say := positive
		if v < 0 {
			say = negative
		}
		parts = append(parts, fmt.Sprintf("%s (%.0f ± %.0f%s)", say, math.Abs(v), unit*m.Sigma, sign))
	}
	add(b.HandsUnder, 100, " cm", "hands beyond the lead shoulder, toward the ball", "hands inside the lead shoulder")
	add(b.Tilt, 1, "°", "spine more bent", "spine more upright")
	add(b.HeadUp, 100, " cm", "head up", "head down")
	add(b.HeadOut, 100, " cm", "head to the ball", "head from the ball")
	add(b.HipsOut, 100, " cm", "hips to the ball", "hips from the ball")
	if len(parts) == 0 {
		return ""
	}
	return fmt.Sprintf("  rep %d: %s", r.Rep.Number, strings.Join(parts, ", "))
}

// jsonBody is how the body stood in the hold, against address: values with
// their uncertainty (one sigma), null where a joint was not seen.
type jsonBody struct {
	HandsUnder      *float64 `json:"hands_from_shoulder_cm"`
	HandsUnderSigma *float64 `json:"hands_from_shoulder_sigma_cm"`
	Tilt            *float64 `json:"spine_tilt_change_deg"`
	TiltSigma       *float64 `json:"spine_tilt_change_sigma_deg"`
	HeadUp          *float64 `json:"head_up_cm"`
	HeadUpSigma     *float64 `json:"head_up_sigma_cm"`
	HeadOut         *float64 `json:"head_to_ball_cm"`
	HeadOutSigma    *float64 `json:"head_to_ball_sigma_cm"`
	HipsOut         *float64 `json:"hips_to_ball_cm"`
	HipsOutSigma    *float64 `json:"hips_to_ball_sigma_cm"`
}

// bodyJSON is nil for a rep without a hold.
func bodyJSON(r measure.Result) *jsonBody {
	b, ok := r.Track.Body()
	if !ok {
		return nil
	}
	cm := func(m float64) *float64 { return number(100*m, 1) }
	return &jsonBody{
		HandsUnder: cm(b.HandsUnder.Value), HandsUnderSigma: cm(b.HandsUnder.Sigma), Tilt: number(b.Tilt.Value, 1), TiltSigma: number(b.Tilt.Sigma, 1),
		HeadUp: cm(b.HeadUp.Value), HeadUpSigma: cm(b.HeadUp.Sigma), HeadOut: cm(b.HeadOut.Value), HeadOutSigma: cm(b.HeadOut.Sigma),
		HipsOut: cm(b.HipsOut.Value), HipsOutSigma: cm(b.HipsOut.Sigma),
	}
}
