package ear

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/stat/distuv"
)

// The energy that a filter lets through of Gaussian noise in T seconds is
// chi-square distributed with 2·T·W degrees of freedom (Urkowitz 1967, Energy
// detection of unknown deterministic signals, Proc IEEE 55:523), where W is the
// filter's statistical bandwidth, (∫|H|²)²/∫|H|⁴ (Bendat & Piersol, Random Data,
// §8.3; from memory). freedom is that of a millisecond behind Butterworth filters,
// of fourth order upward from one frequency, Hz, and of second order downward from
// the other, made by the bilinear transform.
func freedom(from, to float64) float64 {
	warped := func(hz float64) float64 { return math.Tan(math.Pi * hz / Rate) }
	var two, four float64
	for hz := 5.0; hz < Rate/2; hz += 10 {
		h := 1 / (1 + math.Pow(warped(from)/warped(hz), 8))
		if to > 0 {
			h /= 1 + math.Pow(warped(hz)/warped(to), 4)
		}
		two, four = two+h*10, four+h*h*10
	}
	return 2 * 0.001 * two * two / four
}

// exceeds returns the chance that noise lies so many dB over the noise floor, when its
// power is times that of the floor. The floor is the median of the noise.
func exceeds(freedom, db, times float64) float64 {
	c := distuv.ChiSquared{K: freedom}
	return c.Survival(c.Quantile(0.5) * math.Pow(10, db/10) / times)
}

var lowFreedom, highFreedom = freedom(3000, 7000), freedom(6500, 0)

func TestTheFloorIsTheMedianOfTheBandsNoise(t *testing.T) {
	dice := rand.New(rand.NewPCG(67, 1))
	d := NewDetector()
	hop1 := make([]float32, hop)
	var over [2][3]float64
	const ms = 30000
	for n := range ms + 2000 {
		for i := range hop1 {
			hop1[i] = float32(0.05 * dice.NormFloat64())
		}
		d.Hear(hop1, func(Onset) {})
		if n < 2000 {
			continue // until the floor has settled
		}
		for b := range over {
			for k := range over[b] {
				if d.at(b, 1) > d.floors[b]+float64(k)*1.5 {
					over[b][k] += 1.0 / ms
				}
			}
		}
	}
	for b, freedom := range [2]float64{lowFreedom, highFreedom} {
		for k, share := range over[b] {
			want := exceeds(freedom, float64(k)*1.5, 1)
			assert.InDelta(t, want, share, 0.015+0.05*want, "band %d, %g dB over the floor", b, float64(k)*1.5)
		}
	}
}

// A burst of noise of 3 ms in noise, at a signal-to-noise ratio in dB, is found as
// often as an energy detector finds it that wants 9 dB over the median between 3
// and 7 kHz and 7 dB above that, in one of its milliseconds: two are whole, at
// most four are touched. A lull before and after each makes
// it sudden and short enough.
func TestBurstsAreFoundAsOftenAsDetectionTheorySays(t *testing.T) {
	const bursts, apart, before, later = 150, Rate * 3 / 4, 15 * hop, 75 * hop
	for _, ratio := range []float64{3, 6, 13} {
		times := 1 + math.Pow(10, ratio/10)
		one := exceeds(lowFreedom, 9, times) * exceeds(highFreedom, 7, times)
		least, most := 1-math.Pow(1-one, 2), 1-math.Pow(1-one, 4)
		dice := rand.New(rand.NewPCG(uint64(10*ratio), 2))
		samples := make([]float32, (bursts+4)*apart)
		for i := range samples {
			samples[i] = float32(0.02 * dice.NormFloat64())
		}
		var begins []int
		for k := range bursts {
			from := (k+4)*apart - apart/2 + dice.IntN(hop)
			for i := -before; i < later; i++ {
				if i < 0 || i >= 3*hop {
					samples[from+i] *= 0.25
				}
			}
			for i := range 3 * hop {
				samples[from+i] += float32(0.02 * math.Pow(10, ratio/20) * dice.NormFloat64())
			}
			begins = append(begins, from)
		}
		found, wrong := 0, 0
		for _, o := range listen(samples) {
			k := int(o.At)/apart - 3
			if k >= 0 && k < bursts && math.Abs(float64(int(o.At)-begins[k])) < 8*hop {
				found++
			} else {
				wrong++
			}
		}
		rate := float64(found) / bursts
		t.Logf("%g dB: found %.3f, theory %.3f to %.3f; %d besides", ratio, rate, least, most, wrong)
		assert.Greater(t, rate, least-0.05, "%g dB", ratio)
		assert.Less(t, rate, most+0.05, "%g dB", ratio)
		assert.Zero(t, wrong, "%g dB", ratio)
	}
}
