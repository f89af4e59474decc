package ledger

import (
	"encoding/csv"
	"io"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"drillbay/drills"
)

// WriteCSV writes reps as a table for a spreadsheet (RFC 4180, UTF-8): angles
// in degrees, depth in cm, times in seconds, empty where not measured. Text
// that a spreadsheet would take for a formula gets an apostrophe before it.
func WriteCSV(to io.Writer, reps []Record) error {
	w := csv.NewWriter(to)
	w.UseCRLF = true
	if err := w.Write(append([]string{"id", "time", "player", "hand", "session", "set", "drill", "rung", "kind", "club", "club_m", "rep", "verdict", "just", "manner", "counts", "taken_back",
		"shaft_line_deg", "shaft_line_sigma_deg", "elevation_deg", "elevation_sigma_deg", "depth_cm", "depth_sigma_cm", "height_cm", "height_sigma_cm", "top_height_cm", "top_height_sigma_cm", "smoothness",
		"tempo_ratio", "tempo_low", "tempo_high", "start_s", "back_start_s", "level_s", "catch_s", "top_s", "impact_s", "end_s",
		"why", "coach", "note"}, append(bodyColumns(), "body_why", "views", "coach_body")...)); err != nil {
		return err
	}
	for _, r := range reps {
		p, m := r.Rep, r.Rep.Moments
		cells := []string{r.ID, r.At.UTC().Format(stampForm), safe(r.Player.Name), r.Player.Hand.String(), r.Session, strconv.Itoa(r.Set), safe(r.Drill), strconv.Itoa(r.Rung),
			string(r.Kind), safe(r.Club), figure(zeroIsNone(r.ClubLong)), strconv.Itoa(p.Number), p.Verdict.String(), strconv.FormatBool(p.Just), p.Manner.String(),
			strconv.FormatBool(r.Counts()), strconv.FormatBool(r.Taken)}
		for _, v := range []float64{p.ShaftLine.Value, p.ShaftLine.Sigma, p.Elevation.Value, p.Elevation.Sigma, p.Depth.Value, p.Depth.Sigma, orNone(p.Height).Value, orNone(p.Height).Sigma, orNone(p.TopHeight).Value, orNone(p.TopHeight).Sigma, p.Smoothness,
			p.Tempo, p.TempoLow, p.TempoHigh, m.Start, m.BackStart, m.Level, m.Catch, m.Top, m.Impact, m.End} {
			cells = append(cells, figure(v))
		}
		cells = append(cells, safe(p.Why), safe(r.Coach), safe(r.Note))
		for _, x := range p.Body {
			cells = append(cells, figure(orNone(x).Value), figure(orNone(x).Sigma))
		}
		if err := w.Write(append(cells, safe(p.BodyWhy), p.Views.String(), coachedCell(r.Coached))); err != nil {
			return err
		}
	}
	w.Flush()
	return w.Error()
}

// coachedCell are the readings of the body with the joints where the coach put
// them, as "spine_tilt 3.2 ± 1.1; head_up 2 ± 2", in the units of their columns.
func coachedCell(b drills.Body) string {
	var out []string
	for p, r := range b {
		if r.Known() {
			out = append(out, drills.BodyPart(p).Key()+" "+figure(math.Round(10*r.Value)/10)+" ± "+figure(math.Round(10*r.Sigma)/10))
		}
	}
	return strings.Join(out, "; ")
}

// safe guards against formulas (OWASP, "CSV Injection": = + - @ tab, carriage
// return and line feed at the start of a cell, and the wide forms of the
// signs).
func safe(s string) string {
	if first, _ := utf8.DecodeRuneInString(s); s != "" && strings.ContainsRune("=+-@\t\r\n＝＋－＠", first) {
		return "'" + s
	}
	return s
}

func orNone(r drills.Reading) drills.Reading {
	if r.Known() {
		return r
	}
	return drills.None()
}

func zeroIsNone(v float64) float64 {
	if v == 0 {
		return math.NaN()
	}
	return v
}

func figure(v float64) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return ""
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}
