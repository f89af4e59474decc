// Package camera lists cameras and their modes and reads one as a steady
// source of pictures, through mediadevices drivers.
package camera

import (
	"cmp"
	"fmt"
	"slices"

	mediaframe "github.com/pion/mediadevices/pkg/frame"
	"github.com/pion/mediadevices/pkg/prop"
)

// Mode is one way in which a camera can deliver. Rate is 0 when the camera
// does not say.
type Mode struct {
	Width, Height int     // px
	Rate          float64 // frames a second
	Format        string  // as the driver names it, "MJPEG"
}

func (m Mode) String() string {
	if m.Rate <= 0 {
		return fmt.Sprintf("%d × %d %s", m.Width, m.Height, m.Format)
	}
	return fmt.Sprintf("%d × %d at %.4g/s %s", m.Width, m.Height, m.Rate, m.Format)
}

// A rate above enoughRate and a picture above enoughWidth × enoughHeight are
// work without gain.
const (
	enoughRate                = 60
	enoughWidth, enoughHeight = 1280, 720
	leastHeight               = 480
	unknownRate               = 30
)

// formatCost orders formats by what they cost to decode; ok is false for
// formats that hold no picture for us.
func formatCost(format string) (cost int, ok bool) {
	switch mediaframe.Format(format) {
	case mediaframe.FormatI420:
		return 0, true
	case mediaframe.FormatNV12, mediaframe.FormatNV21:
		return 1, true
	case mediaframe.FormatYUYV, mediaframe.FormatYUY2, mediaframe.FormatUYVY:
		return 2, true
	case mediaframe.FormatI444, mediaframe.FormatRGBA:
		return 3, true
	case mediaframe.FormatMJPEG:
		return 4, true
	}
	return 0, false
}

// Rank returns the usable modes, best first: large enough to read at all, then
// by rate, then by size (1280 × 720 is enough), then by what decoding costs,
// and ties by name.
func Rank(modes []Mode) []Mode {
	var out []Mode
	for _, m := range modes {
		if _, ok := formatCost(m.Format); ok && m.Width > 0 && m.Height > 0 {
			out = append(out, m)
		}
	}
	slices.SortFunc(out, compareModes)
	return slices.Compact(out)
}

func compareModes(a, b Mode) int {
	small := func(m Mode) int { return boolToInt(m.Height < leastHeight) }
	rate := func(m Mode) float64 {
		if m.Rate <= 0 {
			return unknownRate
		}
		// 29.97 and 30 are one rate.
		return float64(int(min(m.Rate, enoughRate) + 0.5))
	}
	short := func(m Mode) int { return boolToInt(m.Width < enoughWidth || m.Height < enoughHeight) }
	area := func(m Mode) int {
		if short(m) == 1 {
			return -m.Width * m.Height
		}
		return m.Width * m.Height
	}
	cost := func(m Mode) int { c, _ := formatCost(m.Format); return c }
	return cmp.Or(
		cmp.Compare(small(a), small(b)),
		cmp.Compare(rate(b), rate(a)),
		cmp.Compare(short(a), short(b)),
		cmp.Compare(area(a), area(b)),
		cmp.Compare(cost(a), cost(b)),
		cmp.Compare(a.String(), b.String()),
	)
}

// modesOf are the modes among a driver's properties.
func modesOf(props []prop.Media) []Mode {
	modes := make([]Mode, 0, len(props))
	for _, p := range props {
		modes = append(modes, Mode{p.Width, p.Height, float64(p.FrameRate), string(p.FrameFormat)})
	}
	return Rank(modes)
}

func (m Mode) media() prop.Media {
	return prop.Media{Video: prop.Video{Width: m.Width, Height: m.Height,
		FrameRate: float32(m.Rate), FrameFormat: mediaframe.Format(m.Format)}}
}

// fullRange reports whether a camera's pictures use all of 0–255. Motion JPEG
// does (JFIF), and so does what is drawn or converted; the raw formats of
// cameras are limited (ITU-R BT.601).
func fullRange(label string, m Mode) bool {
	switch mediaframe.Format(m.Format) {
	case mediaframe.FormatMJPEG, mediaframe.FormatRGBA:
		return true
	}
	return label == DrawnLabel
}

// DrawnLabel is the label of a camera whose pictures are drawn.
const DrawnLabel = "virtual-bay"
