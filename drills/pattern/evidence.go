package pattern

import (
	"fmt"
	"math"

	"drillbay/drills"
)

// Evidence are the numbers of a pattern. A Mean of fewer than Fewest values
// decides nothing.
type Evidence struct {
	Reps      int
	Readings  int // with a shaft line
	Line      drills.Mean
	Beyond    drills.Share // outside the band, of the readings
	Depth     drills.Mean  // cm
	Height    drills.Mean  // cm, at level
	Rise      drills.Mean  // cm, from level to the top
	LevelAt   drills.Mean  // the level moment's share of the backswing's time
	Placed    drills.Share // of the reps whose manner is known
	Faces     map[drills.Face]int
	Shoulder  drills.Mean  // cm
	Ratio     drills.Mean  // tempo ratio
	Backswing drills.Mean  // s
	Own       float64      // the player's own median backswing, s
	Hasty     drills.Share // of the reps with a rhythm
	Agreed    drills.Share // the coach's own verdicts that say what was read
	Drift     Drift
}

func gather(reps []Rep, a Asked) Evidence {
	e := Evidence{Reps: len(reps), Faces: map[drills.Face]int{}}
	var line, depth, height, rise, level, ratio, back, shoulder []float64
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
			if r.TopHeight.Known() {
				rise = append(rise, r.TopHeight.Value-r.Height.Value)
			}
		}
		if r.Shoulder.Known() {
			shoulder = append(shoulder, r.Shoulder.Value)
		}
		if r.Form != drills.FormOrdinary && r.Manner != drills.Unsure {
			// A swing without a stop cannot be placed.
			e.Placed = count(e.Placed, r.Manner == drills.Placed)
		}
		if r.Face != drills.Unmarked {
			e.Faces[r.Face]++
		}
		if r.Coach != drills.NoReading && r.Verdict != drills.NoReading {
			e.Agreed = count(e.Agreed, r.Coach == r.Verdict)
		}
		m := r.Moments
		if b := m.Top - m.BackStart; b > 0 {
			if at := (m.Level - m.BackStart) / b; at > 0 && at < 1 {
				level = append(level, at)
			}
			if r.Tempo > 0 {
				ratio, back = append(ratio, r.Tempo), append(back, b)
			}
		}
	}
	e.Readings = len(line)
	e.Line, e.Depth, e.Height, e.Rise = drills.MeanOf(line), drills.MeanOf(depth), drills.MeanOf(height), drills.MeanOf(rise)
	e.LevelAt, e.Ratio, e.Backswing, e.Shoulder = drills.MeanOf(level), drills.MeanOf(ratio), drills.MeanOf(back), drills.MeanOf(shoulder)
	e.Own = a.Backswing
	if e.Own == 0 {
		e.Own = drills.Quantile(back, 0.5)
	}
	for i := range ratio {
		e.Hasty = count(e.Hasty, ratio[i] < hastyRatio && back[i] < hasty*e.Own)
	}
	e.Drift = driftOf(reps)
	return e
}

func count(s drills.Share, good bool) drills.Share { return s.Add(drills.Counted([]bool{good})) }

// OwnBackswing is the median time from takeaway to top over ordinary swings,
// s; 0 from fewer than Fewest.
func OwnBackswing(reps []Rep) float64 {
	var back []float64
	for _, r := range reps {
		if b := r.Moments.Top - r.Moments.BackStart; r.Tempo > 0 && b > 0 {
			back = append(back, b)
		}
	}
	if len(back) < Fewest {
		return 0
	}
	return drills.Quantile(back, 0.5)
}

// use names a part of the evidence.
type use uint8

const (
	useLine use = iota
	useDepth
	useFace
	useManner
	useHeight
	useRise
	useRhythm
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
		return fmt.Sprintf("Shaft line %s on average (%d readings, 95 %% between %s and %s); %s outside the band.",
			Side(e.Line.Value), e.Line.N, Side(e.Line.Low), Side(e.Line.High), e.Beyond)
	case u == useDepth && e.Depth.N >= Fewest:
		return fmt.Sprintf("Hands %+.0f cm deep on average at level (%d readings, 95 %% between %+.0f and %+.0f cm; + is inside).", e.Depth.Value, e.Depth.N, e.Depth.Low, e.Depth.High)
	case u == useFace && len(e.Faces) > 0:
		return fmt.Sprintf("Face marked open %d, neutral %d, shut %d times.", e.Faces[drills.Open], e.Faces[drills.Neutral], e.Faces[drills.Shut])
	case u == useManner && e.Placed.Of >= Fewest:
		return fmt.Sprintf("%s placed, not swung (at least %.0f %% in the long run).", e.Placed, 100*e.Placed.Low())
	case u == useHeight && e.Height.N >= Fewest:
		return fmt.Sprintf("Hands %.0f cm higher at level than at address (%d readings).", e.Height.Value, e.Height.N)
	case u == useRise && e.Rise.N >= Fewest:
		return fmt.Sprintf("From level to the top they gain %.0f cm (%d readings).", e.Rise.Value, e.Rise.N)
	case u == useRhythm && e.Hasty.Of >= Fewest:
		return fmt.Sprintf("%s ordinary swings with a ratio under %.0f to 1 and a backswing under %.2f s, the usual one being %.2f s.", e.Hasty, hastyRatio, hasty*e.Own, e.Own)
	}
	return ""
}

// Side is a shaft line in words: "5° inside".
func Side(degrees float64) string {
	switch d := math.Round(degrees); {
	case d > 0:
		return fmt.Sprintf("%.0f° inside", d)
	case d < 0:
		return fmt.Sprintf("%.0f° outside", -d)
	}
	return "in line"
}
