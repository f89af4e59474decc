package frame

import (
	"fmt"
	"image"
)

// CopyImage fills p, which must have the image's size, from img. 4:2:0 and
// 4:2:2 images are copied plane by plane into a picture of either
// subsampling; any other image is converted. It returns an error when the
// size differs or the planes are shorter than the header says.
func (p *Picture) CopyImage(img image.Image) error {
	b := img.Bounds()
	if b.Dx() != p.Width || b.Dy() != p.Height {
		return fmt.Errorf("frame: picture is %d × %d, image is %d × %d", p.Width, p.Height, b.Dx(), b.Dy())
	}
	src, ok := img.(*image.YCbCr)
	if !ok {
		p.convert(img)
		return nil
	}
	switch src.SubsampleRatio {
	case image.YCbCrSubsampleRatio420, image.YCbCrSubsampleRatio422:
	default:
		p.convert(img)
		return nil
	}
	if b.Min.X&1 != 0 || b.Min.Y&1 != 0 {
		p.convert(img)
		return nil
	}
	srcRows := (p.Height + 1) / 2
	if src.SubsampleRatio == image.YCbCrSubsampleRatio422 {
		srcRows = p.Height
	}
	yo, co := src.YOffset(b.Min.X, b.Min.Y), src.COffset(b.Min.X, b.Min.Y)
	cw := p.ChromaWidth()
	if len(src.Y) < yo+(p.Height-1)*src.YStride+p.Width ||
		len(src.Cb) < co+(srcRows-1)*src.CStride+cw || len(src.Cr) < co+(srcRows-1)*src.CStride+cw {
		return fmt.Errorf("frame: the planes of a %d × %d image are too short", p.Width, p.Height)
	}
	for y := range p.Height {
		copy(p.Y[y*p.YStride:y*p.YStride+p.Width], src.Y[yo+y*src.YStride:])
	}
	step, avg := 1, false
	rows := p.ChromaHeight()
	switch {
	case srcRows == p.Height && p.Sub == Sub420 && p.Height > 1:
		step, avg = 2, true
	case srcRows != p.Height && p.Sub == Sub422:
		step = 0
	}
	for y := range rows {
		sy := y * step
		if step == 0 {
			sy = y / 2
		}
		d := y * p.CStride
		s := co + sy*src.CStride
		if avg && sy+1 < srcRows {
			average(p.Cb[d:d+cw], src.Cb[s:s+cw], src.Cb[s+src.CStride:s+src.CStride+cw])
			average(p.Cr[d:d+cw], src.Cr[s:s+cw], src.Cr[s+src.CStride:s+src.CStride+cw])
			continue
		}
		copy(p.Cb[d:d+cw], src.Cb[s:s+cw])
		copy(p.Cr[d:d+cw], src.Cr[s:s+cw])
	}
	return nil
}

func average(dst, a, b []byte) {
	for i := range dst {
		dst[i] = byte((uint(a[i]) + uint(b[i]) + 1) / 2)
	}
}

// convert takes any image through RGB (JFIF coefficients, ITU-T T.871).
func (p *Picture) convert(img image.Image) {
	b := img.Bounds()
	rows := p.ChromaHeight()
	vstep := 2
	if p.Sub == Sub422 {
		vstep = 1
	}
	ycc := func(x, y int) (int, int, int) {
		r16, g16, b16, _ := img.At(b.Min.X+x, b.Min.Y+y).RGBA()
		r, g, bl := int(r16>>8), int(g16>>8), int(b16>>8)
		yy := (19595*r + 38470*g + 7471*bl + 1<<15) >> 16
		cb := (-11056*r - 21712*g + 32768*bl + 257<<15) >> 16
		cr := (32768*r - 27440*g - 5328*bl + 257<<15) >> 16
		return yy, min(max(cb, 0), 255), min(max(cr, 0), 255)
	}
	for cy := range rows {
		for cx := range p.ChromaWidth() {
			var scb, scr, n int
			for dy := range vstep {
				for dx := range 2 {
					x, y := cx*2+dx, cy*vstep+dy
					if x >= p.Width || y >= p.Height {
						continue
					}
					yy, cb, cr := ycc(x, y)
					p.Y[y*p.YStride+x] = byte(yy)
					scb, scr, n = scb+cb, scr+cr, n+1
				}
			}
			p.Cb[cy*p.CStride+cx], p.Cr[cy*p.CStride+cx] = byte(scb/n), byte(scr/n)
		}
	}
}
