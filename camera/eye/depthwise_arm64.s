// Convolutions of 3 × 3 of each channel by itself, eight channels at a time.

#include "textflag.h"
#include "kernel_arm64.h"

// A tap's eight weights times a column's eight inputs (V0, V1) onto a result.
#define ONTO(w, ww, a, aa) \
	VFMLA V0.S4, w.S4, a.S4; \
	VFMLA V1.S4, ww.S4, aa.S4

// The next column of a row, c channels on.
#define COLUMN \
	VLD1 (R10), [V0.S4, V1.S4]; \
	ADD  R6, R10, R10

// The three taps of a row: V16 to V21.
#define TAPS(row) \
	VLD1.P 64(R5), [V16.S4, V17.S4, V18.S4, V19.S4]; \
	VLD1.P 32(R5), [V20.S4, V21.S4]; \
	MOVD   row, R10; \
	ADD    $32, row, row

#define FIRST(a, aa) ONTO(V16, V17, a, aa)
#define SECOND(a, aa) ONTO(V18, V19, a, aa)
#define THIRD(a, aa) ONTO(V20, V21, a, aa)

// Four results of a row, stride 1: V8 to V15.
#define FOUR1(row) \
	TAPS(row); \
	COLUMN; \
	FIRST(V8, V9); \
	COLUMN; \
	SECOND(V8, V9); \
	FIRST(V10, V11); \
	COLUMN; \
	THIRD(V8, V9); \
	SECOND(V10, V11); \
	FIRST(V12, V13); \
	COLUMN; \
	THIRD(V10, V11); \
	SECOND(V12, V13); \
	FIRST(V14, V15); \
	COLUMN; \
	THIRD(V12, V13); \
	SECOND(V14, V15); \
	COLUMN; \
	THIRD(V14, V15)

// Four results of a row, stride 2.
#define FOUR2(row) \
	TAPS(row); \
	COLUMN; \
	FIRST(V8, V9); \
	COLUMN; \
	SECOND(V8, V9); \
	COLUMN; \
	THIRD(V8, V9); \
	FIRST(V10, V11); \
	COLUMN; \
	SECOND(V10, V11); \
	COLUMN; \
	THIRD(V10, V11); \
	FIRST(V12, V13); \
	COLUMN; \
	SECOND(V12, V13); \
	COLUMN; \
	THIRD(V12, V13); \
	FIRST(V14, V15); \
	COLUMN; \
	SECOND(V14, V15); \
	COLUMN; \
	THIRD(V14, V15)

#define ONE(row) \
	TAPS(row); \
	COLUMN; \
	FIRST(V8, V9); \
	COLUMN; \
	SECOND(V8, V9); \
	COLUMN; \
	THIRD(V8, V9)

// R0 result, R1 to R3 rows, R4 weights, R6 bytes a column, R7 blocks.
#define ROWS \
	MOVD dst+0(FP), R0; \
	MOVD r0+8(FP), R1; \
	MOVD r1+16(FP), R2; \
	MOVD r2+24(FP), R3; \
	MOVD w+32(FP), R4; \
	MOVD c+40(FP), R6; \
	MOVD blocks+56(FP), R7; \
	LSL  $2, R6, R6

#define BIAS4 \
	VLD1.P 32(R5), [V8.S4, V9.S4]; \
	VMOV   V8.B16, V10.B16; \
	VMOV   V9.B16, V11.B16; \
	VMOV   V8.B16, V12.B16; \
	VMOV   V9.B16, V13.B16; \
	VMOV   V8.B16, V14.B16; \
	VMOV   V9.B16, V15.B16

#define STORE4 \
	HOLD(8); \
	HOLD(9); \
	HOLD(10); \
	HOLD(11); \
	HOLD(12); \
	HOLD(13); \
	HOLD(14); \
	HOLD(15); \
	MOVD R0, R10; \
	VST1 [V8.S4, V9.S4], (R10); \
	ADD  R6, R10, R10; \
	VST1 [V10.S4, V11.S4], (R10); \
	ADD  R6, R10, R10; \
	VST1 [V12.S4, V13.S4], (R10); \
	ADD  R6, R10, R10; \
	VST1 [V14.S4, V15.S4], (R10); \
	ADD  $32, R0, R0

#define STORE1 \
	HOLD(8); \
	HOLD(9); \
	VST1.P [V8.S4, V9.S4], 32(R0)

// func depthwise4s1(dst *float32, r0 *float32, r1 *float32, r2 *float32, w *float32, c int, lo float32, hi float32, blocks int)
TEXT ·depthwise4s1(SB), NOSPLIT, $0-64
	ROWS
	LIMITS(lo+48(FP), hi+52(FP))
	ADD R6<<1, R6, R9 // three columns

block:
	MOVD R4, R5
	MOVD c+40(FP), R8

group:
	BIAS4
	FOUR1(R1)
	FOUR1(R2)
	FOUR1(R3)
	STORE4
	SUBS $8, R8, R8
	BNE  group
	ADD  R9, R0, R0
	ADD  R9, R1, R1
	ADD  R9, R2, R2
	ADD  R9, R3, R3
	SUBS $1, R7, R7
	BNE  block
	RET

// func depthwise4s2(dst *float32, r0 *float32, r1 *float32, r2 *float32, w *float32, c int, lo float32, hi float32, blocks int)
TEXT ·depthwise4s2(SB), NOSPLIT, $0-64
	ROWS
	LIMITS(lo+48(FP), hi+52(FP))
	ADD R6<<1, R6, R9  // three columns
	ADD R6<<2, R9, R11 // seven

block:
	MOVD R4, R5
	MOVD c+40(FP), R8

group:
	BIAS4
	FOUR2(R1)
	FOUR2(R2)
	FOUR2(R3)
	STORE4
	SUBS $8, R8, R8
	BNE  group
	ADD  R9, R0, R0
	ADD  R11, R1, R1
	ADD  R11, R2, R2
	ADD  R11, R3, R3
	SUBS $1, R7, R7
	BNE  block
	RET

// func depthwise1s1(dst *float32, r0 *float32, r1 *float32, r2 *float32, w *float32, c int, lo float32, hi float32, blocks int)
TEXT ·depthwise1s1(SB), NOSPLIT, $0-64
	ROWS
	LIMITS(lo+48(FP), hi+52(FP))

block:
	MOVD R4, R5
	MOVD c+40(FP), R8

group:
	VLD1.P 32(R5), [V8.S4, V9.S4]
	ONE(R1)
	ONE(R2)
	ONE(R3)
	STORE1
	SUBS   $8, R8, R8
	BNE    group
	SUBS   $1, R7, R7
	BNE    block
	RET

// func depthwise1s2(dst *float32, r0 *float32, r1 *float32, r2 *float32, w *float32, c int, lo float32, hi float32, blocks int)
TEXT ·depthwise1s2(SB), NOSPLIT, $0-64
	ROWS
	LIMITS(lo+48(FP), hi+52(FP))

block:
	MOVD R4, R5
	MOVD c+40(FP), R8

group:
	VLD1.P 32(R5), [V8.S4, V9.S4]
	ONE(R1)
	ONE(R2)
	ONE(R3)
	STORE1
	SUBS   $8, R8, R8
	BNE    group
	ADD    R6, R1, R1
	ADD    R6, R2, R2
	ADD    R6, R3, R3
	SUBS   $1, R7, R7
	BNE    block
	RET
