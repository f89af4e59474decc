package eye

// available are the kernels that this machine can run, the quickest first:
// every arm64 has NEON.
func available() []kernels {
	return []kernels{{name: "NEON", pointwise: pointwiseNEON, depthwise: depthwiseASM, add: addASM,
		weigh: weighASM, turn: turnPlain, mix: mixASM}, plain()}
}

// pointwise4x16 and those after it do tiles times so many pixels of so many
// output channels.
//
//go:noescape
func pointwise4x16(dst *float32, ldc int, src *float32, lda int, k int, panel *float32, lo float32, hi float32, tiles int)

//go:noescape
func pointwise4x8(dst *float32, ldc int, src *float32, lda int, k int, panel *float32, lo float32, hi float32, tiles int)

//go:noescape
func pointwise1x16(dst *float32, ldc int, src *float32, lda int, k int, panel *float32, lo float32, hi float32, tiles int)

//go:noescape
func pointwise1x8(dst *float32, ldc int, src *float32, lda int, k int, panel *float32, lo float32, hi float32, tiles int)

// depthwise4s1 and those after it do blocks times so many pixels of a row.
//
//go:noescape
func depthwise4s1(dst *float32, r0 *float32, r1 *float32, r2 *float32, w *float32, c int, lo float32, hi float32, blocks int)

//go:noescape
func depthwise4s2(dst *float32, r0 *float32, r1 *float32, r2 *float32, w *float32, c int, lo float32, hi float32, blocks int)

//go:noescape
func depthwise1s1(dst *float32, r0 *float32, r1 *float32, r2 *float32, w *float32, c int, lo float32, hi float32, blocks int)

//go:noescape
func depthwise1s2(dst *float32, r0 *float32, r1 *float32, r2 *float32, w *float32, c int, lo float32, hi float32, blocks int)

// add8 adds n numbers, a multiple of 8, to others.
//
//go:noescape
func add8(dst *float32, src *float32, n int)

// weigh8 adds n bytes, a multiple of 8, times w.
//
//go:noescape
func weigh8(dst *float32, src *byte, n int, w float32)

// mix8 makes n columns of eight of taps weighted columns each, from the one
// that starts says.
//
//go:noescape
func mix8(dst *float32, src *float32, starts *int32, weights *float32, taps int, n int)

func pointwiseNEON(dst []float32, ldc int, src []float32, lda, n int, panel []float32, in, columns int, lo, hi float32) {
	if n == 0 {
		return
	}
	_, _, _ = dst[(n-1)*ldc+columns-1], src[(n-1)*lda+in-1], panel[columns*(1+in)-1]
	four, one := pointwise4x16, pointwise1x16
	if columns == 8 {
		four, one = pointwise4x8, pointwise1x8
	}
	if n >= 4 {
		four(&dst[0], ldc, &src[0], lda, in, &panel[0], lo, hi, n/4)
	}
	if i := n &^ 3; i < n {
		one(&dst[i*ldc], ldc, &src[i*lda], lda, in, &panel[0], lo, hi, n-i)
	}
}
