package ear

import (
	"math"
	"math/rand/v2"
)

// The sounds of these tests are a model of our own, since no recording with a
// fitting licence is at hand:
//
//   - a strike is a contact of 0.45 ms (common practice for a golf ball) that
//     rings three modes of an iron's head, 2 to 9 kHz, dying within 2 to 9 ms,
//     with a burst of noise of the same contact, and a thump of the body at 300
//     to 700 Hz; modes, mix and decay differ from strike to strike;
//   - the noise of a range is pink noise (ventilation, wind, traffic) with a
//     white part, slow gusts of ± 4 dB, and murmur of voices at 200 to 900 Hz;
//   - the signal-to-noise ratio is that of the root mean square of the strike
//     over its first 20 ms to that of the noise, both full band.

type rangeNoise struct {
	r    *rand.Rand
	rows [16]float64
	n    uint
	gust float64
}

func newNoise(seed uint64) *rangeNoise { return &rangeNoise{r: rand.New(rand.NewPCG(seed, 7))} }

// fill makes noise of about unit root mean square before gusts.
func (g *rangeNoise) fill(out []float32) {
	for i := range out {
		// Pink noise by Voss and McCartney's rows.
		g.n++
		row := 0
		for row < len(g.rows)-1 && g.n>>uint(row)&1 == 0 {
			row++
		}
		g.rows[row] = g.r.NormFloat64()
		pink := 0.0
		for _, v := range g.rows {
			pink += v
		}
		pink /= math.Sqrt(float64(len(g.rows)))
		g.gust += 2e-5*g.r.NormFloat64() - g.gust*1e-6
		t := float64(g.n) / Rate
		murmur := 0.0
		for k, hz := range [3]float64{230, 410, 860} {
			murmur += math.Sin(2*math.Pi*hz*t+3*math.Sin(2*math.Pi*(0.7+0.3*float64(k))*t)) * (0.5 + 0.5*math.Sin(2*math.Pi*(1.9+float64(k))*t))
		}
		level := math.Pow(10, 4*math.Tanh(g.gust*20)/20)
		out[i] = float32(level * (0.85*pink + 0.25*g.r.NormFloat64() + 0.15*murmur))
	}
}

// strike is one strike of unit root mean square over its first 20 ms.
func strike(r *rand.Rand) []float64 {
	out := make([]float64, Rate*80/1000)
	contact := 0.00045 * Rate
	type mode struct{ hz, level, decay float64 }
	var modes []mode
	for _, hz := range [3]float64{2000 + 1500*r.Float64(), 3800 + 1800*r.Float64(), 6200 + 2800*r.Float64()} {
		modes = append(modes, mode{hz, 0.5 + 0.5*r.Float64(), 0.002 + 0.007*r.Float64()})
	}
	thump, thumpHz := 0.2+0.3*r.Float64(), 300+400*r.Float64()
	for i := range out {
		t := float64(i) / Rate
		rise := 1.0
		if float64(i) < contact {
			rise = math.Pow(math.Sin(math.Pi/2*float64(i)/contact), 2)
		}
		for _, m := range modes {
			out[i] += rise * m.level * math.Exp(-t/m.decay) * math.Sin(2*math.Pi*m.hz*t)
		}
		out[i] += rise * 0.6 * math.Exp(-t/0.0015) * r.NormFloat64()
		out[i] += rise * thump * math.Exp(-t/0.012) * math.Sin(2*math.Pi*thumpHz*t)
	}
	sum := 0.0
	first := out[:Rate*20/1000]
	for _, x := range first {
		sum += x * x
	}
	level := math.Sqrt(sum / float64(len(first)))
	for i := range out {
		out[i] /= level
	}
	return out
}

func rms(x []float32) float64 {
	sum := 0.0
	for _, v := range x {
		sum += float64(v) * float64(v)
	}
	return math.Sqrt(sum / float64(len(x)))
}
