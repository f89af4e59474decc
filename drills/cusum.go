package drills

import (
	"math"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// Cusum finds the rep at which values leave a level: the two-sided cumulative
// sum with slack k and limit h, in the values' unit (NIST/SEMATECH e-Handbook
// of Statistical Methods, 6.3.2.3).
type Cusum struct{ Level, K, H float64 }

// Signal is the index of the first value at which a sum passes the limit, the
// sum there, and the direction, +1 or −1; at is −1 when none does.
func (c Cusum) Signal(values []float64) (at int, sum float64, direction int) {
	high, low := 0.0, 0.0
	for i, v := range values {
		high = max(0, high+v-c.Level-c.K)
		low = max(0, low+c.Level-v-c.K)
		if high > c.H {
			return i, high, 1
		}
		if low > c.H {
			return i, low, -1
		}
	}
	return -1, 0, 0
}

// SelfStarting standardises each value by those before it, so that a sum can
// begin without knowing level and spread (Hawkins 1987, The Statistician
// 36:299): while nothing changes the result is normal with mean 0 and
// deviation 1. The first two values have none.
func SelfStarting(values []float64) []float64 {
	var out []float64
	for n := 2; n < len(values); n++ {
		mean, sd := stat.MeanStdDev(values[:n], nil)
		if sd == 0 {
			out = append(out, 0)
			continue
		}
		m := float64(n)
		t := math.Sqrt(m/(m+1)) * (values[n] - mean) / sd
		p := distuv.StudentsT{Sigma: 1, Nu: m - 1}.CDF(t)
		out = append(out, distuv.UnitNormal.Quantile(min(max(p, 1e-12), 1-1e-12)))
	}
	return out
}
