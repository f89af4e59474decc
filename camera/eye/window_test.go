package eye

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drillbay/camera/frame"
)

// mean is the mean of a plane over a rectangle and the share of it within the
// plane, by the definition: each sample weighted by what it covers.
func mean(data []byte, stride, width, height int, u0, v0, u1, v1 float64) (sum, cover float64) {
	for y := max(0, int(v0)); y < height && float64(y) < v1; y++ {
		for x := max(0, int(u0)); x < width && float64(x) < u1; x++ {
			a := (min(u1, float64(x+1)) - max(u0, float64(x))) * (min(v1, float64(y+1)) - max(v0, float64(y)))
			if a > 0 {
				sum += a * float64(data[y*stride+x])
				cover += a
			}
		}
	}
	a := (u1 - u0) * (v1 - v0)
	return sum / a, cover / a
}

func TestWindowsAreAreaMeansInColour(t *testing.T) {
	cases := []struct {
		name string
		w    Window
		sub  frame.Subsampling
		full bool
	}{
		{"whole picture", Window{160, 90, 320}, frame.Sub420, true},
		{"closer", Window{150.3, 81.7, 171.3}, frame.Sub420, true},
		{"enlarged", Window{150.3, 81.7, 40}, frame.Sub420, true},
		{"over the corner", Window{10, 170, 101}, frame.Sub422, true},
		{"limited range", Window{100, 90, 130}, frame.Sub422, false},
		{"outside", Window{-500, 90, 130}, frame.Sub420, true},
	}
	const side = 64
	for _, k := range available() {
		for _, c := range cases {
			t.Run(k.name+", "+c.name, func(t *testing.T) {
				now, before, still := noise(1, 320, 180, c.sub), noise(2, 320, 180, c.sub), noise(3, 320, 180, c.sub)
				now.Full, before.Full, still.Full = c.full, c.full, c.full
				in := newPlane(side+1, side+2, Channels)
				var s sampler
				s.sample(&k, &in, side, c.w, now, before, still, false)
				step := c.w.Side / side
				for y := 0; y < side; y += 3 {
					for x := 0; x < side; x += 3 {
						at := func(data []byte, stride, width, height int, kx, ky float64) (float64, float64) {
							mu, mv := (c.w.U-c.w.Side/2+(float64(x)+0.5)*step)/kx, (c.w.V-c.w.Side/2+(float64(y)+0.5)*step)/ky
							wu, wv := max(1, step/kx)/2, max(1, step/ky)/2
							return mean(data, stride, width, height, mu-wu, mv-wv, mu+wu, mv+wv)
						}
						rows := 2.0
						if c.sub == frame.Sub422 {
							rows = 1
						}
						l, grey := at(now.Y, now.YStride, 320, 180, 1, 1)
						lb, _ := at(before.Y, before.YStride, 320, 180, 1, 1)
						ls, _ := at(still.Y, still.YStride, 320, 180, 1, 1)
						cb, none := at(now.Cb, now.CStride, now.ChromaWidth(), now.ChromaHeight(), 2, rows)
						cr, _ := at(now.Cr, now.CStride, now.ChromaWidth(), now.ChromaHeight(), 2, rows)
						ky, kc, dark := 1.0, 1.0, 0.0
						if !c.full {
							ky, kc, dark = 255./219, 255./224, 16
						}
						ly, cb, cr := ky*(l-dark*grey), kc*(cb-128*none), kc*(cr-128*none)
						want := [Channels]float64{
							(ly+1.402*cr)/127.5 - grey, (ly-0.344136*cb-0.714136*cr)/127.5 - grey, (ly+1.772*cb)/127.5 - grey,
							ky * (l - lb) / 64, ky * (l - ls) / 64,
						}
						for i, w := range want {
							limit := 1.0
							if i > 2 {
								limit = 2
							}
							got := in.v[(y*in.width+x)*Channels+i]
							require.InDelta(t, min(max(w, -limit), limit), got, 2e-4, "%d,%d channel %d", x, y, i)
						}
					}
				}
			})
		}
	}
}

