package laptop

import (
	"fmt"
	"math"
)

// ScreenFigures is the screen and how far away it is read.
type ScreenFigures struct {
	Width, Height int     // px; 0 where they cannot be asked
	Diagonal      float64 // inches; 0 unknown
	Viewing       float64 // m from the mat to the screen
	There         bool    // there is one
}

// capitalArc is the height of a capital letter that is read with ease, in
// minutes of arc (ISO 9241-303).
const capitalArc = 20

// CapitalHeight returns the height that capitals must have on the screen to be read from
// the viewing distance, px; NaN when the screen's size is not known.
func (s ScreenFigures) CapitalHeight() float64 {
	if s.Diagonal <= 0 || s.Width <= 0 || s.Height <= 0 {
		return math.NaN()
	}
	metres := 2 * s.Viewing * math.Tan(capitalArc/60.0*math.Pi/180/2)
	perMetre := math.Hypot(float64(s.Width), float64(s.Height)) / (s.Diagonal * 0.0254)
	return metres * perMetre
}

// JudgeScreen grades the screen by how much of it a verdict of eight capitals
// takes, which are about 0.7 as wide as high.
func JudgeScreen(s ScreenFigures) Finding {
	f := Finding{Check: "screen"}
	switch {
	case !s.There:
		f.Remedy = "no screen was found: everything important is spoken"
		return f
	case s.Width <= 0 || s.Height <= 0:
		f.Remedy = "its size cannot be asked here: set its diagonal and your distance in the settings"
		return f
	}
	f.Figure = fmt.Sprintf("%d × %d", s.Width, s.Height)
	f.Grade = Good
	capital := s.CapitalHeight()
	if math.IsNaN(capital) {
		f.Grade = Fair
		f.Remedy = "the screen's size is not known: set its diagonal and your distance in the settings"
		return f
	}
	f.Figure += fmt.Sprintf(", %.3g″, capitals of %.0f px at %.3g m", s.Diagonal, capital, s.Viewing)
	switch wide := 8 * 0.7 * capital / float64(s.Width); {
	case wide > 1 || s.Height < 480:
		f.Grade = Poor
		f.Remedy = "too small to read from the mat: bring it nearer, out of the club's reach, or connect a larger screen"
	case wide > 0.5 || s.Height < 720:
		f.Grade = Fair
		f.Remedy = "small from the mat: a larger screen, or one that stands nearer, shows more"
	}
	return f
}
