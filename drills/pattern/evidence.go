package pattern

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"drillbay/drills"
)

// Evidence are the numbers of a pattern. A Mean of fewer than Fewest values
// decides nothing.
type Evidence struct {
	Reps      int
	Readings  int // with a shaft line
	Line      drills.Mean
	Middle    float64      // of the shaft lines, half of which lie on either side
	Beyond    drills.Share // outside the band, of the readings
	Depth     drills.Mean  // cm
	Height    drills.Mean  // cm, at level
	Top       drills.Mean  // cm, height at the top of ordinary swings
	LevelAt   drills.Mean  // the level moment's share of their backswing's time
	Placed    drills.Share // of the reps with a stop whose manner is known
	Free      int          // reps without a stop: they cannot be placed
	Faces     map[drills.Face]int
	Shoulder  drills.Mean // hands inside of the place under the lead shoulder, cm, by the coach's mark or as it was read
	Body      [drills.BodyParts]drills.Mean
	Slips     [drills.BodyParts][2]int // reps plainly below and above its band
	Coached   [drills.BodyParts]int    // how many of Body's come from joints that the coach put right
	Ratio     drills.Mean              // tempo ratio
	Backswing drills.Mean              // s
	Own       float64                  // the player's own median backswing, s
	Hasty     drills.Share             // of the reps with a rhythm
	Agreed    drills.Share             // the coach's own verdicts that say what was read
	Drift     Drift
}

func gather(reps []Rep, a Beside) Evidence {
	e := Evidence{Reps: len(reps), Faces: map[drills.Face]int{}}
	var line, depth, height, top, level, ratio, back, shoulder []float64
	for _, r := range reps {
		if r.ShaftLine.OK() && r.Verdict != drills.NoReading {
			line = append(line, r.ShaftLine.Value)
			e.Beyond = count(e.Beyond, math.Abs(r.ShaftLine.Value) > a.Band)
		}
		if r.Depth.Known() {
			depth = append(depth, r.Depth.Value)
		}
		if r.Height.Known() {
			height = append(height, r.Height.Value)
		}
		switch under := r.Body[drills.HandsUnder]; {
		case r.Shoulder.Known(): // the coach's mark comes first
			shoulder = append(shoulder, r.Shoulder.Value)
		case under.Known():
			shoulder = append(shoulder, -under.Value)
		}
		switch {
		case r.Form == drills.FormOrdinary:
			e.Free++
		case r.Manner != drills.Unsure:
			e.Placed = count(e.Placed, r.Manner == drills.Placed)
		}
		if r.Face != drills.Unmarked {
			e.Faces[r.Face]++
		}
		if r.Coach != drills.NoReading && r.Verdict != drills.NoReading {
			e.Agreed = count(e.Agreed, r.Coach == r.Verdict)
		}
		m := r.Moments
		if b := m.Top - m.BackStart; b > 0 && r.Tempo > 0 {
			// Swings from address alone: others are not comparable.
			ratio, back = append(ratio, r.Tempo), append(back, b)
			if at := (m.Level - m.BackStart) / b; at > 0 && at < 1 {
				level = append(level, at)
			}
			if r.TopHeight.Known() {
				top = append(top, r.TopHeight.Value)
			}
		}
	}
	if len(top) < Fewest {
		level, top = tops(slices.Concat(a.Earlier, reps))
	}
	e.body(slices.Concat(reps, a.FaceOn), a.Bands)
	e.Readings, e.Middle = len(line), drills.Quantile(line, 0.5)
	e.Line, e.Depth, e.Height, e.Top = drills.MeanOf(line), drills.MeanOf(depth), drills.MeanOf(height), drills.MeanOf(top)
	e.LevelAt, e.Ratio, e.Backswing, e.Shoulder = drills.MeanOf(level), drills.MeanOf(ratio), drills.MeanOf(back), drills.MeanOf(shoulder)
	e.Own, e.Hasty = hasteOf(a.Earlier, reps)
	e.Drift = driftOf(reps)
	return e
}

func count(s drills.Share, good bool) drills.Share { return s.Add(drills.Counted([]bool{good})) }

// rhythmSwings is over how many of the last ordinary swings haste is judged
// when a session alone does not show it: a session has few of them.
const rhythmSwings = 20

// hasteOf is a player's own median from takeaway to top, s, and how many of
// the session's ordinary swings, or of the last ones, were much shorter with
// a low ratio.
func hasteOf(earlier, reps []Rep) (own float64, hurried drills.Share) {
	var back []float64
	var low []bool
	session := 0 // where it begins
	for i, r := range slices.Concat(earlier, reps) {
		if b := r.Moments.Top - r.Moments.BackStart; b > 0 && r.Tempo > 0 {
			back, low = append(back, b), append(low, r.Tempo < hastyRatio)
			if i < len(earlier) {
				session = len(back)
			}
		}
	}
	own = drills.Quantile(back, 0.5)
	since := func(i int) (s drills.Share) {
		for ; i < len(back); i++ {
			s = count(s, low[i] && back[i] < hasty*own)
		}
		return s
	}
	hurried = since(session)
	if last := since(max(0, len(back)-rhythmSwings)); often(hurried) != yes && (hurried.Of < Fewest || often(last) == yes) {
		hurried = last
	}
	return own, hurried
}

