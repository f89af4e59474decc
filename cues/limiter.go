package cues

import "math"

// lookahead is the number of samples by which the limiter sees a peak early, 2 ms.
const lookahead = Rate / 500

// Limiter keeps peaks at or under a ceiling by turning down before they come.
// It delays by Delay samples and never waits or allocates.
type Limiter struct {
	ceiling float64
	late    [lookahead]float64 // samples on their way
	gains   [lookahead]float64 // the gains of those samples
	at      int
	sum     float64 // of gains
	gain    float64
	hold    int
	back    float64
}

// Delay is the number of samples by which the limiter's output is late.
const Delay = lookahead

// NewLimiter returns a limiter for a ceiling, 0 to 1.
func NewLimiter(ceiling float64) *Limiter {
	l := &Limiter{ceiling: ceiling, gain: 1, sum: lookahead, back: 1 - math.Exp(-1/(0.08*Rate))}
	for i := range l.gains {
		l.gains[i] = 1
	}
	return l
}

// Step takes a sample in and gives one out.
func (l *Limiter) Step(x float64) float64 {
	need := 1.0
	if a := math.Abs(x); a > l.ceiling {
		need = l.ceiling / a
	}
	switch {
	case need <= l.gain:
		l.gain, l.hold = need, 2*lookahead
	case l.hold > 0:
		l.hold--
	default:
		l.gain = min(need, l.gain+(1-l.gain)*l.back)
		if l.gain > 0.9999 {
			l.gain = min(need, 1)
		}
	}
	out := l.late[l.at]
	l.sum += l.gain - l.gains[l.at]
	l.late[l.at], l.gains[l.at] = x, l.gain
	l.at = (l.at + 1) % lookahead
	if l.at == 0 {
		l.sum = 0 // the running sum is taken anew, so that it cannot drift
		for _, g := range l.gains {
			l.sum += g
		}
	}
	// What the mean of the gains still lets over is cut: a hair, if any.
	return max(-l.ceiling, min(l.ceiling, out*l.sum/lookahead))
}
