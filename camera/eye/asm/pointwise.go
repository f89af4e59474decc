package main

import (
	"fmt"

	. "github.com/mmcloughlin/avo/build"
	. "github.com/mmcloughlin/avo/operand"
	. "github.com/mmcloughlin/avo/reg"
)

// unrolled is how many input channels a turn of the loop takes; the number of
// input channels must be a multiple of it.
const unrolled = 4

// rowsAt are the operands of up to six rows, stride bytes apart: a and, for
// the fourth and later, b, which lies three rows on.
func rowsAt(n int, a, b, stride GPVirtual, disp int) []Mem {
	all := []Mem{
		{Base: a, Disp: disp}, {Base: a, Index: stride, Scale: 1, Disp: disp}, {Base: a, Index: stride, Scale: 2, Disp: disp},
		{Base: b, Disp: disp}, {Base: b, Index: stride, Scale: 1, Disp: disp}, {Base: b, Index: stride, Scale: 2, Disp: disp},
	}
	return all[:n]
}

// pointwise writes a matrix product of tiles of rows × columns: bias and
// weights of the columns lie in one panel. The sums stay in registers.
func pointwise(rows, columns int) {
	vectors := columns / 8
	TEXT(fmt.Sprintf("pointwise%dx%d", rows, columns), NOSPLIT,
		"func(dst *float32, ldc int, src *float32, lda int, k int, panel *float32, lo float32, hi float32, tiles int)")
	Pragma("noescape")
	Doc(fmt.Sprintf("pointwise%dx%d does tiles times %d pixels of %d output channels.", rows, columns, rows, columns))
	dst, src, panel := Load(Param("dst"), GP64()).(GPVirtual), Load(Param("src"), GP64()).(GPVirtual), Load(Param("panel"), GP64()).(GPVirtual)
	ldc, lda := Load(Param("ldc"), GP64()).(GPVirtual), Load(Param("lda"), GP64()).(GPVirtual)
	tiles := Load(Param("tiles"), GP64())
	SHLQ(Imm(2), ldc)
	SHLQ(Imm(2), lda)
	a, a3, b, k := GP64(), GP64(), GP64(), GP64()
	acc := make([][]VecVirtual, rows)
	for r := range acc {
		for range vectors {
			acc[r] = append(acc[r], YMM())
		}
	}
	w := []VecVirtual{YMM(), YMM()}
	x := YMM()

	tile := fmt.Sprintf("tile%dx%d", rows, columns)
	Label(tile)
	for r := range acc {
		for v := range acc[r] {
			VMOVUPS(Mem{Base: panel, Disp: 32 * v}, acc[r][v])
		}
	}
	LEAQ(Mem{Base: panel, Disp: 4 * columns}, b)
	MOVQ(src, a)
	if rows > 3 {
		LEAQ(Mem{Base: src, Index: lda, Scale: 2}, a3)
		ADDQ(lda, a3)
	}
	Load(Param("k"), k)
	channel := fmt.Sprintf("channel%dx%d", rows, columns)
	Label(channel)
	for u := range unrolled {
		for v := range vectors {
			VMOVUPS(Mem{Base: b, Disp: (u*vectors + v) * 32}, w[v])
		}
		for r, m := range rowsAt(rows, a, a3, lda, 4*u) {
			VBROADCASTSS(m, x)
			for v := range vectors {
				VFMADD231PS(x, w[v], acc[r][v])
			}
		}
	}
	ADDQ(Imm(4*unrolled), a)
	if rows > 3 {
		ADDQ(Imm(4*unrolled), a3)
	}
	ADDQ(U32(uint32(unrolled*columns*4)), b)
	SUBQ(Imm(unrolled), k)
	JNZ(LabelRef(channel))

	lo, _ := Param("lo").Resolve()
	hi, _ := Param("hi").Resolve()
	VBROADCASTSS(lo.Addr, w[0])
	VBROADCASTSS(hi.Addr, w[1])
	d3 := a3
	if rows > 3 {
		LEAQ(Mem{Base: dst, Index: ldc, Scale: 2}, d3)
		ADDQ(ldc, d3)
	}
	for v := range vectors {
		for r, m := range rowsAt(rows, dst, d3, ldc, 32*v) {
			VMAXPS(w[0], acc[r][v], acc[r][v])
			VMINPS(w[1], acc[r][v], acc[r][v])
			VMOVUPS(acc[r][v], m)
		}
	}
	step(src, lda, a, rows)
	step(dst, ldc, a, rows)
	DECQ(tiles)
	JNZ(LabelRef(tile))
	VZEROUPPER()
	RET()
}

// step adds n strides to p.
func step(p, stride, spare GPVirtual, n int) {
	switch n {
	case 1:
		ADDQ(stride, p)
	case 4:
		LEAQ(Mem{Base: p, Index: stride, Scale: 4}, p)
	case 6:
		LEAQ(Mem{Base: p, Index: stride, Scale: 4}, p)
		LEAQ(Mem{Base: p, Index: stride, Scale: 2}, p)
	default:
		IMUL3Q(Imm(uint64(n)), stride, spare)
		ADDQ(spare, p)
	}
}
