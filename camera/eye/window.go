package eye

import (
	"math"

	"drillbay/camera/frame"
)

// Window is the square of a picture that the eye looks at: its middle and its
// side in px of the picture, the middle of whose first pixel is at (0.5, 0.5).
// What of it lies outside the picture is mid grey.
type Window struct{ U, V, Side float64 }

// ok says whether the window is one that can be looked at.
func (w Window) ok() bool { return w.Side > 0 && w.Side < 1e5 && math.Abs(w.U)+math.Abs(w.V) < 1e6 }

// lanes is how many rows of the window are made together.
const lanes = 8

// sampler makes the network's input of pictures.
type sampler struct {
	luma, chroma struct{ across, down axis }
	rows         []float32    // lanes rows of a plane
	turned       []float32    // the same by column
	made         [5][]float32 // by column: Y, Cb, Cr, Y of the picture before and of the reference
}

// sample fills in, whose first side × side pixels are the window's.
func (s *sampler) sample(k *kernels, in *plane, side int, w Window, now, before, still *frame.Picture, mirrored bool) {
	s.reserve(side, max(now.Width, now.Height))
	step := w.Side / float64(side)
	u, v := w.U-w.Side/2, w.V-w.Side/2
	s.luma.across.set(side, u, step, now.Width)
	s.luma.down.set(side, v, step, now.Height)
	s.chroma.across.set(side, u/2, step/2, now.ChromaWidth())
	rows := 2.0
	if now.Sub == frame.Sub422 {
		rows = 1
	}
	s.chroma.down.set(side, v/rows, step/rows, now.ChromaHeight())
	widest := max(s.luma.across.till-s.luma.across.from+s.luma.across.taps, s.chroma.across.till-s.chroma.across.from+s.chroma.across.taps) + lanes
	s.rows = resize(s.rows, lanes*widest)
	s.turned = resize(s.turned, lanes*widest)
	for i := range s.made {
		s.made[i] = resize(s.made[i], lanes*side)
	}
	before, still = alike(before, now), alike(still, now)
	for y := 0; y < side; y += lanes {
		s.make(k, 0, y, now.Y, now.YStride, &s.luma.across, &s.luma.down)
		s.make(k, 1, y, now.Cb, now.CStride, &s.chroma.across, &s.chroma.down)
		s.make(k, 2, y, now.Cr, now.CStride, &s.chroma.across, &s.chroma.down)
		if before != nil {
			s.make(k, 3, y, before.Y, before.YStride, &s.luma.across, &s.luma.down)
		}
		if still != nil {
			s.make(k, 4, y, still.Y, still.YStride, &s.luma.across, &s.luma.down)
		}
		s.colour(in, side, y, now.Full, before != nil, still != nil, mirrored)
	}
}

// reserve makes room for any window within a picture whose longer side is
// given, so that only the first look at such a picture allocates.
func (s *sampler) reserve(side, longer int) {
	step := float64(longer) / float64(side)
	for _, a := range [...]*axis{&s.luma.across, &s.luma.down, &s.chroma.across, &s.chroma.down} {
		a.reserve(side, step)
	}
	widest := lanes * (longer + int(step) + 2 + 2*lanes)
	s.rows, s.turned = resize(s.rows, widest), resize(s.turned, widest)
}

// alike is p where it can be compared with now, else nil.
func alike(p, now *frame.Picture) *frame.Picture {
	if p == nil || p.Width != now.Width || p.Height != now.Height || p.Full != now.Full {
		return nil
	}
	return p
}

// make makes the rows y..y+lanes of one plane of the window, by column.
func (s *sampler) make(k *kernels, which, y int, data []byte, stride int, across, down *axis) {
	n := across.till - across.from
	pitch := (n + lanes - 1) &^ (lanes - 1)
	if n == 0 {
		clear(s.made[which])
		return
	}
	for r := range lanes {
		row := s.rows[r*pitch : r*pitch+n]
		clear(row)
		first := int(down.start[y+r]) + down.from
		for t, w := range down.weight[(y+r)*down.taps : (y+r+1)*down.taps] {
			if w > 0 {
				i := (first+t)*stride + across.from
				k.weigh(row, data[i:i+n], w)
			}
		}
	}
	k.turn(s.turned, s.rows, pitch, pitch)
	k.mix(s.made[which], s.turned, across.start, across.weight, across.taps)
}

// colour makes the network's channels of the planes. Colours are JFIF's
// (ITU-T T.871), the limited range ITU-R BT.601's.
func (s *sampler) colour(in *plane, side, y int, full, before, still, mirrored bool) {
	dark, light, vivid := float32(0), float32(1), float32(1)
	if !full {
		dark, light, vivid = 16, 255./219, 255./224
	}
	const red, greenCb, greenCr, blue = 1.402, 0.344136, 0.714136, 1.772
	light /= 127.5
	vivid /= 127.5
	change := light * 127.5 / 64
	for r := range lanes {
		cover := s.luma.down.cover[y+r]
		coverC := 128 * s.chroma.down.cover[y+r]
		row := in.v[(y+r)*in.width*Channels : ((y+r)*in.width+side)*Channels]
		for x := range side {
			i := x*lanes + r
			grey := cover * s.luma.across.cover[x]
			none := coverC * s.chroma.across.cover[x]
			l := s.made[0][i]
			lum := (l-dark*grey)*light - grey
			cb, cr := (s.made[1][i]-none)*vivid, (s.made[2][i]-none)*vivid
			o := x
			if mirrored {
				o = side - 1 - x
			}
			p := (*[Channels]float32)(row[o*Channels:])
			p[0] = min(max(lum+red*cr, -1), 1)
			p[1] = min(max(lum-greenCb*cb-greenCr*cr, -1), 1)
			p[2] = min(max(lum+blue*cb, -1), 1)
			p[3], p[4] = 0, 0
			if before {
				p[3] = min(max((l-s.made[3][i])*change, -2), 2)
			}
			if still {
				p[4] = min(max((l-s.made[4][i])*change, -2), 2)
			}
		}
	}
}
