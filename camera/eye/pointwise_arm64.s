// Pointwise convolutions: matrix products, four pixels at a time.

#include "textflag.h"
#include "kernel_arm64.h"

// Sixteen weights of one input channel times element i of a row's inputs.
#define ROW16(m, i, a, b, c, d) \
	FMLAI(m, i, 4, a); \
	FMLAI(m, i, 5, b); \
	FMLAI(m, i, 6, c); \
	FMLAI(m, i, 7, d)

#define CHANNEL4X16(i) \
	VLD1.P 64(R5), [V4.S4, V5.S4, V6.S4, V7.S4]; \
	ROW16(0, i, 8, 9, 10, 11); \
	ROW16(1, i, 12, 13, 14, 15); \
	ROW16(2, i, 16, 17, 18, 19); \
	ROW16(3, i, 20, 21, 22, 23)

#define CHANNEL4X8(i) \
	VLD1.P 32(R5), [V4.S4, V5.S4]; \
	FMLAI(0, i, 4, 8); \
	FMLAI(0, i, 5, 9); \
	FMLAI(1, i, 4, 12); \
	FMLAI(1, i, 5, 13); \
	FMLAI(2, i, 4, 16); \
	FMLAI(2, i, 5, 17); \
	FMLAI(3, i, 4, 20); \
	FMLAI(3, i, 5, 21)

#define CHANNEL1X16(i) \
	VLD1.P 64(R5), [V4.S4, V5.S4, V6.S4, V7.S4]; \
	ROW16(0, i, 8, 9, 10, 11)

#define CHANNEL1X8(i) \
	VLD1.P 32(R5), [V4.S4, V5.S4]; \
	FMLAI(0, i, 4, 8); \
	FMLAI(0, i, 5, 9)

// R0 result, R1 its stride, R2 input, R3 its stride (bytes), R4 panel, R6 tiles.
#define ARGUMENTS \
	MOVD dst+0(FP), R0; \
	MOVD ldc+8(FP), R1; \
	MOVD src+16(FP), R2; \
	MOVD lda+24(FP), R3; \
	MOVD panel+40(FP), R4; \
	MOVD tiles+56(FP), R6; \
	LSL  $2, R1, R1; \
	LSL  $2, R3, R3

// func pointwise4x16(dst *float32, ldc int, src *float32, lda int, k int, panel *float32, lo float32, hi float32, tiles int)
TEXT ·pointwise4x16(SB), NOSPLIT, $0-64
	ARGUMENTS
	LIMITS(lo+48(FP), hi+52(FP))

tile:
	MOVD   R4, R5
	VLD1.P 64(R5), [V8.S4, V9.S4, V10.S4, V11.S4]
	VMOV   V8.B16, V12.B16
	VMOV   V9.B16, V13.B16
	VMOV   V10.B16, V14.B16
	VMOV   V11.B16, V15.B16
	VMOV   V8.B16, V16.B16
	VMOV   V9.B16, V17.B16
	VMOV   V10.B16, V18.B16
	VMOV   V11.B16, V19.B16
	VMOV   V8.B16, V20.B16
	VMOV   V9.B16, V21.B16
	VMOV   V10.B16, V22.B16
	VMOV   V11.B16, V23.B16
	MOVD   R2, R8
	ADD    R3, R8, R9
	ADD    R3, R9, R10
	ADD    R3, R10, R11
	MOVD   k+32(FP), R7

channels:
	VLD1.P 16(R8), [V0.S4]
	VLD1.P 16(R9), [V1.S4]
	VLD1.P 16(R10), [V2.S4]
	VLD1.P 16(R11), [V3.S4]
	CHANNEL4X16(0)
	CHANNEL4X16(1)
	CHANNEL4X16(2)
	CHANNEL4X16(3)
	SUBS   $4, R7, R7
	BNE    channels

	HOLD(8)
	HOLD(9)
	HOLD(10)
	HOLD(11)
	HOLD(12)
	HOLD(13)
	HOLD(14)
	HOLD(15)
	HOLD(16)
	HOLD(17)
	HOLD(18)
	HOLD(19)
	HOLD(20)
	HOLD(21)
	HOLD(22)
	HOLD(23)
	VST1 [V8.S4, V9.S4, V10.S4, V11.S4], (R0)
	ADD  R1, R0, R0
	VST1 [V12.S4, V13.S4, V14.S4, V15.S4], (R0)
	ADD  R1, R0, R0
	VST1 [V16.S4, V17.S4, V18.S4, V19.S4], (R0)
	ADD  R1, R0, R0
	VST1 [V20.S4, V21.S4, V22.S4, V23.S4], (R0)
	ADD  R1, R0, R0
	ADD  R3<<2, R2, R2
	SUBS $1, R6, R6
	BNE  tile
	RET

