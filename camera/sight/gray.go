package sight

import (
	"math"

	"drillbay/camera/frame"
)

// gray is a part of the picture in floating point levels, at 1/K of its size.
// Its top left pixel is (X, Y) of the reduced picture. Points given to its
// methods are in pixels of the whole picture.
type gray struct {
	X, Y, W, H, K int
	Pix           []float32
}

// newGray has room for the region r of the whole picture at 1/k of its size.
func newGray(r region, k int) *gray {
	g := &gray{X: r.X / k, Y: r.Y / k, W: r.W / k, H: r.H / k, K: k}
	g.Pix = make([]float32, g.W*g.H)
	return g
}

// like has the size of g, cleared.
func (g *gray) like() *gray {
	h := *g
	h.Pix = make([]float32, len(g.Pix))
	return &h
}

func (g *gray) clear() { clear(g.Pix) }

// at is the level at a point of the whole picture (the middle of pixel (0, 0)
// at (0.5, 0.5)), bilinear, its edge repeated.
func (g *gray) at(u, v float64) float32 {
	k := float64(g.K)
	x, y := u/k-0.5-float64(g.X), v/k-0.5-float64(g.Y)
	x = max(0, min(x, float64(g.W)-1.000001))
	y = max(0, min(y, float64(g.H)-1.000001))
	ix, iy := int(x), int(y)
	fx, fy := float32(x-float64(ix)), float32(y-float64(iy))
	i := iy*g.W + ix
	p := g.Pix[i : i+g.W+2]
	a := p[0] + fx*(p[1]-p[0])
	b := p[g.W] + fx*(p[g.W+1]-p[g.W])
	return a + fy*(b-a)
}

func (g *gray) inside(u, v float64) bool {
	k := float64(g.K)
	x, y := u/k-float64(g.X), v/k-float64(g.Y)
	return x >= 1 && y >= 1 && x <= float64(g.W)-1 && y <= float64(g.H)-1
}

// region is a rectangle of whole pixels.
type region struct{ X, Y, W, H int }

// around is the rectangle from (u0, v0) to (u1, v1) within a picture of w × h,
// its sides multiples of 8 so that it can be reduced.
func around(u0, v0, u1, v1 float64, w, h int) region {
	x0, y0 := max(0, int(u0))/8*8, max(0, int(v0))/8*8
	x1, y1 := min(w, int(u1)+8)/8*8, min(h, int(v1)+8)/8*8
	return region{x0, y0, max(x1-x0, 16), max(y1-y0, 16)}
}

// load copies the luma of p within g's rectangle, of the mirrored picture for
// a left-hander.
func (g *gray) load(p *frame.Picture, left bool) {
	g.clear()
	g.add(p, left)
}

// add adds the luma of p, each reduced pixel the mean of its K × K.
func (g *gray) add(p *frame.Picture, left bool) {
	k, share := g.K, 1/float32(g.K*g.K)
	for y := range g.H {
		dst := g.Pix[y*g.W:][:g.W]
		for row := range k {
			line := p.Y[((g.Y+y)*k+row)*p.YStride:][:p.Width]
			if left {
				addMirrored(dst, line, p.Width-1-g.X*k, k, share)
				continue
			}
			line = line[g.X*k:]
			if k == 1 {
				for x, b := range line[:g.W] {
					dst[x] += float32(b)
				}
				continue
			}
			for x := range dst {
				s := 0
				for _, b := range line[x*k : x*k+k] {
					s += int(b)
				}
				dst[x] += float32(s) * share
			}
		}
	}
}

func addMirrored(dst []float32, line []byte, last, k int, share float32) {
	for x := range dst {
		s := 0
		for j := range k {
			s += int(line[last-x*k-j])
		}
		dst[x] += float32(s) * share
	}
}

func (g *gray) scale(k float32) {
	for i := range g.Pix {
		g.Pix[i] *= k
	}
}

// mean is the mean luma of pictures within r, at 1/k of their size.
func mean(pics []*frame.Picture, r region, k int, left bool) *gray {
	g := newGray(r, k)
	for _, p := range pics {
		g.add(p, left)
	}
	if len(pics) > 0 {
		g.scale(1 / float32(len(pics)))
	}
	return g
}

// blur smooths with a Gaussian of sigma reduced px, separably, the edge repeated.
func (g *gray) blur(sigma float64) *gray {
	k := gaussian(sigma)
	n := len(k) / 2
	tmp := make([]float32, len(g.Pix))
	out := g.like()
	for y := range g.H {
		row, dst := g.Pix[y*g.W:][:g.W], tmp[y*g.W:][:g.W]
		for x := range g.W {
			var s float32
			for j, w := range k {
				s += w * row[max(0, min(x+j-n, g.W-1))]
			}
			dst[x] = s
		}
	}
	for y := range g.H {
		dst := out.Pix[y*g.W:][:g.W]
		for j, w := range k {
			row := tmp[max(0, min(y+j-n, g.H-1))*g.W:][:g.W]
			for x := range dst {
				dst[x] += w * row[x]
			}
		}
	}
	return out
}

// gaussian is a normalised kernel of at least 5 taps, 3 sigma each way.
func gaussian(sigma float64) []float32 {
	n := max(2, int(math.Ceil(3*sigma)))
	k := make([]float32, 2*n+1)
	var s float64
	for i := range k {
		d := float64(i-n) / sigma
		k[i] = float32(math.Exp(-d * d / 2))
		s += float64(k[i])
	}
	for i := range k {
		k[i] /= float32(s)
	}
	return k
}

// halve is g at half the size.
func halve(g *gray) *gray {
	h := &gray{X: g.X / 2, Y: g.Y / 2, W: g.W / 2, H: g.H / 2, K: g.K * 2}
	h.Pix = make([]float32, h.W*h.H)
	for y := range h.H {
		a, b := g.Pix[2*y*g.W:][:g.W], g.Pix[(2*y+1)*g.W:][:g.W]
		for x := range h.W {
			h.Pix[y*h.W+x] = (a[2*x] + a[2*x+1] + b[2*x] + b[2*x+1]) / 4
		}
	}
	return h
}
