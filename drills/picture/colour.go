package picture

import (
	"image"
	"image/color"

	"drillbay/camera/frame"
)

// RGBA is a picture in colours of the full range.
func RGBA(p *frame.Picture) *image.RGBA {
	src := p.Image()
	out := image.NewRGBA(src.Rect)
	for y := range p.Height {
		for x := range p.Width {
			c := src.YCbCrAt(x, y)
			if !p.Full {
				c.Y = byte(min(255, max(0, (int(c.Y)-16)*255/219)))
			}
			r, g, b := color.YCbCrToRGB(c.Y, c.Cb, c.Cr)
			i := out.PixOffset(x, y)
			out.Pix[i], out.Pix[i+1], out.Pix[i+2], out.Pix[i+3] = r, g, b, 255
		}
	}
	return out
}
