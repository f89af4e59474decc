package eye

import "math"

// kernels are the loops that take the time, in one of several forms that all
// give the same to within rounding. Sizes must be as packed: input channels a
// multiple of 4, output channels and channels a multiple of 8.
type kernels struct {
	name string
	// pointwise does n pixels of one panel of 8 or 16 columns: dst[i·ldc+o] =
	// clamp(bias + Σ src[i·lda+c] · weight).
	pointwise func(dst []float32, ldc int, src []float32, lda, n int, panel []float32, in, columns int, lo, hi float32)
	// depthwise does n pixels of a row from three rows, which begin at the
	// first pixel's left tap.
	depthwise func(dst, r0, r1, r2 []float32, d *depth, n int, lo, hi float32)
	// add is dst += src, whose length is a multiple of 8.
	add func(dst, src []float32)
	// weigh is dst += w · src, as long as src.
	weigh func(dst []float32, src []byte, w float32)
	// turn puts n columns of eight rows, pitch apart, side by side; n is a
	// multiple of 8.
	turn func(dst, src []float32, pitch, n int)
	// mix makes a column of eight for each of starts: taps weighted columns
	// from the one that it names.
	mix func(dst, src []float32, starts []int32, weights []float32, taps int)
}

// limits are what results are held to.
type limits struct{ lo, hi float32 }

func relu6() limits { return limits{0, 6} }

func free() limits { return limits{float32(math.Inf(-1)), float32(math.Inf(1))} }

// run does rows rows of width pixels; a row begins pitch numbers after the
// one before. A panel's weights serve all rows before the next panel's.
func (k *kernels) run(d *dense, dst []float32, ldc, dstPitch int, src []float32, lda, srcPitch, rows, width int, within limits) {
	at := 0
	for from := 0; from < d.out; from += panel {
		columns := min(panel, d.out-from)
		size := columns * (1 + d.in)
		for y := range rows {
			k.pointwise(dst[y*dstPitch+from:], ldc, src[y*srcPitch:], lda, width, d.packed[at:at+size], d.in, columns, within.lo, within.hi)
		}
		at += size
	}
}

// plain is written in Go alone: what the others are checked against, and what
// runs where there is no other.
func plain() kernels {
	return kernels{name: "plain", pointwise: pointwisePlain, depthwise: depthwisePlain, add: addPlain,
		weigh: weighPlain, turn: turnPlain, mix: mixPlain}
}

func pointwisePlain(dst []float32, ldc int, src []float32, lda, n int, panel []float32, in, columns int, lo, hi float32) {
	for i := range n {
		x := src[i*lda : i*lda+in]
		for o := 0; o < columns; o += 8 {
			s := [8]float32(panel[o:])
			w := panel[columns+o:]
			for _, v := range x {
				t := (*[8]float32)(w)
				s[0] += v * t[0]
				s[1] += v * t[1]
				s[2] += v * t[2]
				s[3] += v * t[3]
				s[4] += v * t[4]
				s[5] += v * t[5]
				s[6] += v * t[6]
				s[7] += v * t[7]
				w = w[min(columns, len(w)):]
			}
			out := dst[i*ldc+o:]
			for c, v := range s {
				out[c] = min(max(v, lo), hi)
			}
		}
	}
}

func depthwisePlain(dst, r0, r1, r2 []float32, d *depth, n int, lo, hi float32) {
	c := d.channels
	for i := range n {
		at := i * d.stride * c
		for from := 0; from < c; from += group {
			w := d.packed[from*10 : from*10+10*group]
			s := [group]float32(w)
			for y, row := range [3][]float32{r0, r1, r2} {
				for x := range 3 {
					in := (*[group]float32)(row[at+x*c+from:])
					t := (*[group]float32)(w[group*(1+3*y+x):])
					for j := range s {
						s[j] += in[j] * t[j]
					}
				}
			}
			out := dst[i*c+from:]
			for j, v := range s {
				out[j] = min(max(v, lo), hi)
			}
		}
	}
}

func addPlain(dst, src []float32) {
	dst = dst[:len(src)]
	for i, v := range src {
		dst[i] += v
	}
}

func weighPlain(dst []float32, src []byte, w float32) {
	dst = dst[:len(src)]
	for i, v := range src {
		dst[i] += w * float32(v)
	}
}

func turnPlain(dst, src []float32, pitch, n int) {
	for i := range n {
		for r := range lanes {
			dst[i*lanes+r] = src[r*pitch+i]
		}
	}
}

func mixPlain(dst, src []float32, starts []int32, weights []float32, taps int) {
	for i, start := range starts {
		var s [lanes]float32
		for t, w := range weights[i*taps : (i+1)*taps] {
			for r, v := range (*[lanes]float32)(src[(int(start)+t)*lanes:]) {
				s[r] += w * v
			}
		}
		*(*[lanes]float32)(dst[i*lanes:]) = s
	}
}
