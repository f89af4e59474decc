package app

import (
	"fmt"
	"math"
	"strings"

	"drillbay/drills"
)

// telling is a rep's verdict as every screen words it. This is the whole table:
//
//	in line, surely            in line, 3° to the inside
//	in line, perhaps not       just in line, 7° to the inside
//	inside or outside, surely  inside, 14°
//	and perhaps in line        just inside, 9°
//	stopped before level       short, 19° low
//	not read                   no reading, and why
//
// and of how the club came: placed, or "can't tell if swung". From the mat it is read in
// fewer words: "3° inside", "swung?".
type telling struct {
	word  string // the verdict with its shade
	angle string // "" without one
	how   string // "" when it was swung
	why   string // there is no reading, "" where there is one
}

func tellingOf(r drills.Rep) telling {
	t := telling{word: r.Verdict.String(), angle: degrees(r), how: manner(r)}
	switch {
	case r.Why == drills.SeenFaceOn: // there is no shaft line to judge
		t.word, t.how = r.Manner.String(), ""
	case r.Verdict == drills.NoReading && r.Why != "":
		t.why = whyOf(r.Why)
	case r.Verdict == drills.Short && r.Elevation.OK() && r.Elevation.Value < 0:
		t.angle = fmt.Sprintf("%.0f° low", -r.Elevation.Value)
	case t.angle != "" && r.Just:
		t.word = "just " + t.word
	}
	if r.Verdict == drills.InLine && t.angle != "" {
		t.angle += sideOf(r.ShaftLine.Value)
	}
	return t
}

// sideOf is the side of a shaft line behind its degrees, "" where these are 0.
func sideOf(line float64) string {
	switch d := math.Round(line); {
	case d > 0:
		return " to the inside"
	case d < 0:
		return " to the outside"
	}
	return ""
}

// short is the telling in the few words that are large on the mat.
func (t telling) short() telling {
	t.angle, t.how = strings.Replace(t.angle, " to the ", " ", 1), strings.Replace(t.how, unsure, "swung?", 1)
	return t
}

// String is the telling in a line.
func (t telling) String() string {
	out := t.word
	if t.angle != "" {
		out += ", " + t.angle
	}
	if t.how != "" {
		out += ", " + t.how
	}
	return out
}

// degrees is a shaft line as it is shown: whole degrees, without a sign, for
// the side is said by a word. It is "" without a reading.
func degrees(r drills.Rep) string {
	if r.Verdict == drills.NoReading || r.Verdict == drills.Short || !r.ShaftLine.OK() {
		return ""
	}
	return fmt.Sprintf("%.0f°", math.Abs(r.ShaftLine.Value))
}

// manner is the word for how the club came, "" when it was swung.
func manner(r drills.Rep) string {
	switch r.Manner {
	case drills.Placed:
		return "placed"
	case drills.Unsure:
		if r.Verdict != drills.NoReading {
			return unsure
		}
	}
	return ""
}

// unsure says that a club may have been placed.
const unsure = "can't tell if swung"

// mannerOf says in full how the club came.
func mannerOf(m drills.Manner) string {
	if m == drills.Unsure {
		return "can't tell if it was swung"
	}
	return m.String()
}

// wholeDegrees writes an uncertainty of one sigma in whole degrees, 1° at least.
func wholeDegrees(sigma float64) string { return fmt.Sprintf("%.0f°", math.Max(1, math.Round(sigma))) }

// whyOf says why a rep has no reading, in words that a coach would use across the mat; a
// reason that is not in the table stands as it is.
func whyOf(why string) string {
	why = strings.Replace(why, drills.SeenFaceOn, drills.SeenFaceOn+": "+drills.SideFaceOn, 1)
	var degrees float64
	if _, err := fmt.Sscanf(why, "only sure to %f°", &degrees); err == nil {
		return fmt.Sprintf("could be %.0f° off either way", degrees)
	}
	if said, ok := map[string]string{
		"the club was not followed through level": "lost sight of the club at level",
		"the club passed level unseen":            "club not seen at level",
		"hands and club were seen too seldom":     "hands and club hardly seen",
		"no address was seen before the motion":   "start from a still address",
		"the club was not held":                   "hold the club still at the catch",
	}[why]; ok {
		return said
	}
	return why
}
