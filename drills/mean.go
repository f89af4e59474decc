package drills

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// Mean is the mean of values with its 95 % interval (Student's t), and their
// spread.
type Mean struct {
	N                int
	Value, Low, High float64 // NaN under two values
	Spread           float64 // standard deviation
}

// MeanOf is the mean of values.
func MeanOf(values []float64) Mean {
	n := len(values)
	if n < 2 {
		none := math.NaN()
		return Mean{n, none, none, none, none}
	}
	mean, sd := stat.MeanStdDev(values, nil)
	t := distuv.StudentsT{Sigma: 1, Nu: float64(n - 1)}.Quantile(0.975)
	half := t * sd / math.Sqrt(float64(n))
	return Mean{n, mean, mean - half, mean + half, sd}
}

// SpreadBounds is the 95 % interval of the spread of normal values (chi
// square).
func (m Mean) SpreadBounds() (low, high float64) {
	if m.N < 2 {
		return math.NaN(), math.NaN()
	}
	nu := float64(m.N - 1)
	c := distuv.ChiSquared{K: nu}
	return m.Spread * math.Sqrt(nu/c.Quantile(0.975)), m.Spread * math.Sqrt(nu/c.Quantile(0.025))
}

// PValue is the two-sided p-value of the mean being 0 (one-sample t-test).
func (m Mean) PValue() float64 {
	if m.N < 2 || m.Spread == 0 {
		return math.NaN()
	}
	t := math.Abs(m.Value) / (m.Spread / math.Sqrt(float64(m.N)))
	return 2 * distuv.StudentsT{Sigma: 1, Nu: float64(m.N - 1)}.Survival(t)
}

// Quantile of values, linear between them (definition 7 of Hyndman and Fan
// 1996); NaN of none.
func Quantile(values []float64, q float64) float64 {
	if len(values) == 0 {
		return math.NaN()
	}
	sorted := slices.Sorted(slices.Values(values))
	at := q * float64(len(sorted)-1)
	i := int(at)
	if i+1 >= len(sorted) {
		return sorted[len(sorted)-1]
	}
	return sorted[i] + (at-float64(i))*(sorted[i+1]-sorted[i])
}
