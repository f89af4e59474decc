// Sums of rows and columns.

#include "textflag.h"
#include "kernel_arm64.h"

// func add8(dst *float32, src *float32, n int)
TEXT ·add8(SB), NOSPLIT, $0-24
	MOVD dst+0(FP), R0
	MOVD src+8(FP), R1
	MOVD n+16(FP), R2

add:
	VLD1   (R0), [V0.S4, V1.S4]
	VLD1.P 32(R1), [V2.S4, V3.S4]
	FADDV(2, 0, 0)
	FADDV(3, 1, 1)
	VST1.P [V0.S4, V1.S4], 32(R0)
	SUBS   $8, R2, R2
	BNE    add
	RET

// func weigh8(dst *float32, src *byte, n int, w float32)
TEXT ·weigh8(SB), NOSPLIT, $0-28
	MOVD  dst+0(FP), R0
	MOVD  src+8(FP), R1
	MOVD  n+16(FP), R2
	FMOVS w+24(FP), F4
	VDUP  V4.S[0], V4.S4

weigh:
	VLD1.P 8(R1), [V0.B8]
	VUXTL  V0.B8, V0.H8
	VUXTL  V0.H4, V1.S4
	VUXTL2 V0.H8, V2.S4
	UCVTFV(1, 1)
	UCVTFV(2, 2)
	VLD1   (R0), [V5.S4, V6.S4]
	VFMLA  V1.S4, V4.S4, V5.S4
	VFMLA  V2.S4, V4.S4, V6.S4
	VST1.P [V5.S4, V6.S4], 32(R0)
	SUBS   $8, R2, R2
	BNE    weigh
	RET

// func mix8(dst *float32, src *float32, starts *int32, weights *float32, taps int, n int)
TEXT ·mix8(SB), NOSPLIT, $0-48
	MOVD dst+0(FP), R0
	MOVD src+8(FP), R1
	MOVD starts+16(FP), R2
	MOVD weights+24(FP), R3
	MOVD n+40(FP), R5

mixed:
	MOVW.P 4(R2), R6
	ADD    R6<<5, R1, R6
	VEOR   V2.B16, V2.B16, V2.B16
	VEOR   V3.B16, V3.B16, V3.B16
	MOVD   taps+32(FP), R4

tap:
	VLD1R.P 4(R3), [V4.S4]
	VLD1.P  32(R6), [V0.S4, V1.S4]
	VFMLA   V0.S4, V4.S4, V2.S4
	VFMLA   V1.S4, V4.S4, V3.S4
	SUBS    $1, R4, R4
	BNE     tap
	VST1.P  [V2.S4, V3.S4], 32(R0)
	SUBS    $1, R5, R5
	BNE     mixed
	RET
