package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"text/tabwriter"

	"drillbay/camera/clip"
	"drillbay/camera/frame"
	"drillbay/camera/lens"
	"drillbay/drills"
	"drillbay/drills/measure"
	"drillbay/drills/rep"
)

type measureCommand struct {
	Clip        string  `arg:"" help:"An AVI, a folder of pictures, or anything that ffmpeg reads."`
	Club        float64 `help:"Length of the club, m: 0.94 is 94 cm." default:"0.94"`
	Grip        float64 `help:"From the butt to the middle of the lead hand, m (0.06 lead hand alone, 0.09 both hands)." default:"0.09"`
	Distance    float64 `help:"From the lens to the hands at address, along the target line, m." placeholder:"METRES"`
	Fov         float64 `help:"Horizontal field of view of the camera, degrees." placeholder:"DEGREES"`
	TargetPoint string  `help:"Where lines along the target line meet, X,Y in pixels as seen; default: the picture's centre." placeholder:"X,Y"`
	Ground      string  `help:"A length that is known on the ground along the target line, a stick or the edge of a mat: metres, and its ends in pixels as seen. With --ball it gives the distance, to some 3 %, with --lens-height the field of view, to some 5 %; both may be given. The longer it is seen, the surer." placeholder:"LENGTH,X1,Y1,X2,Y2"`
	Ball        string  `help:"Where the ball lies on the ground, X,Y in pixels as seen; for --ground." placeholder:"X,Y"`
	LensHeight  float64 `help:"Height of the lens above the ground, m, measured to 2 cm; for --ground." placeholder:"METRES"`
	Roll        float64 `help:"Roll of the camera, degrees, clockwise as it sees." default:"0"`
	Hand        string  `help:"The player's: right or left." enum:"right,left" default:"right"`
	Band        float64 `help:"Shaft lines that count as in line, degrees each way." default:"8"`
	View        string  `help:"From where the camera looks: line, down the target line from behind the hands, or face-on, at the player's chest across it. Face-on no shaft line is read." enum:"line,face-on" default:"line"`
	Drill       string  `help:"catch or ordinary; default: decided rep by rep." enum:"any,catch,ordinary" default:"any"`
	JSON        bool    `help:"Print one JSON object."`
	Pictures    string  `help:"Write pictures of each rep into this folder." placeholder:"DIR"`
	Points      string  `help:"Write what the eye sees in each frame into this file, a JSON line each." placeholder:"FILE"`
	FPS         float64 `help:"Frames a second that were taken: for slow motion that does not say so, and for a folder of pictures (30)." placeholder:"FRAMES"`
}

// Run measures a clip.
func (m *measureCommand) Run(c console) error {
	src, err := clip.Open(m.Clip, m.FPS, nil)
	if err != nil {
		return err
	}
	defer src.Close()
	info := src.Info()
	b, err := m.bay(info)
	if err != nil {
		return err
	}
	k, err := b.Known()
	if errors.Is(err, lens.ErrGround) && m.TargetPoint == "" {
		err = fmt.Errorf("%w (the target point was taken to be the picture's centre: if it is elsewhere, give --target-point)", err)
	}
	if err != nil {
		return err
	}
	drill := measure.Drill(m.Drill)
	if m.Drill == "any" {
		drill = measure.Any
	}
	var keep *gallery
	each := func(measure.Result, []*frame.Picture) {}
	if m.Pictures != "" {
		if keep, err = newGallery(m.Pictures, k); err != nil {
			return err
		}
		each = keep.add
	}
	frames := watched(src, c.err)
	var points *measure.Points
	if m.Points != "" {
		if points, err = measure.WritePoints(frames, m.Points, b.Hand, float64(info.Shrunk)); err != nil {
			return err
		}
		defer points.Drop()
		frames = points
	}
	reps, read, bad, err := measure.Reps(frames, k, drill, each)
	if err == nil && points != nil {
		err = points.Keep()
	}
	if err != nil {
		return err
	}
	if keep != nil {
		if err := keep.write(); err != nil {
			return err
		}
	}
	if bad > 0 {
		fmt.Fprintf(c.err, "drillbay: %d damaged frames of %s were left out.\n", bad, info.Name)
	}
	if info.Cut {
		fmt.Fprintf(c.err, "drillbay: %s is cut off: only what is there was read.\n", info.Name)
	}
	if info.Guessed {
		fmt.Fprintf(c.err, "drillbay: %s does not say how fast it was taken: times are as it plays. Was it slow motion? Then give the frames a second that were taken, --fps 240 say.\n", info.Name)
	}
	info.Frames = read
	info.Width, info.Height = info.Width*info.Shrunk, info.Height*info.Shrunk
	if m.JSON {
		return printJSON(c, info, b, reps)
	}
	return printTable(c, info, reps)
}

