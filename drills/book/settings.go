package book

import (
	"fmt"
	"math"
)

// Setup holds a user's settings, kept between starts.
type Setup struct {
	Theme      string  // "daylight" or "indoors"
	ScreenInch float64 // the screen's diagonal, inches
	ViewMetres float64 // from the mat to the screen
	Voice      bool
	Late       float64 // of the look-up picture, s
	Still      bool    // reduced motion: the bob steps
	Minutes    float64 // of a session that is planned
	Inches     bool    // lengths in inches and yards
	Quieter    Quieter // than full
	Asked      bool    // the screen size and distance were asked for
	OverlayOff bool
	View       int // beside the verdict: 0 the live picture, 1 the look-up picture, 2 the scale alone
	// The camera that is opened at the next start, "" for the best one, and its
	// mode, zero for the best one.
	Camera string
	Mode   CameraMode
	Taps   bool // two taps of the club on the mat are heard
	// What stands on reports, "" for nothing.
	Coach, Place string
}

// Quieter holds by how many steps of 3 dB each kind of sound is below full, 0 to 9.
type Quieter struct{ Voice, Beat, Tones int }

// Share is a sound's share of full after so many steps.
func (Quieter) Share(steps int) float64 { return math.Pow(10, -3*float64(steps)/20) }

// CameraMode is one way in which a camera can deliver; Rate is frames a second,
// 0 when the camera does not say.
type CameraMode struct {
	Width, Height int
	Rate          float64
	Format        string
}

func (m CameraMode) String() string {
	switch {
	case m == CameraMode{}:
		return "the best"
	case m.Rate <= 0:
		return fmt.Sprintf("%d × %d, %s", m.Width, m.Height, m.Format)
	}
	return fmt.Sprintf("%d × %d, %.4g/s, %s", m.Width, m.Height, m.Rate, m.Format)
}

// Defaults are the settings until asked: a 15.6-inch screen at 3.5 m.
func Defaults() Setup {
	return Setup{Theme: "daylight", ScreenInch: 15.6, ViewMetres: 3.5, Voice: true, Late: 3, Minutes: 30}
}
