package measure

import (
	"errors"
	"math"
)

// Strikes is how two clips are laid on each other by sudden sounds that both have.
type Strikes struct {
	Offset, Sigma float64 // s: how much later they sound in the second, and 1 sigma of it
	Both          int     // sounds that both have
	// Sure says that two or more agree, and at no other offset as many: one sound
	// alone may be any.
	Sure bool
}

// ErrStrikes says that two clips have no sudden sound to lay them on each other by.
var ErrStrikes = errors.New("no strike is heard in both")

// ByStrikes lays two clips on each other by when sudden sounds are heard in each, s:
// at the offset at which most of them are the same.
func ByStrikes(a, b []float64) (s Strikes, err error) {
	if len(a) == 0 || len(b) == 0 {
		return s, ErrStrikes
	}
	// at is how many sounds are the same at an offset, with its mean over them.
	at := func(offset float64) (n int, mean, spread float64) {
		var sum, square float64
		i, j := 0, 0
		for i < len(a) && j < len(b) {
			switch d := b[j] - a[i] - offset; {
			case d < -sameStrike:
				j++
			case d > sameStrike:
				i++
			default:
				n, sum, square = n+1, sum+d, square+d*d
				i, j = i+1, j+1
			}
		}
		mean = sum / float64(n)
		return n, offset + mean, math.Sqrt(max(0, square/float64(n)-mean*mean))
	}
	best, spread := 0, 0.0
	for _, x := range a {
		for _, y := range b {
			if n, mean, sd := at(y - x); n > best || n == best && sd < spread {
				s.Offset, best, spread = mean, n, sd
			}
		}
	}
	others := 0
	for _, x := range a {
		for _, y := range b {
			if n, mean, _ := at(y - x); math.Abs(mean-s.Offset) > otherOffset {
				others = max(others, n)
			}
		}
	}
	s.Both, s.Sure = best, best >= 2 && best > others
	s.Sigma = math.Hypot(waySigma, max(spread, strikeSigma)/math.Sqrt(float64(best)))
	return s, nil
}
