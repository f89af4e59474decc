package sound

import "math"

// wing is the number of samples on each side that go into one resampled sample.
const wing = 16

// resampled brings samples from one rate to another, Hz: a sinc under a Kaiser
// window (β 8, side lobes under −80 dB), cut at the lower rate's half.
func resampled(samples []float64, from, to int) []float64 {
	if from == to {
		return append([]float64(nil), samples...)
	}
	up, down := to/divisor(from, to), from/divisor(from, to)
	cut := min(1, float64(to)/float64(from)) * 0.95
	half := float64(wing) / min(1, cut)
	reach := int(math.Ceil(half))
	// The weights of each place between two samples that an output can have.
	weights := make([][]float64, up)
	for p := range weights {
		row := make([]float64, 2*reach)
		sum := 0.0
		for k := range row {
			x := float64(k-reach+1) - float64(p)/float64(up)
			row[k] = sinc(cut*x) * kaiser(x/half)
			sum += row[k]
		}
		for k := range row {
			row[k] /= sum
		}
		weights[p] = row
	}
	out := make([]float64, len(samples)*up/down)
	for i := range out {
		place := i * down
		first, row := place/up-reach+1, weights[place%up]
		sum := 0.0
		for k := max(0, -first); k < min(len(row), len(samples)-first); k++ {
			sum += row[k] * samples[first+k]
		}
		out[i] = sum
	}
	return out
}

func divisor(a, b int) int {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

func sinc(x float64) float64 {
	if x == 0 {
		return 1
	}
	return math.Sin(math.Pi*x) / (math.Pi * x)
}

func kaiser(x float64) float64 {
	const beta = 8
	if x*x >= 1 {
		return 0
	}
	return bessel(beta*math.Sqrt(1-x*x)) / bessel(beta)
}

// bessel is I0, by its series.
func bessel(x float64) float64 {
	sum, term := 1.0, 1.0
	for k := 1.0; term > sum*1e-12; k++ {
		term *= x * x / (4 * k * k)
		sum += term
	}
	return sum
}
