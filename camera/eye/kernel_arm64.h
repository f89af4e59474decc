// What the eye's kernels for arm64 share; they are written by hand. Sums stay
// in registers; each weight and each input is loaded once for all that need it.

// What the assembler has no names for (Arm Architecture Reference Manual, A64
// SIMD instructions), all on four floats:
// d += n · m[i], d = max(n, m), d = min(n, m), d = n + m, d = float of n.
#define FMLAI(m, i, n, d) WORD $(0x4F801000 | ((i & 1) << 21) | ((i >> 1) << 11) | (m << 16) | (n << 5) | d)
#define FMAXV(m, n, d) WORD $(0x4E20F400 | (m << 16) | (n << 5) | d)
#define FMINV(m, n, d) WORD $(0x4EA0F400 | (m << 16) | (n << 5) | d)
#define FADDV(m, n, d) WORD $(0x4E20D400 | (m << 16) | (n << 5) | d)
#define UCVTFV(n, d) WORD $(0x6E21D800 | (n << 5) | d)

// V28 and V29 hold the limits.
#define HOLD(d) \
	FMAXV(28, d, d); \
	FMINV(29, d, d)

#define LIMITS(lo, hi) \
	FMOVS lo, F28; \
	FMOVS hi, F29; \
	VDUP  V28.S[0], V28.S4; \
	VDUP  V29.S[0], V29.S4
