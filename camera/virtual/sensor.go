package virtual

import (
	"math"

	"drillbay/camera/frame"
)

// sensor turns linear light into a noisy 8-bit picture.
type sensor struct {
	gamma  [4096]uint8
	noise  []uint8 // standard normal in steps of 1/8 σ, 32 is none
	luma   [256][64]uint8
	chroma [256][64]uint8
	gain   float64
	level  float64
}

const noiseMask = 1<<17 - 1

func newSensor(level float64, seed uint64) *sensor {
	s := &sensor{level: level, gain: math.NaN(), noise: make([]uint8, noiseMask+1+frame.MaxSide)}
	for i := range s.gamma {
		x := float64(i) / (len4096 - 1)
		if x <= 0.0031308 {
			x *= 12.92
		} else {
			x = 1.055*math.Pow(x, 1/2.4) - 0.055
		}
		s.gamma[i] = uint8(math.Round(255 * x))
	}
	rnd := newRandom(seed, 4)
	// Neighbours share some of their noise, as after a sensor's interpolation.
	last := rnd.normal()
	for i := range s.noise {
		z := rnd.normal()
		s.noise[i] = uint8(min(max(math.Round(32+8*(z+0.45*last)/math.Sqrt(1+0.45*0.45)), 0), 63))
		last = z
	}
	return s
}

const len4096 = 4096

// expose prepares the tables for a gain: read noise and shot noise, both
// after the gamma, which lifts the noise of the dark parts.
func (s *sensor) expose(gain float64) {
	if gain == s.gain {
		return
	}
	s.gain = gain
	for v := range 256 {
		signal := min(255, float64(v)*math.Pow(gain, 1/2.2))
		sigma := s.level * (1.3 + 2.2*math.Sqrt(max(0, 1-signal/255))*min(1, 0.35+signal/60))
		for n := range 64 {
			z := (float64(n) - 32) / 8
			s.luma[v][n] = clip8(signal + sigma*z)
			s.chroma[v][n] = clip8(float64(v) + s.level*1.1*z)
		}
	}
}

func clip8(v float64) uint8 { return uint8(math.Round(min(max(v, 0), 255))) }

// ycc codes a linear colour (JFIF, ITU-T T.871, full range).
func (s *sensor) ycc(r, g, b float32) (y, cb, cr int32) {
	code := func(v float32) int32 {
		return int32(s.gamma[int32(min(max(v, 0), 1)*(len4096-1))])
	}
	ri, gi, bi := code(r), code(g), code(b)
	y = (19595*ri + 38470*gi + 7471*bi + 1<<15) >> 16
	cb = (-11056*ri - 21712*gi + 32768*bi + 257<<15) >> 16
	cr = (32768*ri - 27440*gi - 5328*bi + 257<<15) >> 16
	return y, cb, cr
}

// develop lays noise over rows of a plane. Rows of span lo … hi come from
// work, the rest from base.
func (s *sensor) develop(dst, base, work []uint8, lo, hi int, table *[256][64]uint8, noise []uint8) {
	if hi < lo {
		lo, hi = len(dst), len(dst)-1
	}
	noise = noise[:len(dst)]
	base = base[:len(dst)]
	work = work[:len(dst)]
	for i := 0; i < lo; i++ {
		dst[i] = table[base[i]][noise[i]&63]
	}
	for i := lo; i <= hi; i++ {
		dst[i] = table[work[i]][noise[i]&63]
	}
	for i := hi + 1; i < len(dst); i++ {
		dst[i] = table[base[i]][noise[i]&63]
	}
}
