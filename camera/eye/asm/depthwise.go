package main

import (
	"fmt"

	. "github.com/mmcloughlin/avo/build"
	. "github.com/mmcloughlin/avo/operand"
	. "github.com/mmcloughlin/avo/reg"
)

// columnsAt are the operands of up to nine columns, one, three, five and seven
// columns being in registers.
func columnsAt(p GPVirtual, c1, c3, c5, c7 Register) []Mem {
	return []Mem{
		{Base: p}, {Base: p, Index: c1, Scale: 1}, {Base: p, Index: c1, Scale: 2}, {Base: p, Index: c3, Scale: 1}, {Base: p, Index: c1, Scale: 4},
		{Base: p, Index: c5, Scale: 1}, {Base: p, Index: c3, Scale: 2}, {Base: p, Index: c7, Scale: 1}, {Base: p, Index: c1, Scale: 8},
	}
}

// depthwise writes a 3 × 3 convolution of each channel by itself, some outputs
// of a row at a time so that each weight and input is loaded once for them.
func depthwise(outputs, stride int) {
	TEXT(fmt.Sprintf("depthwise%ds%d", outputs, stride), NOSPLIT,
		"func(dst *float32, r0 *float32, r1 *float32, r2 *float32, w *float32, c int, lo float32, hi float32, blocks int)")
	Pragma("noescape")
	Doc(fmt.Sprintf("depthwise%ds%d does blocks times %d pixels of a row, stride %d.", outputs, stride, outputs, stride))
	dst := Load(Param("dst"), GP64()).(GPVirtual)
	rows := []GPVirtual{Load(Param("r0"), GP64()).(GPVirtual), Load(Param("r1"), GP64()).(GPVirtual), Load(Param("r2"), GP64()).(GPVirtual)}
	c1, c3, c5, c7 := GP64(), GP64(), GP64(), GP64()
	Load(Param("c"), c1)
	SHLQ(Imm(2), c1)
	LEAQ(Mem{Base: c1, Index: c1, Scale: 2}, c3)
	LEAQ(Mem{Base: c1, Index: c1, Scale: 4}, c5)
	LEAQ(Mem{Base: c3, Index: c1, Scale: 4}, c7)
	blocks, w, n := GP64(), GP64(), GP64()
	Load(Param("blocks"), blocks)
	lo, _ := Param("lo").Resolve()
	hi, _ := Param("hi").Resolve()
	least, most := YMM(), YMM()
	VBROADCASTSS(lo.Addr, least)
	VBROADCASTSS(hi.Addr, most)
	acc := make([]VecVirtual, outputs)
	for i := range acc {
		acc[i] = YMM()
	}
	tap := []VecVirtual{YMM(), YMM(), YMM()}
	x := YMM()

	block := fmt.Sprintf("block%ds%d", outputs, stride)
	Label(block)
	Load(Param("w"), w)
	Load(Param("c"), n)
	group := fmt.Sprintf("group%ds%d", outputs, stride)
	Label(group)
	for i := range acc {
		VMOVUPS(Mem{Base: w}, acc[i])
	}
	for y, row := range rows {
		for t := range tap {
			VMOVUPS(Mem{Base: w, Disp: 32 * (1 + 3*y + t)}, tap[t])
		}
		for j, m := range columnsAt(row, c1, c3, c5, c7)[:(outputs-1)*stride+3] {
			VMOVUPS(m, x)
			for i := range acc {
				if t := j - i*stride; t >= 0 && t < 3 {
					VFMADD231PS(x, tap[t], acc[i])
				}
			}
		}
		ADDQ(Imm(32), row)
	}
	for i, m := range columnsAt(dst, c1, c3, c5, c7)[:outputs] {
		VMAXPS(least, acc[i], acc[i])
		VMINPS(most, acc[i], acc[i])
		VMOVUPS(acc[i], m)
	}
	ADDQ(Imm(32), dst)
	ADDQ(U32(320), w)
	SUBQ(Imm(8), n)
	JNZ(LabelRef(group))
	on := outputs*stride - 1 // the loop went on by one column itself
	for _, row := range rows {
		switch on {
		case 1:
			ADDQ(c1, row)
		case 3:
			ADDQ(c3, row)
		case 7:
			ADDQ(c7, row)
		}
	}
	if outputs == 4 {
		ADDQ(c3, dst)
	}
	DECQ(blocks)
	JNZ(LabelRef(block))
	VZEROUPPER()
	RET()
}
