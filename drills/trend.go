package drills

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// Trend describes the change of a row of values over time.
type Trend struct {
	N     int
	S     int     // Mann and Kendall's statistic: rises less falls over all pairs
	Var   float64 // of S when there is no trend, ties taken out
	Z     float64 // S by its deviation, corrected for continuity
	P     float64 // two-sided; exact up to 10 values without ties
	Slope float64 // Theil and Sen's: the median of the slopes of all pairs, a value a step
}

// FewestForTrend is the smallest number of values that can show a trend at all: of four,
// even all rising have p = 0.08.
const FewestForTrend = 5

// TrendOf tests values, in their order, for a trend (Mann–Kendall and
// Theil–Sen; EPA QA/G-9S, 2006).
func TrendOf(values []float64) Trend {
	n := len(values)
	t := Trend{N: n, P: 1}
	var slopes []float64
	ties := map[float64]int{}
	for i, a := range values {
		ties[a]++
		for j, b := range values[i+1:] {
			switch {
			case b > a:
				t.S++
			case b < a:
				t.S--
			}
			slopes = append(slopes, (b-a)/float64(j+1))
		}
	}
	m := float64(n)
	t.Var = m * (m - 1) * (2*m + 5) / 18
	for _, k := range ties {
		g := float64(k)
		t.Var -= g * (g - 1) * (2*g + 5) / 18
	}
	t.Slope = Quantile(slopes, 0.5)
	switch {
	case t.Var <= 0:
		return t
	case t.S > 0:
		t.Z = float64(t.S-1) / math.Sqrt(t.Var)
	case t.S < 0:
		t.Z = float64(t.S+1) / math.Sqrt(t.Var)
	}
	if n <= 10 && len(ties) == n {
		t.P = exactP(t.S, n)
	} else {
		t.P = min(1, 2*distuv.UnitNormal.Survival(math.Abs(t.Z)))
	}
	return t
}

// Shown reports whether there is a trend with 95 % confidence.
func (t Trend) Shown() bool { return t.N >= FewestForTrend && t.P < 0.05 }

// exactP counts the orders of n different values in which |S| is as large.
func exactP(s, n int) float64 {
	orders := []float64{1} // by number of falling pairs
	for k := 2; k <= n; k++ {
		next := make([]float64, len(orders)+k-1)
		for i, c := range orders {
			for j := range k {
				next[i+j] += c
			}
		}
		orders = next
	}
	pairs, all, far := n*(n-1)/2, 0.0, 0.0
	for falls, c := range orders {
		all += c
		if d := pairs - 2*falls; max(d, -d) >= max(s, -s) {
			far += c
		}
	}
	return far / all
}