// tops returns when the shaft is level, as a share of the backswing's time, and how high
// the hands are at the top, cm, in the last ordinary swings: one session has few of them.
func tops(reps []Rep) (level, top []float64) {
	for _, r := range slices.Backward(reps) {
		m := r.Moments
		b := m.Top - m.BackStart
		if !(b > 0) || !(r.Tempo > 0) {
			continue
		}
		if at := (m.Level - m.BackStart) / b; at > 0 && at < 1 && len(level) < rhythmSwings {
			level = append(level, at)
		}
		if r.TopHeight.Known() && len(top) < rhythmSwings {
			top = append(top, r.TopHeight.Value)
		}
	}
	return level, top
}

// use names a part of the evidence.
type use uint8

const (
	useLine use = iota
	useDepth
	useFace
	useManner
	useHeight
	useTop
	useRhythm
	useShoulder
)

// sentences tell the parts of the evidence that were used.
func (e Evidence) sentences(uses []use) []string {
	var out []string
	for _, u := range uses {
		if s := e.sentence(u); s != "" {
			out = append(out, s)
		}
	}
	if e.Agreed.Of > 0 {
		out = append(out, fmt.Sprintf("The coach's own verdict agrees with the reading in %s.", e.Agreed))
	}
	return out
}

func (e Evidence) sentence(u use) string {
	switch {
	case u == useLine && e.Line.N >= Fewest:
		return fmt.Sprintf("Shaft line %s on average (%d readings, %s); %s not in line.",
			Side(e.Line.Value), e.Line.N, within(Side(e.Line.Low), Side(e.Line.High)), e.Beyond)
	case u == useDepth && e.Depth.N >= Fewest:
		return fmt.Sprintf("Hands %s of where they began, on average at level (%d readings, %s).", inward(e.Depth.Value), e.Depth.N, within(inward(e.Depth.Low), inward(e.Depth.High)))
	case u == useFace && len(e.Faces) > 0:
		return fmt.Sprintf("Face marked open %d, neutral %d, shut %d times.", e.Faces[drills.Open], e.Faces[drills.Neutral], e.Faces[drills.Shut])
	case u == useManner && e.Placed.Of >= Fewest && e.Placed.Good == 0:
		return fmt.Sprintf("None of %d placed: all were swung.", e.Placed.Of)
	case u == useManner && e.Placed.Of >= Fewest:
		low, high := e.Placed.Bounds()
		return fmt.Sprintf("%s placed, not swung (95 %% between %.0f and %.0f %%).", e.Placed, 100*low, 100*high)
	case u == useHeight && e.Height.N >= Fewest:
		way := "higher"
		if math.Round(e.Height.Value) < 0 {
			way = "lower"
		}
		return fmt.Sprintf("Hands %.0f cm %s at level than at address (%d readings, %s).", math.Abs(e.Height.Value), way, e.Height.N, between(drills.HeadUp, e.Height))
	case u == useTop && e.Top.N >= Fewest && e.LevelAt.N >= Fewest:
		return fmt.Sprintf("In ordinary swings the shaft is level after %.0f %% of the backswing, and the hands are %.0f cm above address at the top (%d swings).",
			100*e.LevelAt.Value, e.Top.Value, e.Top.N)
	case u == useShoulder && e.Shoulder.N >= Fewest:
		return fmt.Sprintf("Hands %s of the place under the lead shoulder, on average (%d readings; within %.0f cm is good).", inward(e.Shoulder.Value), e.Shoulder.N, drills.UnderShoulder)
	case u == useRhythm && e.Hasty.Of >= Fewest:
		return fmt.Sprintf("%s ordinary swings with a ratio under %.0f to 1 and a backswing under %.2f s, the usual one being %.2f s.", e.Hasty, hastyRatio, hasty*e.Own, e.Own)
	}
	return ""
}

// inward is a depth in words: "7 cm outside".
func inward(cm float64) string {
	if math.Round(cm) < 0 {
		return fmt.Sprintf("%.0f cm outside", -cm)
	}
	return fmt.Sprintf("%.0f cm inside", math.Abs(cm))
}

// between is within for a part of the body.
func between(p drills.BodyPart, m drills.Mean) string {
	if s := p.Between(m.Low, m.High); strings.Contains(s, " and ") {
		return "95 % between " + s
	} else {
		return "about " + s
	}
}

// within says between which values something lies, as they are written: two that are
// written alike are about one.
func within(low, high string) string {
	if low == high {
		return "about " + low
	}
	return "95 % between " + low + " and " + high
}

// Side is a shaft line in words: "5° inside", "0°".
func Side(degrees float64) string {
	switch d := math.Round(degrees); {
	case d > 0:
		return fmt.Sprintf("%.0f° inside", d)
	case d < 0:
		return fmt.Sprintf("%.0f° outside", -d)
	}
	return "0°" // in line is what the band says
}
