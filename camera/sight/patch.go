package sight

import (
	"math"
	"slices"

	"drillbay/camera/frame"
	"drillbay/camera/lens"
	"drillbay/camera/sight/net"
)

// The part of the picture that a Patch covers, about where the hands are at
// address: PatchStep m a pixel, of a metre square on to the lens there.
const (
	PatchSize = net.Size
	PatchStep = 0.013
	// The hands at address lie here in it, patch px.
	PatchHandsX, PatchHandsY = 43.0, 46.0
)

// Patch says how a patch lies on the picture.
type Patch struct {
	Hands   lens.Point // at address, in the analysed picture, px
	Step    float64    // px of the picture for one of the patch
	Turn    float64    // radians
	Size    int        // patch px
	Left    bool
	OriginX float64 // of Hands, patch px
	OriginY float64
}

// patch is how patches of a player lie.
func (s Setting) patch(hands lens.Point) Patch {
	return Patch{Hands: hands, Step: PatchStep * s.perMetre(s.Distance), Size: PatchSize, Left: s.View.Left, OriginX: PatchHandsX, OriginY: PatchHandsY}
}

// Point is where a point of a patch is in the analysed picture.
func (f Patch) Point(x, y float64) lens.Point {
	sn, c := math.Sincos(f.Turn)
	x, y = (x-f.OriginX)*f.Step, (y-f.OriginY)*f.Step
	return lens.Point{U: f.Hands.U + c*x - sn*y, V: f.Hands.V + sn*x + c*y}
}

// Of is where a point of the analysed picture is in the patch.
func (f Patch) Of(p lens.Point) (x, y float64) {
	sn, c := math.Sincos(f.Turn)
	u, v := (p.U-f.Hands.U)/f.Step, (p.V-f.Hands.V)/f.Step
	return c*u + sn*v + f.OriginX, -sn*u + c*v + f.OriginY
}

// Levels adds the luma of a picture in the patch to dst, times share, each
// patch pixel the mean of what it covers.
func (f Patch) Levels(dst []float32, p *frame.Picture, share float32) {
	n := max(1, int(math.Ceil(f.Step*0.8)))
	sn, c := math.Sincos(f.Turn)
	share /= float32(n * n)
	for y := range f.Size {
		for x := range f.Size {
			s := 0
			for j := range n {
				for i := range n {
					a := (float64(x) + (float64(i)+0.5)/float64(n) - f.OriginX) * f.Step
					b := (float64(y) + (float64(j)+0.5)/float64(n) - f.OriginY) * f.Step
					u, v := int(f.Hands.U+c*a-sn*b), int(f.Hands.V+sn*a+c*b)
					if f.Left {
						u = p.Width - 1 - u
					}
					u, v = max(0, min(u, p.Width-1)), max(0, min(v, p.Height-1))
					s += int(p.Y[v*p.YStride+u])
				}
			}
			dst[y*f.Size+x] += float32(s) * share
		}
	}
}

// Mean is the mean of pictures in the patch.
func (f Patch) Mean(pics []*frame.Picture) []float32 {
	dst := make([]float32, f.Size*f.Size)
	for _, p := range pics {
		f.Levels(dst, p, 1/float32(len(pics)))
	}
	return dst
}

// Median is the median of pictures in the patch: what is there without the
// club.
func (f Patch) Median(pics []*frame.Picture) []float32 {
	all := make([][]float32, len(pics))
	for i, p := range pics {
		all[i] = f.Mean([]*frame.Picture{p})
	}
	out := make([]float32, f.Size*f.Size)
	buf := make([]float32, len(pics))
	for i := range out {
		for j := range all {
			buf[j] = all[j][i]
		}
		slices.Sort(buf)
		out[i] = buf[len(buf)/2]
	}
	return out
}

// Channels puts what the network sees into dst, three planes of n levels:
// the picture, what is new in it against address, and against the motion; in
// units of the spread of the picture at address.
func Channels(dst, now, calm, scene []float32) {
	n := len(now)
	var s, ss float64
	for _, v := range calm {
		s += float64(v)
		ss += float64(v) * float64(v)
	}
	mean := float32(s / float64(n))
	per := float32(1 / math.Max(8, math.Sqrt(math.Max(0, ss/float64(n)-float64(mean)*float64(mean)))))
	for i, v := range now {
		dst[i] = max(-4, min(4, (v-mean)*per))
		dst[n+i] = max(-4, min(4, 2*(v-calm[i])*per))
		dst[2*n+i] = max(-4, min(4, 2*(v-scene[i])*per))
	}
}