// A picture before of another size or range tells nothing, nor does none.
func TestWithoutAPictureBeforeNothingMoves(t *testing.T) {
	now, smaller, limited := noise(1, 320, 180, frame.Sub420), noise(2, 160, 90, frame.Sub420), noise(3, 320, 180, frame.Sub420)
	limited.Full = false
	k := available()[0]
	for _, before := range []*frame.Picture{nil, smaller, limited} {
		in := newPlane(33, 34, Channels)
		var s sampler
		s.sample(&k, &in, 32, Window{100, 90, 130}, now, before, before, false)
		for i := 0; i < len(in.v); i += Channels {
			require.Zero(t, in.v[i+3])
			require.Zero(t, in.v[i+4])
		}
	}
}

// mirror is the picture seen in a mirror; its width must be a multiple of 2.
func mirror(p *frame.Picture) *frame.Picture {
	q := frame.New(p.Width, p.Height, p.Sub)
	turn := func(dst, src []byte, stride, width int) {
		for i := range dst {
			y, x := i/stride, i%stride
			dst[i] = src[y*stride+width-1-x]
		}
	}
	turn(q.Y, p.Y, p.YStride, p.Width)
	turn(q.Cb, p.Cb, p.CStride, p.ChromaWidth())
	turn(q.Cr, p.Cr, p.CStride, p.ChromaWidth())
	return q
}

// A left-hander's picture looked at mirrored gives, mirrored and with the sides
// exchanged, what the right-hander's gives.
func TestAMirroredPictureGivesTheMirroredAnswer(t *testing.T) {
	e := net(t).NewEye()
	now, before, still := noise(4, 640, 360, frame.Sub420), noise(5, 640, 360, frame.Sub420), noise(6, 640, 360, frame.Sub420)
	w := Window{250.5, 170, 300}
	right := e.Look(w, now, before, still, false)
	w.U = 640 - w.U
	left := e.Look(w, mirror(now), mirror(before), mirror(still), true)
	other := map[Point]Point{LeftShoulder: RightShoulder, LeftElbow: RightElbow, LeftWrist: RightWrist, LeftHip: RightHip, LeftKnee: RightKnee, LeftAnkle: RightAnkle}
	for a, b := range other {
		other[b] = a
	}
	require.Len(t, other, 12)
	for p := range Point(Points) {
		q, ok := other[p]
		if !ok {
			q = p
		}
		a, b := right.Places[p], left.Places[q]
		assert.InDelta(t, 640-a.U, b.U, 0.05, p)
		assert.InDelta(t, a.V, b.V, 0.05, p)
		assert.InDelta(t, a.UU, b.UU, 0.02*a.UU, p)
		assert.InDelta(t, -a.UV, b.UV, 0.02*math.Sqrt(a.UU*a.VV), p)
		assert.InDelta(t, a.VV, b.VV, 0.02*a.VV, p)
		assert.InDelta(t, a.Here, b.Here, 0.01, p)
		assert.InDelta(t, a.Seen, b.Seen, 0.01, p)
	}
}

func TestAWindowWithoutASideSeesNothing(t *testing.T) {
	e := net(t).NewEye()
	for _, w := range []Window{{}, {10, 10, -5}, {math.NaN(), 1, 20}, {1, math.Inf(1), 20}, {1, 1, math.NaN()}, {1, 1, 1e300}, {math.Inf(-1), 1, 5}} {
		seen := e.Look(w, noise(1, 64, 64, frame.Sub420), nil, nil, false)
		assert.True(t, seen.Places == [Points]Place{}, "%v", w)
	}
}

// Pictures of any size and windows anywhere give an input within its limits.
func TestAnyWindowOfAnyPicture(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 12))
	for _, k := range available() {
		var s sampler
		in := newPlane(33, 34, Channels)
		for i := range 300 {
			sub := frame.Subsampling(r.IntN(2))
			now := noise(uint64(i), 1+r.IntN(40), 1+r.IntN(40), sub)
			before := noise(uint64(i), now.Width, now.Height, sub)
			w := Window{100*r.Float64() - 30, 100*r.Float64() - 30, math.Exp(9*r.Float64() - 2)}
			require.True(t, w.ok())
			s.sample(&k, &in, 32, w, now, before, nil, i%2 == 0)
			for y := range 32 {
				for x, v := range in.v[y*34*Channels : (y*34+32)*Channels] {
					limit := float32(1)
					if x%Channels == 3 {
						limit = 2
					}
					require.True(t, v >= -limit && v <= limit, "%v of %d × %d: %v", w, now.Width, now.Height, v)
				}
			}
		}
	}
}