// func pointwise4x8(dst *float32, ldc int, src *float32, lda int, k int, panel *float32, lo float32, hi float32, tiles int)
TEXT ·pointwise4x8(SB), NOSPLIT, $0-64
	ARGUMENTS
	LIMITS(lo+48(FP), hi+52(FP))

tile:
	MOVD   R4, R5
	VLD1.P 32(R5), [V8.S4, V9.S4]
	VMOV   V8.B16, V12.B16
	VMOV   V9.B16, V13.B16
	VMOV   V8.B16, V16.B16
	VMOV   V9.B16, V17.B16
	VMOV   V8.B16, V20.B16
	VMOV   V9.B16, V21.B16
	MOVD   R2, R8
	ADD    R3, R8, R9
	ADD    R3, R9, R10
	ADD    R3, R10, R11
	MOVD   k+32(FP), R7

channels:
	VLD1.P 16(R8), [V0.S4]
	VLD1.P 16(R9), [V1.S4]
	VLD1.P 16(R10), [V2.S4]
	VLD1.P 16(R11), [V3.S4]
	CHANNEL4X8(0)
	CHANNEL4X8(1)
	CHANNEL4X8(2)
	CHANNEL4X8(3)
	SUBS   $4, R7, R7
	BNE    channels

	HOLD(8)
	HOLD(9)
	HOLD(12)
	HOLD(13)
	HOLD(16)
	HOLD(17)
	HOLD(20)
	HOLD(21)
	VST1 [V8.S4, V9.S4], (R0)
	ADD  R1, R0, R0
	VST1 [V12.S4, V13.S4], (R0)
	ADD  R1, R0, R0
	VST1 [V16.S4, V17.S4], (R0)
	ADD  R1, R0, R0
	VST1 [V20.S4, V21.S4], (R0)
	ADD  R1, R0, R0
	ADD  R3<<2, R2, R2
	SUBS $1, R6, R6
	BNE  tile
	RET

// func pointwise1x16(dst *float32, ldc int, src *float32, lda int, k int, panel *float32, lo float32, hi float32, tiles int)
TEXT ·pointwise1x16(SB), NOSPLIT, $0-64
	ARGUMENTS
	LIMITS(lo+48(FP), hi+52(FP))

tile:
	MOVD   R4, R5
	VLD1.P 64(R5), [V8.S4, V9.S4, V10.S4, V11.S4]
	MOVD   R2, R8
	MOVD   k+32(FP), R7

channels:
	VLD1.P 16(R8), [V0.S4]
	CHANNEL1X16(0)
	CHANNEL1X16(1)
	CHANNEL1X16(2)
	CHANNEL1X16(3)
	SUBS   $4, R7, R7
	BNE    channels

	HOLD(8)
	HOLD(9)
	HOLD(10)
	HOLD(11)
	VST1 [V8.S4, V9.S4, V10.S4, V11.S4], (R0)
	ADD  R1, R0, R0
	ADD  R3, R2, R2
	SUBS $1, R6, R6
	BNE  tile
	RET

// func pointwise1x8(dst *float32, ldc int, src *float32, lda int, k int, panel *float32, lo float32, hi float32, tiles int)
TEXT ·pointwise1x8(SB), NOSPLIT, $0-64
	ARGUMENTS
	LIMITS(lo+48(FP), hi+52(FP))

tile:
	MOVD   R4, R5
	VLD1.P 32(R5), [V8.S4, V9.S4]
	MOVD   R2, R8
	MOVD   k+32(FP), R7

channels:
	VLD1.P 16(R8), [V0.S4]
	CHANNEL1X8(0)
	CHANNEL1X8(1)
	CHANNEL1X8(2)
	CHANNEL1X8(3)
	SUBS   $4, R7, R7
	BNE    channels

	HOLD(8)
	HOLD(9)
	VST1 [V8.S4, V9.S4], (R0)
	ADD  R1, R0, R0
	ADD  R3, R2, R2
	SUBS $1, R6, R6
	BNE  tile
	RET
