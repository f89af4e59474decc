package eye

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// others are this machine's kernels beside the plain ones.
func others(t *testing.T) []kernels {
	t.Helper()
	all := available()
	require.Equal(t, "plain", all[len(all)-1].name)
	if len(all) == 1 {
		t.Skip("this machine has the plain kernels only")
	}
	return all[:len(all)-1]
}

func numbers(r *rand.Rand, n int) []float32 {
	v := make([]float32, n)
	for i := range v {
		v[i] = float32(r.NormFloat64())
	}
	return v
}

// same compares what two kernels wrote, beyond the end too: nothing may be
// written that was not asked for.
func same(t *testing.T, want, got []float32, what ...any) {
	t.Helper()
	require.Len(t, got, len(want))
	for i := range want {
		if d := want[i] - got[i]; d > 1e-4 || d < -1e-4 || d != d {
			require.InDelta(t, want[i], got[i], 1e-4, append([]any{"number %d, %v"}, i, what)...)
		}
	}
}

func TestPointwiseKernels(t *testing.T) {
	for _, k := range others(t) {
		t.Run(k.name, func(t *testing.T) {
			r := rand.New(rand.NewPCG(1, 2))
			for n := range 30 {
				for _, in := range []int{4, 16, 48, 100} {
					for _, columns := range []int{8, 16} {
						ldc, lda := columns+8*r.IntN(3), in+r.IntN(5)
						src, panel := numbers(r, n*lda+1), numbers(r, columns*(1+in))
						want := numbers(r, n*ldc+32)
						got := append([]float32(nil), want...)
						lo, hi := float32(-1-r.Float64()), float32(2*r.Float64())
						pointwisePlain(want, ldc, src, lda, n, panel, in, columns, lo, hi)
						k.pointwise(got, ldc, src, lda, n, panel, in, columns, lo, hi)
						same(t, want, got, n, in, columns)
					}
				}
			}
		})
	}
}

func TestDepthwiseKernels(t *testing.T) {
	for _, k := range others(t) {
		t.Run(k.name, func(t *testing.T) {
			r := rand.New(rand.NewPCG(3, 4))
			for n := range 14 {
				for _, c := range []int{8, 16, 24, 48, 144} {
					for _, stride := range []int{1, 2} {
						d := packDepth(numbers(r, c*9), numbers(r, c), c, stride)
						size := (n*stride + 3) * c
						r0, r1, r2 := numbers(r, size), numbers(r, size), numbers(r, size)
						want := numbers(r, n*c+16)
						got := append([]float32(nil), want...)
						lo, hi := float32(-1-r.Float64()), float32(2*r.Float64())
						depthwisePlain(want, r0, r1, r2, &d, n, lo, hi)
						k.depthwise(got, r0, r1, r2, &d, n, lo, hi)
						same(t, want, got, n, c, stride)
					}
				}
			}
		})
	}
}

func TestRowKernels(t *testing.T) {
	for _, k := range others(t) {
		t.Run(k.name, func(t *testing.T) {
			r := rand.New(rand.NewPCG(5, 6))
			for n := range 40 {
				want := numbers(r, 8*n+8)
				got := append([]float32(nil), want...)
				src := numbers(r, 8*n)
				addPlain(want, src)
				k.add(got, src)
				same(t, want, got, "add", n)

				data := make([]byte, n)
				for i := range data {
					data[i] = byte(r.IntN(256))
				}
				w := float32(r.NormFloat64()) / 255
				weighPlain(want, data, w)
				k.weigh(got, data, w)
				same(t, want, got, "weigh", n)
			}
		})
	}
}

func TestWindowKernels(t *testing.T) {
	for _, k := range others(t) {
		t.Run(k.name, func(t *testing.T) {
			r := rand.New(rand.NewPCG(7, 8))
			for n := 8; n < 64; n += 8 {
				pitch := n + r.IntN(4)
				src := numbers(r, lanes*pitch)
				want := numbers(r, lanes*n+8)
				got := append([]float32(nil), want...)
				turnPlain(want, src, pitch, n)
				k.turn(got, src, pitch, n)
				same(t, want, got, "turn", n)

				taps, made := 1+r.IntN(7), 1+r.IntN(20)
				starts, weights := make([]int32, made), numbers(r, made*taps)
				for i := range starts {
					starts[i] = int32(r.IntN(n - taps + 1))
				}
				want = numbers(r, lanes*made+8)
				got = append([]float32(nil), want...)
				mixPlain(want, src, starts, weights, taps)
				k.mix(got, src, starts, weights, taps)
				same(t, want, got, "mix", n)
			}
		})
	}
}

// The plain kernels are what the others are held against: they are checked by
// the definition of the convolution.
func TestPlainKernelsByDefinition(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 10))
	const n, in, out = 5, 7, 11
	w, b, src := numbers(r, in*out), numbers(r, out), numbers(r, n*8)
	d := packDense(w, b, in, out)
	require.Equal(t, 8, d.in)
	require.Equal(t, 16, d.out)
	dst := make([]float32, n*d.out)
	k := plain()
	k.run(&d, dst, d.out, 0, src, 8, 0, 1, n, limits{-1, 1})
	for i := range n {
		for o := range out {
			s := b[o]
			for c := range in {
				s += w[o*in+c] * src[i*8+c]
			}
			assert.InDelta(t, min(max(s, -1), 1), dst[i*d.out+o], 1e-5)
		}
	}
	const channels = 16
	for _, stride := range []int{1, 2} {
		w, b := numbers(r, channels*9), numbers(r, channels)
		p := packDepth(w, b, channels, stride)
		rows := [3][]float32{numbers(r, 20*channels), numbers(r, 20*channels), numbers(r, 20*channels)}
		dst := make([]float32, n*channels)
		depthwisePlain(dst, rows[0], rows[1], rows[2], &p, n, -100, 100)
		for i := range n {
			for c := range channels {
				s := b[c]
				for y := range 3 {
					for x := range 3 {
						s += w[c*9+3*y+x] * rows[y][(i*stride+x)*channels+c]
					}
				}
				assert.InDelta(t, s, dst[i*channels+c], 1e-5)
			}
		}
	}
}
