package eye

import "golang.org/x/sys/cpu"

//go:generate sh -c "cd asm && go run . -out ../kernel_amd64.s -stubs ../stubs_amd64.go -pkg eye"

// available are the kernels that this machine can run, the quickest first.
func available() []kernels {
	all := []kernels{plain()}
	if !cpu.X86.HasAVX2 || !cpu.X86.HasFMA {
		return all
	}
	k := kernels{name: "AVX2", pointwise: pointwiseAVX2, depthwise: depthwiseASM, add: addASM, weigh: weighASM, turn: turnAVX2, mix: mixASM}
	all = append([]kernels{k}, all...)
	if cpu.X86.HasAVX512F {
		k.name, k.pointwise = "AVX-512", pointwiseAVX512
		all = append([]kernels{k}, all...)
	}
	return all
}

// pointwiseAVX512 does sixteen and eight pixels at a time where it can.
func pointwiseAVX512(dst []float32, ldc int, src []float32, lda, n int, panel []float32, in, columns int, lo, hi float32) {
	done := 0
	if columns == 16 && n >= 8 {
		_, _, _ = dst[(n-1)*ldc+columns-1], src[(n-1)*lda+in-1], panel[columns*(1+in)-1]
		if n >= 16 {
			wide16x16(&dst[0], ldc, &src[0], lda, in, &panel[0], lo, hi, n/16)
			done = n &^ 15
		}
		if n-done >= 8 {
			wide8x16(&dst[done*ldc], ldc, &src[done*lda], lda, in, &panel[0], lo, hi, 1)
			done += 8
		}
	}
	if done < n {
		pointwiseAVX2(dst[done*ldc:], ldc, src[done*lda:], lda, n-done, panel, in, columns, lo, hi)
	}
}

// tiles cuts n pixels into tiles of six, four and one: the last eight of a row
// rather as two fours than as six and two.
func tiles(n int) (six, four, one int) {
	switch r := n % 6; {
	case r == 2 && n >= 8:
		return n/6 - 1, 2, 0
	case r >= 4:
		return n / 6, 1, r - 4
	default:
		return n / 6, 0, r
	}
}

func pointwiseAVX2(dst []float32, ldc int, src []float32, lda, n int, panel []float32, in, columns int, lo, hi float32) {
	if n == 0 {
		return
	}
	_, _, _ = dst[(n-1)*ldc+columns-1], src[(n-1)*lda+in-1], panel[columns*(1+in)-1]
	six, four, one := tiles(n)
	if columns == 16 {
		if six > 0 {
			pointwise6x16(&dst[0], ldc, &src[0], lda, in, &panel[0], lo, hi, six)
		}
		if i := 6 * six; four > 0 {
			pointwise4x16(&dst[i*ldc], ldc, &src[i*lda], lda, in, &panel[0], lo, hi, four)
		}
		if i := 6*six + 4*four; one > 0 {
			pointwise1x16(&dst[i*ldc], ldc, &src[i*lda], lda, in, &panel[0], lo, hi, one)
		}
		return
	}
	if six > 0 {
		pointwise6x8(&dst[0], ldc, &src[0], lda, in, &panel[0], lo, hi, six)
	}
	if i := 6 * six; four > 0 {
		pointwise4x8(&dst[i*ldc], ldc, &src[i*lda], lda, in, &panel[0], lo, hi, four)
	}
	if i := 6*six + 4*four; one > 0 {
		pointwise1x8(&dst[i*ldc], ldc, &src[i*lda], lda, in, &panel[0], lo, hi, one)
	}
}

func turnAVX2(dst, src []float32, pitch, n int) {
	if n > 0 {
		_, _ = dst[n*lanes-1], src[(lanes-1)*pitch+n-1]
		turn8(&dst[0], &src[0], pitch, n)
	}
}
