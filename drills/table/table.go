// Package table writes the reps of a clip as a table for a person, or as one JSON object.
package table

import (
	"encoding/json"
	"fmt"
	"io"
	"math"
	"text/tabwriter"

	"drillbay/camera/clip"
	"drillbay/drills"
	"drillbay/drills/measure"
	"drillbay/drills/rep"
)

// WriteJSON writes the reps of a clip as one object; what is missing is null.
func WriteJSON(w io.Writer, info clip.Info, hand drills.Hand, reps []measure.Result) error {
	type object struct {
		Clip   string    `json:"clip"`
		Width  int       `json:"width"`
		Height int       `json:"height"`
		FPS    float64   `json:"fps"`
		Frames int       `json:"frames"`
		Hand   string    `json:"hand"`
		Reps   []jsonRep `json:"reps"`
	}
	o := object{Clip: info.Name, Width: info.Width, Height: info.Height, FPS: round(info.FPS, 3), Frames: info.Frames, Hand: hand.String(), Reps: []jsonRep{}}
	for _, r := range reps {
		j := asJSON(r.Rep)
		j.Body = bodyJSON(r)
		o.Reps = append(o.Reps, j)
	}
	e := json.NewEncoder(w)
	e.SetIndent("", " ")
	return e.Encode(o)
}

type jsonRep struct {
	Number     int                 `json:"number"`
	Start      *float64            `json:"start_s"`
	BackStart  *float64            `json:"back_start_s"`
	Level      *float64            `json:"level_s"`
	Catch      *float64            `json:"catch_s"`
	Top        *float64            `json:"top_s"`
	Impact     *float64            `json:"impact_s"`
	End        *float64            `json:"end_s"`
	Manner     string              `json:"manner"`
	Smoothness *float64            `json:"smoothness"`
	Line       *float64            `json:"shaft_line_deg"`
	Sigma      *float64            `json:"shaft_line_sigma_deg"`
	Elevation  *float64            `json:"elevation_deg"`
	Depth      *float64            `json:"depth_cm"`
	Tempo      *float64            `json:"tempo_ratio"`
	TempoLow   *float64            `json:"tempo_low"`
	TempoHigh  *float64            `json:"tempo_high"`
	Verdict    string              `json:"verdict"`
	Why        string              `json:"why"`
	Body       map[string]*float64 `json:"body"`
	BodyWhy    string              `json:"body_why"`
}

func asJSON(r drills.Rep) jsonRep {
	m, because := r.Moments, why(r)
	if r.FaceOn() {
		because += ": " + drills.SideFaceOn
	}
	return jsonRep{
		Number: r.Number, Start: number(m.Start, 3), BackStart: number(m.BackStart, 3), Level: number(m.Level, 3),
		Catch: number(m.Catch, 3), Top: number(m.Top, 3), Impact: number(m.Impact, 4), End: number(m.End, 3),
		Manner: r.Manner.String(), Smoothness: number(r.Smoothness, 2), Line: number(r.ShaftLine.Value, 1), Sigma: number(r.ShaftLine.Sigma, 1),
		Elevation: number(r.Elevation.Value, 1), Depth: number(r.Depth.Value, 1), Tempo: number(r.Tempo, 2),
		TempoLow: number(r.TempoLow, 2), TempoHigh: number(r.TempoHigh, 2), Verdict: r.Verdict.String(), Why: because, BodyWhy: r.BodyWhy,
	}
}

func number(x float64, digits int) *float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return nil
	}
	x = round(x, digits)
	return &x
}

func round(x float64, digits int) float64 {
	p := math.Pow(10, float64(digits))
	return math.Round(x*p) / p
}

// Write writes the reps of a clip as a table for a person.
func Write(out io.Writer, info clip.Info, reps []measure.Result) error {
	fmt.Fprintf(out, "%s: %d × %d, %.4g frames a second, %s, %s\n", info.Name, info.Width, info.Height, info.FPS, drills.Count(info.Frames, "frame"), drills.Count(len(reps), "rep"))
	if len(reps) == 0 {
		fmt.Fprintln(out, "No rep was found. The player must be seen from behind the hands, down the target line, still for half a second at address, and the head of the club must be in the picture then.")
		return nil
	}
	w := tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)
	fmt.Fprintln(w, "rep\tstart\tback\tlevel\tcatch\timpact\tshaft line\tdepth\tmanner\tratio\tverdict\t")
	for _, r := range reps {
		p, m := r.Rep, r.Rep.Moments
		ratio := "–"
		if !math.IsNaN(p.Tempo) {
			ratio = fmt.Sprintf("%.1f (%.1f–%.1f)", p.Tempo, p.TempoLow, p.TempoHigh)
			if p.TempoHigh-p.TempoLow > 1 {
				ratio += ", too wide to tell 3.0 from 2.5"
			}
		}
		fmt.Fprintf(w, "%d\t%s\t%s\t%s\t%s\t%s\t%s\t%s\t%s\t%s\t%s\t\n", p.Number, at(m.Start), at(m.BackStart), at(m.Level), at(m.Catch), at(m.Impact),
			side(p.ShaftLine), Depth(p.Depth), p.Manner, ratio, Verdict(p))
	}
	if err := w.Flush(); err != nil {
		return err
	}
	if reps[0].FaceOn {
		fmt.Fprintln(out, "Seen face-on: the shaft line cannot be read from there; "+drills.SideFaceOn+".")
	}
	fmt.Fprintln(out, Legend)
	told := false
	for _, r := range reps {
		if l := bodyLine(r); l != "" {
			if !told {
				fmt.Fprintln(out, bodyLegend)
				told = true
			}
			fmt.Fprintln(out, l)
		}
	}
	return nil
}

// Legend says what stands in the table.
const Legend = `
start: the first motion; back: the backward motion; level: the shaft is level.
shaft line: seen from above where the shaft is level, inside is the player's side; sure to: one sigma.
depth: how far inside (+) the hands came since address. ratio: back to down. –: not measured.`

func at(t float64) string {
	if math.IsNaN(t) {
		return "–"
	}
	return fmt.Sprintf("%.2f s", t)
}

func side(r drills.Reading) string {
	if !r.OK() {
		return "–"
	}
	name := "inside"
	if r.Value < 0 {
		name = "outside"
	}
	return fmt.Sprintf("%.0f° %s, sure to %.1f°", math.Abs(r.Value), name, r.Sigma)
}

// Depth is a depth in cm, + inside, "–" where it was not read.
func Depth(r drills.Reading) string {
	if !r.OK() {
		return "–"
	}
	if math.Round(r.Value) == 0 {
		return "0 cm"
	}
	return fmt.Sprintf("%+.0f cm", r.Value)
}

// Verdict is the verdict of a rep in words, with its reason.
func Verdict(r drills.Rep) string {
	s := r.Verdict.String()
	if r.Just {
		s = "just " + s
	}
	if w := why(r); w != "" {
		s += " (" + w + ")"
	}
	return s
}

// why is the reason of a verdict, with the flags that are missing by name.
func why(r drills.Rep) string {
	if r.Why == rep.NoScale {
		return "give --distance, --fov or --ground"
	}
	return r.Why
}
