package app

import (
	"fmt"
	"math"
)

// Setup is what a user sets once: it is kept between starts.
type Setup struct {
	Theme       string  // "daylight" or "indoors"
	ScreenInch  float64 // the screen's diagonal, inches
	ViewMetres  float64 // from the mat to the screen
	Voice       bool
	Late        float64 // of the look-up picture, s
	Still       bool    // reduced motion: the bob steps
	Minutes     float64 // of a session that is planned
	Inches      bool    // lengths in inches and yards
	Quieter     Quieter // than full
	Asked       bool    // the screen size and distance were asked for
	OverlayOff  bool
	View        int // beside the verdict: 0 the live picture, 1 the look-up picture, 2 the scale alone
	LastClubCm  float64
	LastFieldOf float64
	// The camera that is opened at the next start, "" for the best one, and its
	// mode, zero for the best one.
	Camera string
	Mode   CameraMode
	Taps   bool // two taps of the club on the mat are heard
	// What stands on reports, "" for nothing.
	Coach, Place string
}

// Quieter is by how many steps of 3 dB each kind of sound is less than full, 0 to
// 9.
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

// CameraLine is a camera that is there, with its modes, the best first.
type CameraLine struct {
	Name  string
	Modes []CameraMode
	InUse bool
}

// Defaults are the settings until asked: a 15.6-inch screen at 3.5 m.
func Defaults() Setup {
	return Setup{Theme: "daylight", ScreenInch: 15.6, ViewMetres: 3.5, Voice: true, Late: 3, Minutes: 30}
}

const (
	// capMinutes is the capital height of what is read from the mat, and
	// floorMinutes the least (ISO 9241-303: 20–22 preferred, 16 at least).
	capMinutes   = 20.0
	floorMinutes = 16.0
	matLeast     = 105.0 // the mat size is never under this at 1280×720
)

// CapPixels is the height in px of a capital of so many minutes of arc, seen
// from a distance on a screen of diagonal inches and px.
func CapPixels(minutes, metres, inches, diagonal float64) float64 {
	height := 2 * metres * math.Tan(minutes/60*math.Pi/180/2)
	return height / (inches * 0.0254) * diagonal
}

// scales are the sizes of type and space for a window.
type scales struct {
	k     float64 // window against 1280×720
	mat   float64 // size of what is read from the mat, px
	floor float64 // the least it may become
	// need is the size below which it could not be read from the mat.
	small, body, heading, title float64
}

func scalesFor(w, h, diagonal float64, s Setup) scales {
	k := min(w/1280, h/720)
	up := max(k, 1)
	ideal := math.Ceil(CapPixels(capMinutes, s.ViewMetres, s.ScreenInch, diagonal) / CapHeight)
	least := math.Ceil(CapPixels(floorMinutes, s.ViewMetres, s.ScreenInch, diagonal) / CapHeight)
	return scales{
		k: k, mat: max(ideal, math.Round(matLeast*k)), floor: least,
		small: math.Round(17 * up), body: math.Round(20 * up), heading: math.Round(25 * up), title: math.Round(34 * up),
	}
}
