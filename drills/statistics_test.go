package drills

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The first four: Newcombe 1998, Statistics in Medicine 17:857, Table I. The
// others: computed from the same formula with scipy 1.10.
func TestSharesAreBoundedAfterWilson(t *testing.T) {
	for _, c := range []struct {
		s         Share
		low, high float64
	}{
		{Share{81, 263}, 0.255289, 0.366210}, {Share{15, 148}, 0.062386, 0.160487}, {Share{0, 20}, 0, 0.161125}, {Share{1, 29}, 0.006113, 0.171755},
		{Share{8, 10}, 0.490162, 0.943318}, {Share{10, 10}, 0.722467, 1}, {Share{18, 20}, 0.698966, 0.972134}, {Share{45, 50}, 0.786398, 0.956524},
		{Share{0, 0}, 0, 1},
	} {
		low, high := c.s.Bounds()
		assert.InDelta(t, c.low, low, 1e-6, fmt.Sprint(c.s))
		assert.InDelta(t, c.high, high, 1e-6, fmt.Sprint(c.s))
	}
}

// The rule of passing: 9 of 10 (0.596) and 16 of 20 (0.584) pass at 0.55,
// 8 of 10 (0.490) do not; 9 of 9 and 19 of 20 keep at 0.70 (a convention).
func TestWhatPassesAndWhatKeeps(t *testing.T) {
	assert.InDelta(t, 0.596, Share{9, 10}.Low(), 5e-4)
	assert.InDelta(t, 0.584, Share{16, 20}.Low(), 5e-4)
	assert.Less(t, Share{8, 10}.Low(), 0.55)
	assert.GreaterOrEqual(t, Share{9, 9}.Low(), 0.70)
	assert.GreaterOrEqual(t, Share{19, 20}.Low(), 0.70)
	assert.Less(t, Share{18, 20}.Low(), 0.70)
}

// EPA QA/G-9S (2006), p. 109.
func TestTrendOfThePublishedExample(t *testing.T) {
	got := TrendOf([]float64{10, 10, 10, 5, 10, 20, 18, 17, 15, 24, 15})
	assert.Equal(t, 22, got.S)
	assert.InDelta(t, 155.3333, got.Var, 1e-4)
	assert.InDelta(t, 1.685, got.Z, 5e-4)
	assert.InDelta(t, 1.0, got.Slope, 1e-12)
	assert.False(t, got.Shown(), "p = 0.09")
}

// Exact tails of Kendall's S: n = 5, S = 10 is 1 of 120 orders on each side;
// n = 4, S = 6 is 1 of 24 (Kendall, Rank Correlation Methods, table 1; counts
// follow by hand). A row of five can show a trend, a row of four cannot.
func TestTrendsOfFewValuesAreExact(t *testing.T) {
	five := TrendOf([]float64{1, 2, 3, 4, 5})
	assert.InDelta(t, 2.0/120, five.P, 1e-12)
	assert.True(t, five.Shown())
	four := TrendOf([]float64{4, 3, 2, 1})
	assert.InDelta(t, 2.0/24, four.P, 1e-12)
	assert.InDelta(t, -1, four.Slope, 1e-12)
	assert.False(t, four.Shown())
	for _, none := range [][]float64{nil, {3}, {2, 2, 2, 2, 2, 2}} {
		assert.False(t, TrendOf(none).Shown(), fmt.Sprint(none))
	}
}

// NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.3: the high side
// passes the limit first at value 14, with 4.94 there.
func TestCusumOfThePublishedExample(t *testing.T) {
	values := []float64{324.925, 324.675, 324.725, 324.350, 325.350, 325.225, 324.125, 324.525, 325.225, 324.600,
		324.625, 325.150, 328.325, 327.250, 327.825, 328.500, 326.675, 327.775, 326.875, 328.350}
	at, sum, direction := Cusum{Level: 325, K: 0.3175, H: 4.1959}.Signal(values)
	assert.Equal(t, 14, at+1)
	assert.InDelta(t, 4.94, sum, 5e-3)
	assert.Equal(t, 1, direction)
	for i := range values {
		values[i] = -values[i]
	}
	at, _, direction = Cusum{Level: -325, K: 0.3175, H: 4.1959}.Signal(values)
	assert.Equal(t, 14, at+1)
	assert.Equal(t, -1, direction)
	at, _, _ = Cusum{Level: 325, K: 0.3175, H: 4.1959}.Signal([]float64{325, 325.1, 324.9})
	assert.Equal(t, -1, at)
}

// NIST StRD, NumAcc4 (mean 10000000.2, standard deviation 0.1; data from
// memory): a sum of squares fails here.
func TestMeansDoNotLoseDigits(t *testing.T) {
	values := []float64{10000000.2}
	for range 500 {
		values = append(values, 10000000.1, 10000000.3)
	}
	m := MeanOf(values)
	assert.InDelta(t, 10000000.2, m.Value, 1e-8)
	assert.InDelta(t, 0.1, m.Spread, 1e-8)
}

// Student's t 0.975 with 9 degrees of freedom is 2.262157; chi square with 9:
// 2.700389 and 19.022768 (NIST/SEMATECH e-Handbook, 1.3.6.7.2 and 1.3.6.7.4).
func TestMeansHaveTheirInterval(t *testing.T) {
	m := MeanOf([]float64{1, 2, 3, 4, 5, 6, 7, 8, 9, 10})
	require.InDelta(t, 5.5, m.Value, 1e-12)
	sd := math.Sqrt(82.5 / 9)
	assert.InDelta(t, sd, m.Spread, 1e-12)
	assert.InDelta(t, 5.5-2.262157*sd/math.Sqrt(10), m.Low, 1e-5)
	low, high := m.SpreadBounds()
	assert.InDelta(t, sd*math.Sqrt(9/19.022768), low, 1e-5)
	assert.InDelta(t, sd*math.Sqrt(9/2.700389), high, 1e-5)
	assert.Less(t, m.PValue(), 0.001)
	assert.InDelta(t, 1, MeanOf([]float64{-1, 1, -2, 2}).PValue(), 1e-12)
	assert.True(t, math.IsNaN(MeanOf([]float64{4}).Low))
	assert.InDelta(t, 2.5, Quantile([]float64{4, 1, 3, 2}, 0.5), 1e-12)
}

// Newcombe 1998, Statistics in Medicine 17:873, Table II, method 10, 56/70
// less 48/80 and 9/10 less 3/10 (values from memory).
func TestSharesAreCompared(t *testing.T) {
	for _, c := range []struct {
		a, b         Share
		d, low, high float64
	}{{Share{56, 70}, Share{48, 80}, 0.2, 0.0524, 0.3339}, {Share{9, 10}, Share{3, 10}, 0.6, 0.1705, 0.8090}} {
		d, low, high := c.a.Difference(c.b)
		assert.InDelta(t, c.d, d, 1e-12)
		assert.InDelta(t, c.low, low, 1e-4)
		assert.InDelta(t, c.high, high, 1e-4)
	}
}

// Worked by hand: after 1 and 3 (mean 2, deviation √2) the value 5 is
// √(2/3)·3/√2 = √3, whose probability in Student's t with 1 degree of freedom
// is 1/2 + atan(√3)/π = 5/6; the normal quantile there is 0.967422.
func TestASumThatStartsByItself(t *testing.T) {
	got := SelfStarting([]float64{1, 3, 5})
	require.Len(t, got, 1)
	assert.InDelta(t, 0.967422, got[0], 1e-6)
	assert.Empty(t, SelfStarting([]float64{1, 2}))
}
