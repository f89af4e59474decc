package app

import (
	"math"

	"drillbay/drills/book"
)

// CameraLine is a camera that is there, with its modes, the best first.
type CameraLine struct {
	Name  string
	Modes []book.CameraMode
	InUse bool
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

func scalesFor(w, h, diagonal float64, s book.Setup) scales {
	k := min(w/1280, h/720)
	up := max(k, 1)
	ideal := math.Ceil(CapPixels(capMinutes, s.ViewMetres, s.ScreenInch, diagonal) / CapHeight)
	least := math.Ceil(CapPixels(floorMinutes, s.ViewMetres, s.ScreenInch, diagonal) / CapHeight)
	return scales{
		k: k, mat: max(ideal, math.Round(matLeast*k)), floor: least,
		small: math.Round(17 * up), body: math.Round(20 * up), heading: math.Round(25 * up), title: math.Round(34 * up),
	}
}
