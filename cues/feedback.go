package cues

import (
	"fmt"

	"drillbay/drills"
)

// Feedback says after which reps of a set a verdict is told.
type Feedback uint8

const (
	EveryRep Feedback = iota
	EverySecond
	// Faded tells every rep in the first third of the set, every second in
	// the next, every third in the last (Winstein & Schmidt 1990: fewer may
	// be kept better; contested since).
	Faded
	OnlyMisses // only reps that do not count
	AfterSet   // none but the summary
	NoFeedback // none, and no summary: a test on a later day
)

var feedbackNames = [...]string{"every rep", "every second", "faded", "only misses", "after the set", "none"}

func (f Feedback) String() string {
	if int(f) < len(feedbackNames) {
		return feedbackNames[f]
	}
	return fmt.Sprintf("unknown (%d)", uint8(f))
}

// ParseFeedback is the inverse of String.
func ParseFeedback(s string) (Feedback, error) {
	for i, n := range feedbackNames {
		if n == s {
			return Feedback(i), nil
		}
	}
	return 0, fmt.Errorf("feedback %q is not one of %q", s, feedbackNames)
}

// endless is the length taken for a set without end.
const endless = 20

// Due reports whether rep n, from 1, of a set of so many (0: no end) is told.
func (f Feedback) Due(n, of int, r drills.Rep) bool {
	if of <= 0 {
		of = endless
	}
	switch f {
	case EveryRep:
		return true
	case EverySecond:
		return n%2 == 1
	case Faded:
		switch third := (of + 2) / 3; {
		case n <= third:
			return true
		case n <= 2*third:
			return (n-third)%2 == 0
		default:
			return (n-2*third)%3 == 0
		}
	case OnlyMisses:
		return !r.Counts()
	}
	return false
}
