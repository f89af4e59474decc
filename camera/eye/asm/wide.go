package main

import (
	"fmt"

	. "github.com/mmcloughlin/avo/build"
	. "github.com/mmcloughlin/avo/operand"
	. "github.com/mmcloughlin/avo/reg"
)

// wide writes pointwise for AVX-512: sixteen columns are one register, an
// input is taken from memory by the multiplication itself.
func wide(rows int) {
	TEXT(fmt.Sprintf("wide%dx16", rows), NOSPLIT,
		"func(dst *float32, ldc int, src *float32, lda int, k int, panel *float32, lo float32, hi float32, tiles int)")
	Pragma("noescape")
	Doc(fmt.Sprintf("wide%dx16 does tiles times %d pixels of 16 output channels.", rows, rows))
	dst, src, panel := Load(Param("dst"), GP64()).(GPVirtual), Load(Param("src"), GP64()).(GPVirtual), Load(Param("panel"), GP64()).(GPVirtual)
	ldc, s1 := Load(Param("ldc"), GP64()).(GPVirtual), Load(Param("lda"), GP64()).(GPVirtual)
	tiles := Load(Param("tiles"), GP64())
	SHLQ(Imm(2), ldc)
	SHLQ(Imm(2), s1)
	s3, s5, s7 := GP64(), GP64(), GP64()
	LEAQ(Mem{Base: s1, Index: s1, Scale: 2}, s3)
	LEAQ(Mem{Base: s1, Index: s1, Scale: 4}, s5)
	LEAQ(Mem{Base: s3, Index: s1, Scale: 4}, s7)
	a, a8, b, k := GP64(), GP64(), GP64(), GP64()
	acc := make([]VecVirtual, rows)
	for r := range acc {
		acc[r] = ZMM()
	}
	w := ZMM()

	tile := fmt.Sprintf("tile%dwide", rows)
	Label(tile)
	for _, x := range acc {
		VMOVUPS(Mem{Base: panel}, x)
	}
	LEAQ(Mem{Base: panel, Disp: 64}, b)
	MOVQ(src, a)
	LEAQ(Mem{Base: src, Index: s1, Scale: 8}, a8)
	Load(Param("k"), k)
	channel := fmt.Sprintf("channel%dwide", rows)
	Label(channel)
	for u := range unrolled {
		VMOVUPS(Mem{Base: b, Disp: 64 * u}, w)
		for r, x := range acc {
			base := a
			if r >= 8 {
				base = a8
			}
			m := columnsAt(base, s1, s3, s5, s7)[r%8]
			m.Disp = 4 * u
			VFMADD231PS_BCST(m, w, x)
		}
	}
	ADDQ(Imm(4*unrolled), a)
	ADDQ(Imm(4*unrolled), a8)
	ADDQ(U32(64*unrolled), b)
	SUBQ(Imm(unrolled), k)
	JNZ(LabelRef(channel))

	lo, _ := Param("lo").Resolve()
	hi, _ := Param("hi").Resolve()
	most := ZMM()
	VBROADCASTSS(lo.Addr, w)
	VBROADCASTSS(hi.Addr, most)
	for _, x := range acc {
		VMAXPS(w, x, x)
		VMINPS(most, x, x)
		VMOVUPS(x, Mem{Base: dst})
		ADDQ(ldc, dst)
	}
	LEAQ(Mem{Base: src, Index: s1, Scale: 8}, src)
	if rows == 16 {
		LEAQ(Mem{Base: src, Index: s1, Scale: 8}, src)
	}
	DECQ(tiles)
	JNZ(LabelRef(tile))
	VZEROUPPER()
	RET()
}
