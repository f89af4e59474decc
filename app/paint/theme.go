// Package paint turns a View into pixels. It only draws: what is drawn, and
// where, is the view's.
package paint

import (
	"image/color"

	"drillbay/app"
)

// Theme gives each role its colour, opaque sRGB.
type Theme [app.Roles]color.NRGBA

// Daylight is for sun and bright halls: a white ground, for luminance beats
// glare.
func Daylight() Theme {
	return overPicture(Theme{
		app.Page: hex(0xFFFFFF), app.Plate: hex(0xEEF1F3), app.BandInk: hex(0xD9E3E8), app.Ink: hex(0x0E161B),
		app.Quiet: hex(0x47545D), app.Edge: hex(0x6E7B85), app.Inside: hex(0x0B55A6), app.Outside: hex(0x9C4200),
	})
}

// Indoors is for winter evenings.
func Indoors() Theme {
	return overPicture(Theme{
		app.Page: hex(0x10171C), app.Plate: hex(0x1B242A), app.BandInk: hex(0x2B3A43), app.Ink: hex(0xF3F5F3),
		app.Quiet: hex(0xB0BBC2), app.Edge: hex(0x7C8A94), app.Inside: hex(0x8CC4FF), app.Outside: hex(0xF0A04B),
	})
}

// overPicture adds the colours over the picture, which no theme changes.
func overPicture(t Theme) Theme {
	t[app.Core], t[app.Casing] = hex(0xFFFFFF), hex(0x0B1013)
	t[app.CoreInside], t[app.CoreOutside] = hex(0x8CC4FF), hex(0xF5AE62)
	return t
}

// Named is the theme of a name; any other name is daylight.
func Named(name string) Theme {
	if name == "indoors" {
		return Indoors()
	}
	return Daylight()
}

func hex(v uint32) color.NRGBA {
	return color.NRGBA{R: uint8(v >> 16), G: uint8(v >> 8), B: uint8(v), A: 255}
}
