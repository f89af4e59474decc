package main

import (
	. "github.com/mmcloughlin/avo/build"
	. "github.com/mmcloughlin/avo/operand"
	. "github.com/mmcloughlin/avo/reg"
)

// turn writes the transposition of eight rows, eight columns at a time.
func turn() {
	TEXT("turn8", NOSPLIT, "func(dst *float32, src *float32, pitch int, n int)")
	Pragma("noescape")
	Doc("turn8 puts n columns, a multiple of 8, of eight rows, pitch numbers apart, side by side.")
	dst, src := Load(Param("dst"), GP64()), Load(Param("src"), GP64()).(GPVirtual)
	pitch, n, low := Load(Param("pitch"), GP64()).(GPVirtual), Load(Param("n"), GP64()), GP64()
	SHLQ(Imm(2), pitch)
	p3 := GP64()
	LEAQ(Mem{Base: pitch, Index: pitch, Scale: 2}, p3)
	Label("columns")
	LEAQ(Mem{Base: src, Index: pitch, Scale: 4}, low)
	row := func(i int) Mem {
		base := src
		if i >= 4 {
			base = low
		}
		switch i & 3 {
		case 0:
			return Mem{Base: base}
		case 3:
			return Mem{Base: base, Index: p3, Scale: 1}
		}
		return Mem{Base: base, Index: pitch, Scale: uint8(i & 3)}
	}
	var r [8]VecVirtual
	for i := range r {
		r[i] = YMM()
		VMOVUPS(row(i), r[i])
	}
	var t [8]VecVirtual
	for i := 0; i < 8; i += 2 {
		t[i], t[i+1] = YMM(), YMM()
		VUNPCKLPS(r[i+1], r[i], t[i])
		VUNPCKHPS(r[i+1], r[i], t[i+1])
	}
	for i := 0; i < 8; i += 4 {
		VUNPCKLPD(t[i+2], t[i], r[i])
		VUNPCKHPD(t[i+2], t[i], r[i+1])
		VUNPCKLPD(t[i+3], t[i+1], r[i+2])
		VUNPCKHPD(t[i+3], t[i+1], r[i+3])
	}
	for i := range 4 {
		VPERM2F128(Imm(0x20), r[i+4], r[i], t[i])
		VPERM2F128(Imm(0x31), r[i+4], r[i], t[i+4])
	}
	for i := range t {
		VMOVUPS(t[i], Mem{Base: dst, Disp: 32 * i})
	}
	ADDQ(Imm(32), src)
	ADDQ(U32(256), dst)
	SUBQ(Imm(8), n)
	JNZ(LabelRef("columns"))
	VZEROUPPER()
	RET()
}

// mix writes weighted sums of columns of eight.
func mix() {
	TEXT("mix8", NOSPLIT, "func(dst *float32, src *float32, starts *int32, weights *float32, taps int, n int)")
	Pragma("noescape")
	Doc("mix8 makes n columns of eight of taps weighted columns each, from the one that starts says.")
	dst, src, starts := Load(Param("dst"), GP64()), Load(Param("src"), GP64()).(GPVirtual), Load(Param("starts"), GP64()).(GPVirtual)
	weights, n := Load(Param("weights"), GP64()).(GPVirtual), Load(Param("n"), GP64())
	at, taps := GP64(), GP64()
	sum, w := YMM(), YMM()
	Label("mixed")
	MOVLQSX(Mem{Base: starts}, at)
	SHLQ(Imm(5), at)
	ADDQ(src, at)
	VXORPS(sum, sum, sum)
	Load(Param("taps"), taps)
	Label("tap")
	VBROADCASTSS(Mem{Base: weights}, w)
	VFMADD231PS(Mem{Base: at}, w, sum)
	ADDQ(Imm(4), weights)
	ADDQ(Imm(32), at)
	DECQ(taps)
	JNZ(LabelRef("tap"))
	VMOVUPS(sum, Mem{Base: dst})
	ADDQ(Imm(32), dst)
	ADDQ(Imm(4), starts)
	DECQ(n)
	JNZ(LabelRef("mixed"))
	VZEROUPPER()
	RET()
}
