package cues

import (
	"fmt"
	"math"
)

// Step is one sound of a round: its place in beats from the round's beginning.
type Step struct {
	At   float64
	Tone Tone
}

// Beat is a metronome's pattern: rounds of steps at a rate.
type Beat struct {
	Rate    float64 // beats a minute
	Round   float64 // beats in a round
	Steps   []Step  // in order, the first at 0
	CountIn int     // beats counted before the first round
}

// What a beat may be.
const (
	slowest, fastest      = 20.0, 240.0
	shortTime, longTime   = 0.6, 4.0
	leastRatio, mostRatio = 1.0, 6.0
	longestCount          = 16
)

// UsualRatio is back : down of an ordinary swing (common practice).
const UsualRatio = 3.0

// SwingAndCatch is forward, back, catch and hold, a beat each.
func SwingAndCatch(rate float64) Beat {
	return Beat{Rate: rate, Round: 4, Steps: []Step{{0, named("forward")}, {1, named("back")}, {2, named("catch")}, {3, named("hold")}}}
}

// Plain is one sound a beat.
func Plain(rate float64) Beat { return Beat{Rate: rate, Round: 1, Steps: []Step{{0, named("back")}}} }

// WholeSwing is an ordinary swing of a total time, seconds from takeaway to
// impact, with a ratio back : down, and rest seconds after it. A beat is a
// quarter of the time; a ratio of 3 : 1 puts the top on a beat.
func WholeSwing(total, ratio, rest float64) Beat {
	top := 4 * ratio / (1 + ratio)
	return Beat{Rate: 240 / total, Round: 4 + math.Ceil(rest*4/total), Steps: []Step{{0, named("takeaway")}, {top, named("top")}, {4, named("impact")}}}
}

// Check says what is wrong with a beat.
func (b Beat) Check() error {
	if !(b.Rate >= slowest && b.Rate <= fastest) {
		return fmt.Errorf("%.4g beats a minute cannot be: choose %g to %g", b.Rate, slowest, fastest)
	}
	if len(b.Steps) == 0 || b.Steps[0].At != 0 {
		return fmt.Errorf("a beat begins with a sound")
	}
	for i, s := range b.Steps {
		if !(s.At < b.Round) || (i > 0 && !(s.At > b.Steps[i-1].At)) {
			return fmt.Errorf("sound %d of a beat lies outside its round or out of order", i+1)
		}
	}
	if b.CountIn < 0 || b.CountIn > longestCount {
		return fmt.Errorf("a count-in of %d beats cannot be: choose 0 to %d", b.CountIn, longestCount)
	}
	return nil
}

// CheckSwing says what is wrong with the time and ratio of a whole swing.
func CheckSwing(total, ratio float64) error {
	if !(total >= shortTime && total <= longTime) {
		return fmt.Errorf("a swing of %.4g s cannot be: choose %g to %g s from takeaway to impact", total, shortTime, longTime)
	}
	if !(ratio >= leastRatio && ratio <= mostRatio) {
		return fmt.Errorf("a ratio of %.4g to 1 cannot be: choose %g to %g", ratio, leastRatio, mostRatio)
	}
	return nil
}

// place returns the place of sound k, in beats from the first, and which step of the round
// it is: −1 in the count-in, which comes before the first round.
func (b *Beat) place(k int) (beats float64, step int) {
	if k < b.CountIn {
		return float64(k), -1
	}
	k -= b.CountIn
	round, step := k/len(b.Steps), k%len(b.Steps)
	return float64(b.CountIn) + float64(round)*b.Round + b.Steps[step].At, step
}

// Samples is the length of so many beats in samples of a rate, not rounded.
func (b Beat) Samples(beats float64, rate int) float64 {
	return beats * 60 * float64(rate) / b.Rate
}
