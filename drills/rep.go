package drills

import (
	"fmt"
	"math"
	"strings"
)

// Reading is a measured value with its 1-sigma uncertainty, in the unit its
// field names. Value is NaN where there is no reading.
type Reading struct{ Value, Sigma float64 }

// None is the reading that is not there.
func None() Reading { return Reading{math.NaN(), math.NaN()} }

// OK reports whether there is a reading.
func (r Reading) OK() bool { return !math.IsNaN(r.Value) }

// Known reports whether there is a reading with an uncertainty: a value that
// was never set has none.
func (r Reading) Known() bool { return r.OK() && r.Sigma > 0 }

// Moments are seconds of the capture clock; NaN where the drill has no such
// moment or it was not seen.
type Moments struct {
	Start     float64 // first motion: the head passes 5 % of the rep's peak speed
	BackStart float64 // the turn-round; equal to Start without a forward swing
	Level     float64 // shaft first parallel to the ground in the backswing
	Catch     float64 // the club stops
	Top       float64
	Impact    float64
	End       float64 // the hold or the finish ends
}

// Main is the moment that a rep is read and looked at by: where the shaft is level, else
// the catch, else the top; NaN without any.
func (m Moments) Main() float64 { return FirstOf(m.Level, m.Catch, m.Top) }

// NoMoments has every moment missing.
func NoMoments() Moments {
	n := math.NaN()
	return Moments{n, n, n, n, n, n, n}
}

// Rep is one repetition as it was measured. Angles are degrees (+ inside),
// depth is cm (+ inside), times are seconds of the capture clock.
type Rep struct {
	Number    int
	Moments   Moments
	Verdict   Verdict
	Just      bool    // less than 95 % of the interval lies on the named side
	Why       string  // why there is no reading, or what widens it; "" otherwise
	ShaftLine Reading // degrees
	Elevation Reading // degrees: of the catch, or 0 at a crossed level moment
	Depth     Reading // cm
	// Height is the height of the hands above where they were at address, cm, at the level
	// moment; TopHeight is the same at the top. Not Known where a drill has no such moment
	// or it was not measured.
	Height, TopHeight Reading
	Manner            Manner
	// Body are the readings of the body; BodyWhy says what of it was not seen, or
	// cannot be told from where the camera stands, "" when all was read.
	Body    Body
	BodyWhy string
	Views   Views // from which of two cameras each is
	// Smoothness is the SPARC of the motion from turn-round to catch
	// (Balasubramanian et al. 2015), NaN when not measured.
	Smoothness float64
	// Tempo is (top − start) / (impact − top), ordinary swings only; its low
	// and high ends are what the frame time allows (95 %).
	Tempo, TempoLow, TempoHigh float64
}

// FaceOn reports whether the rep was seen from the front: without a shaft line it
// can neither count nor miss.
func (r Rep) FaceOn() bool { return strings.Contains(r.Why, SeenFaceOn) }

// Counts reports whether the rep counts: in line and swung.
func (r Rep) Counts() bool { return r.Verdict == InLine && r.Manner == Swung }

// SeenFaceOn says why a rep that was seen from the front has no shaft line.
const SeenFaceOn = "the shaft line is not read face-on"

// SideFaceOn says why: a shaft that points 10° outside is 1.5 % shorter in the picture.
const SideFaceOn = "outside or inside is toward the camera or away from it, which hardly shows"

// ShaftLevel says how far a shaft is from level: "3° below level".
func ShaftLevel(elevation float64) string {
	switch v := math.Round(elevation); {
	case v < 0:
		return fmt.Sprintf("%.0f° below level", -v)
	case v > 0:
		return fmt.Sprintf("%.0f° above level", v)
	}
	return "level"
}

// Band is the half width, in degrees, of the shaft lines that count as in line.
const Band = 8.0

// Deep is the depth in cm above which the hands came deep (common practice).
const Deep = 8.0

// ShortOf is the elevation below level, in degrees, beyond which a stop is short.
const ShortOf = 12.0

// MaxSigma is the largest 1-sigma uncertainty of a reading, in degrees.
const MaxSigma = 4.0

// Judge gives the verdict of a shaft line with a band, both in degrees, and
// whether it is only just so: a side is said plainly when 95 % of the
// interval (one-sided) lies on it.
func Judge(line Reading, band float64) (v Verdict, just bool) {
	if !line.OK() || line.Sigma > MaxSigma {
		return NoReading, false
	}
	const z95 = 1.6448536269514722
	past := math.Abs(line.Value) - band
	switch {
	case past <= 0:
		v = InLine
	case line.Value > 0:
		v = Inside
	default:
		v = Outside
	}
	return v, math.Abs(past) < z95*line.Sigma
}
