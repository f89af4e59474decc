package net

import "math"

// Place is where a point is believed to be, patch px.
type Place struct {
	X, Y   float64
	Sigma  float64 // spread of what is believed about it, patch px
	Weight float64 // likelihood that it is about there, 0..1
}

// Finder finds points with a network. One goroutine uses it at a time.
type Finder struct {
	net *Net
	eye *eye
	p   []float64
}

// NewFinder works with n.
func NewFinder(n *Net) *Finder { return &Finder{n, newEye(), make([]float64, Cells*Cells)} }

// Look takes a patch of Channels × Size × Size in.
func (f *Finder) Look(patch []float32) { f.net.forward(f.eye, patch) }

// About is within how many cells a place is one.
const about = 2

// Places are the likeliest places of a point in the patch that was looked at
// last, at most most.
func (f *Finder) Places(point, most int) []Place {
	softmax(f.eye.out, point, f.p)
	var out []Place
	for range most {
		at := 0
		for i, p := range f.p {
			if p > f.p[at] {
				at = i
			}
		}
		if f.p[at] < 1e-4 {
			break
		}
		cy, cx := at/Cells, at%Cells
		var w, sx, sy, sxx, syy float64
		for y := max(0, cy-about); y <= min(Cells-1, cy+about); y++ {
			for x := max(0, cx-about); x <= min(Cells-1, cx+about); x++ {
				p := f.p[y*Cells+x]
				f.p[y*Cells+x] = 0
				dx, dy := offset(f.eye.out, point, y, x)
				u, v := Cell*(float64(x)+0.5)+dx, Cell*(float64(y)+0.5)+dy
				w += p
				sx, sy, sxx, syy = sx+p*u, sy+p*v, sxx+p*u*u, syy+p*v*v
			}
		}
		x, y := sx/w, sy/w
		out = append(out, Place{X: x, Y: y, Weight: w, Sigma: math.Sqrt(max(0, (sxx/w-x*x+syy/w-y*y)/2))})
	}
	return out
}
