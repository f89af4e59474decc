// Package picture draws over the pictures of a rep: the line through target point and
// hands, the trace of the clubhead, the shaft.
package picture

import (
	"image"
	"image/color"
	"math"

	"drillbay/camera/lens"
	"drillbay/drills"
)

// What is drawn over pictures.
var (
	White  = color.RGBA{255, 255, 255, 255}
	casing = color.RGBA{11, 16, 19, 255}
	Trace  = color.RGBA{140, 196, 255, 255}
	Shaft  = color.RGBA{245, 174, 98, 255} // outside
)

// ShaftOf is the colour of the shaft of a rep: that of its side, as on the
// screens; white in line.
func ShaftOf(v drills.Verdict) color.RGBA {
	switch v {
	case drills.Inside:
		return Trace
	case drills.Outside:
		return Shaft
	}
	return White
}

// Half is a picture at half its size.
func Half(src *image.RGBA) *image.RGBA {
	w, h := src.Rect.Dx()/2, src.Rect.Dy()/2
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			for c := range 4 {
				s := 0
				for _, d := range [...]int{src.PixOffset(2*x, 2*y), src.PixOffset(2*x+1, 2*y), src.PixOffset(2*x, 2*y+1), src.PixOffset(2*x+1, 2*y+1)} {
					s += int(src.Pix[d+c])
				}
				out.Pix[out.PixOffset(x, y)+c] = byte(s / 4)
			}
		}
	}
	return out
}

// cover blends c over a pixel.
func cover(img *image.RGBA, x, y int, c color.RGBA, a float64) {
	if !(image.Point{X: x, Y: y}).In(img.Rect) || a <= 0 {
		return
	}
	a = min(a, 1)
	i := img.PixOffset(x, y)
	for k, v := range [...]uint8{c.R, c.G, c.B} {
		img.Pix[i+k] = byte(float64(img.Pix[i+k])*(1-a) + float64(v)*a)
	}
}

// shape covers the pixels whose distance from a thing is under r, after a
// casing 2 px wider.
func shape(img *image.RGBA, box image.Rectangle, r float64, c color.RGBA, distance func(x, y float64) float64) {
	box = box.Inset(-int(r) - 5).Intersect(img.Rect)
	for _, layer := range [...]struct {
		r float64
		c color.RGBA
	}{{r + 2, casing}, {r, c}} {
		for y := box.Min.Y; y < box.Max.Y; y++ {
			for x := box.Min.X; x < box.Max.X; x++ {
				cover(img, x, y, layer.c, layer.r+0.5-distance(float64(x)+0.5, float64(y)+0.5))
			}
		}
	}
}

func finite(p lens.Point) bool {
	return math.Abs(p.U) < 1e5 && math.Abs(p.V) < 1e5
}

// Stroke draws a line of half thickness r in a dark casing.
func Stroke(img *image.RGBA, a, b lens.Point, r float64, c color.RGBA) {
	if !finite(a) || !finite(b) {
		return
	}
	box := image.Rect(int(a.U), int(a.V), int(b.U), int(b.V)).Canon()
	du, dv := b.U-a.U, b.V-a.V
	n := max(du*du+dv*dv, 1e-9)
	shape(img, box, r, c, func(x, y float64) float64 {
		t := max(0, min(1, ((x-a.U)*du+(y-a.V)*dv)/n))
		return math.Hypot(x-a.U-t*du, y-a.V-t*dv)
	})
}

// Disc draws a disc in a dark casing.
func Disc(img *image.RGBA, p lens.Point, r float64, c color.RGBA) {
	if finite(p) {
		shape(img, image.Rect(int(p.U), int(p.V), int(p.U)+1, int(p.V)+1), r, c, func(x, y float64) float64 { return math.Hypot(x-p.U, y-p.V) })
	}
}

// Ring draws a white circle in a dark casing.
func Ring(img *image.RGBA, p lens.Point, r float64) {
	if finite(p) {
		box := image.Rect(int(p.U-r), int(p.V-r), int(p.U+r), int(p.V+r))
		shape(img, box, 1.5, White, func(x, y float64) float64 { return math.Abs(math.Hypot(x-p.U, y-p.V) - r) })
	}
}
