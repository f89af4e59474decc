//go:build amd64 || arm64

package eye

// What follows checks lengths before it hands pointers to the kernels in
// assembly, which are called alike on both.

func depthwiseASM(dst, r0, r1, r2 []float32, d *depth, n int, lo, hi float32) {
	if n == 0 {
		return
	}
	c, s := d.channels, d.stride
	last := ((n-1)*s+3)*c - 1
	_, _, _, _ = dst[n*c-1], r0[last], r1[last], r2[last]
	four, one := depthwise4s1, depthwise1s1
	if s == 2 {
		four, one = depthwise4s2, depthwise1s2
	}
	if n >= 4 {
		four(&dst[0], &r0[0], &r1[0], &r2[0], &d.packed[0], c, lo, hi, n/4)
	}
	if i := n &^ 3; i < n {
		one(&dst[i*c], &r0[i*s*c], &r1[i*s*c], &r2[i*s*c], &d.packed[0], c, lo, hi, n-i)
	}
}

func addASM(dst, src []float32) {
	if len(src) > 0 {
		_ = dst[len(src)-1]
		add8(&dst[0], &src[0], len(src))
	}
}

func weighASM(dst []float32, src []byte, w float32) {
	n := len(src) &^ 7
	if n > 0 {
		_ = dst[n-1]
		weigh8(&dst[0], &src[0], n, w)
	}
	weighPlain(dst[n:], src[n:], w)
}

func mixASM(dst, src []float32, starts []int32, weights []float32, taps int) {
	if n := len(starts); n > 0 {
		_, _ = dst[n*lanes-1], weights[n*taps-1]
		mix8(&dst[0], &src[0], &starts[0], &weights[0], taps, n)
	}
}
