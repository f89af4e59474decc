package main

import (
	. "github.com/mmcloughlin/avo/build"
	. "github.com/mmcloughlin/avo/operand"
)

// addition writes dst += src.
func addition() {
	TEXT("add8", NOSPLIT, "func(dst *float32, src *float32, n int)")
	Pragma("noescape")
	Doc("add8 adds n numbers, a multiple of 8, to others.")
	dst, src, n := Load(Param("dst"), GP64()), Load(Param("src"), GP64()), Load(Param("n"), GP64())
	x := YMM()
	Label("add")
	VMOVUPS(Mem{Base: dst}, x)
	VADDPS(Mem{Base: src}, x, x)
	VMOVUPS(x, Mem{Base: dst})
	ADDQ(Imm(32), dst)
	ADDQ(Imm(32), src)
	SUBQ(Imm(8), n)
	JNZ(LabelRef("add"))
	VZEROUPPER()
	RET()
}

// weigh writes dst += w × bytes.
func weigh() {
	TEXT("weigh8", NOSPLIT, "func(dst *float32, src *byte, n int, w float32)")
	Pragma("noescape")
	Doc("weigh8 adds n bytes, a multiple of 8, times w.")
	dst, src, n := Load(Param("dst"), GP64()), Load(Param("src"), GP64()), Load(Param("n"), GP64())
	by, _ := Param("w").Resolve()
	w, x, y := YMM(), YMM(), YMM()
	VBROADCASTSS(by.Addr, w)
	Label("weigh")
	VPMOVZXBD(Mem{Base: src}, x)
	VCVTDQ2PS(x, x)
	VMOVUPS(Mem{Base: dst}, y)
	VFMADD231PS(x, w, y)
	VMOVUPS(y, Mem{Base: dst})
	ADDQ(Imm(32), dst)
	ADDQ(Imm(8), src)
	SUBQ(Imm(8), n)
	JNZ(LabelRef("weigh"))
	VZEROUPPER()
	RET()
}