func (m *measureCommand) bay(info clip.Info) (measure.Bay, error) {
	for name, v := range map[string]float64{"club": m.Club, "grip": m.Grip, "distance": m.Distance, "fov": m.Fov, "lens-height": m.LensHeight, "roll": m.Roll, "band": m.Band} {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return measure.Bay{}, fmt.Errorf("%w: --%s must be a number", errUse, name)
		}
	}
	hand, err := drills.ParseHand(m.Hand)
	if err != nil {
		return measure.Bay{}, fmt.Errorf("%w: %v", errUse, err)
	}
	b := measure.Bay{Width: info.Width, Height: info.Height, Field: m.Fov, Distance: m.Distance, Roll: m.Roll,
		Club: m.Club, Grip: m.Grip, Hand: hand, Band: m.Band, FaceOn: m.View == "face-on"}
	if m.Club <= 0 {
		b.Club = -1 // refused with the lengths that are possible
	}
	if m.TargetPoint != "" {
		p, err := parsePoint("target-point", m.TargetPoint)
		if err != nil {
			return b, err
		}
		p = shrunk(p, info)
		b.Target = &p
	}
	b.Ground, err = m.ground(info)
	return b, err
}

// printJSON prints the contract's one object; what is missing is null.
func printJSON(c console, info clip.Info, b measure.Bay, reps []measure.Result) error {
	type object struct {
		Clip   string    `json:"clip"`
		Width  int       `json:"width"`
		Height int       `json:"height"`
		FPS    float64   `json:"fps"`
		Frames int       `json:"frames"`
		Hand   string    `json:"hand"`
		Reps   []jsonRep `json:"reps"`
	}
	o := object{info.Name, info.Width, info.Height, round(info.FPS, 3), info.Frames, b.Hand.String(), []jsonRep{}}
	for _, r := range reps {
		j := asJSON(r.Rep)
		j.Body = bodyJSON(r)
		o.Reps = append(o.Reps, j)
	}
	e := json.NewEncoder(c.out)
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
	m := r.Moments
	return jsonRep{
		Number: r.Number, Start: number(m.Start, 3), BackStart: number(m.BackStart, 3), Level: number(m.Level, 3),
		Catch: number(m.Catch, 3), Top: number(m.Top, 3), Impact: number(m.Impact, 4), End: number(m.End, 3),
		Manner: r.Manner.String(), Smoothness: number(r.Smoothness, 2), Line: number(r.ShaftLine.Value, 1), Sigma: number(r.ShaftLine.Sigma, 1),
		Elevation: number(r.Elevation.Value, 1), Depth: number(r.Depth.Value, 1), Tempo: number(r.Tempo, 2),
		TempoLow: number(r.TempoLow, 2), TempoHigh: number(r.TempoHigh, 2), Verdict: r.Verdict.String(), Why: why(r), BodyWhy: r.BodyWhy,
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

// printTable prints the reps for a person.
func printTable(c console, info clip.Info, reps []measure.Result) error {
	fmt.Fprintf(c.out, "%s: %d × %d, %.4g frames a second, %s, %s\n", info.Name, info.Width, info.Height, info.FPS, count(info.Frames, "frame"), count(len(reps), "rep"))
	if len(reps) == 0 {
		fmt.Fprintln(c.out, "No rep was found. The player must be seen from behind the hands, down the target line, still for half a second at address.")
		return nil
	}
	w := tabwriter.NewWriter(c.out, 0, 0, 2, ' ', 0)
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
			side(p.ShaftLine), depth(p.Depth), p.Manner, ratio, verdict(p))
	}
	if err := w.Flush(); err != nil {
		return err
	}
	if reps[0].FaceOn {
		fmt.Fprintln(c.out, "Seen face-on: the shaft line cannot be read from there.")
	}
	fmt.Fprintln(c.out, tableLegend)
	told := false
	for _, r := range reps {
		if l := bodyLine(r); l != "" {
			if !told {
				fmt.Fprintln(c.out, bodyLegend)
				told = true
			}
			fmt.Fprintln(c.out, l)
		}
	}
	return nil
}

// tableLegend says what stands in the table.
const tableLegend = `
start: the first motion; back: the backward motion; level: the shaft is level.
shaft line: seen from above where the shaft is level, inside is the player's side; sure to: one sigma.
depth: how far inside (+) the hands came since address. ratio: back to down. –: not measured.`

func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

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

func depth(r drills.Reading) string {
	if !r.OK() {
		return "–"
	}
	if math.Round(r.Value) == 0 {
		return "0 cm"
	}
	return fmt.Sprintf("%+.0f cm", r.Value)
}

func verdict(r drills.Rep) string {
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
