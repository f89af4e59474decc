package drills

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// Share is a number out of a total: reps that count, say.
type Share struct{ Good, Of int }

// Value is the share, 0 to 1; NaN of none.
func (s Share) Value() float64 { return float64(s.Good) / float64(s.Of) }

// Bounds returns the bounds of the share in the long run with 95 % confidence: Wilson's
// score interval (Newcombe 1998, Statistics in Medicine 17:857).
func (s Share) Bounds() (low, high float64) {
	if s.Of == 0 {
		return 0, 1
	}
	z := distuv.UnitNormal.Quantile(0.975)
	p, n := s.Value(), float64(s.Of)
	middle := p + z*z/(2*n)
	half := z * math.Sqrt(p*(1-p)/n+z*z/(4*n*n))
	return max((middle-half)/(1+z*z/n), 0), min((middle+half)/(1+z*z/n), 1)
}

// Low is the lower bound.
func (s Share) Low() float64 { low, _ := s.Bounds(); return low }

// High is the upper bound.
func (s Share) High() float64 { _, high := s.Bounds(); return high }

// Add is both together.
func (s Share) Add(t Share) Share { return Share{s.Good + t.Good, s.Of + t.Of} }

// String is "16 of 20".
func (s Share) String() string { return fmt.Sprintf("%d of %d", s.Good, s.Of) }

// Counted returns how many of the values are true, out of how many.
func Counted(reps []bool) (s Share) {
	for _, good := range reps {
		s.Of++
		if good {
			s.Good++
		}
	}
	return s
}

// Difference returns share s minus share t with its 95 % interval (Newcombe 1998,
// Statistics in Medicine 17:873, method 10); NaN when either is of none.
func (s Share) Difference(t Share) (difference, low, high float64) {
	if s.Of == 0 || t.Of == 0 {
		return math.NaN(), math.NaN(), math.NaN()
	}
	a, b := s.Value(), t.Value()
	al, ah := s.Bounds()
	bl, bh := t.Bounds()
	d := a - b
	return d, d - math.Hypot(a-al, bh-b), d + math.Hypot(ah-a, b-bl)
}
