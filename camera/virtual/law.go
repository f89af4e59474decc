package virtual

import "math"

// law gives the share of a way that is done by the share of its time, both 0..1.
type law [257]float64

// at interpolates the law.
func (l *law) at(tau float64) float64 {
	if !(tau > 0) {
		return 0
	}
	if tau >= 1 {
		return 1
	}
	x := tau * float64(len(l)-1)
	i := int(x)
	return l[i] + (l[i+1]-l[i])*(x-float64(i))
}

// lawOf integrates a speed over 0..1; its scale does not matter.
func lawOf(speed func(tau float64) float64) *law {
	var l law
	const sub = 8
	n := len(l) - 1
	for i := 1; i <= n; i++ {
		sum := 0.0
		for k := range sub {
			sum += max(0, speed((float64(i-1)+(float64(k)+0.5)/sub)/float64(n)))
		}
		l[i] = l[i-1] + sum
	}
	total := l[n]
	for i := range l {
		l[i] /= total
	}
	return &l
}

// bell is the speed of a minimum-jerk movement over 0..1, skewed so that its
// peak comes at the share peak of the time (0.5: not skewed).
func bell(tau, peak float64) float64 {
	if tau <= 0 || tau >= 1 {
		return 0
	}
	if peak != 0.5 {
		tau = math.Pow(tau, math.Log(0.5)/math.Log(peak))
	}
	return tau * tau * (1 - tau) * (1 - tau)
}

// evenLaw is one minimum-jerk movement.
func evenLaw() *law { return lawOf(func(t float64) float64 { return bell(t, 0.5) }) }

// swingLaw starts from rest, is fastest at the share peak of the time and
// still has the share end of that speed when the hand stops it within give
// (a share of the time).
func swingLaw(peak, end, give float64) *law {
	stop := 1 - give
	return stoppedLaw(give, func(t float64) float64 {
		if t < peak {
			return (1 - math.Cos(math.Pi*t/peak)) / 2
		}
		k := (t - peak) / (stop - peak)
		return 1 - (1-end)*k*k
	})
}

// stoppedLaw has a speed until a hand stops it within give, the last share of the time.
func stoppedLaw(give float64, speed func(t float64) float64) *law {
	stop := 1 - give
	return lawOf(func(t float64) float64 {
		if t < stop {
			return speed(t)
		}
		return speed(stop) * (1 - t) / give
	})
}

// placeLaw is moves minimum-jerk movements, with a rest of the share dwell of
// the time between them.
func placeLaw(moves int, dwell, peak float64) *law {
	each := (1 - dwell*float64(moves-1)) / float64(moves)
	return lawOf(func(t float64) float64 {
		v := 0.0
		for i := range moves {
			v += bell((t-float64(i)*(each+dwell))/each, peak)
		}
		return v
	})
}

// downLaw gains speed all the way and arrives at full speed, as a downswing.
func downLaw() *law {
	return lawOf(func(t float64) float64 { return math.Sin(t*math.Pi/2) * (0.4 + 0.6*t) })
}

// coastLaw starts at full speed and comes to rest.
func coastLaw() *law {
	return lawOf(func(t float64) float64 { return (1 - t) * (1 - t) * (1 + 0.6*t) })
}

// cutLaw is a movement of least jerk that a hand stops within give when the share
// cut of its time has passed.
func cutLaw(cut, give float64) *law {
	return stoppedLaw(give, func(t float64) float64 { return bell(t/(1-give)*cut, 0.5) })
}

// drivenLaw gains speed as a power of the time up to the share gained of it, and
// has lost the share lost of that speed when a hand stops it within give.
func drivenLaw(power, gained, lost, give float64) *law {
	stop := 1 - give
	return stoppedLaw(give, func(t float64) float64 {
		if t < gained {
			return math.Pow(t/gained, power)
		}
		return 1 - lost*(t-gained)/(stop-gained)
	})
}

// backLaw is the way from turn-round to catch for a manner and a course that takes
// duration s; vary (0..1, three of them) makes reps differ.
func backLaw(m Manner, c Course, duration float64, vary [3]float64) *law {
	give := min(0.3, (0.025+0.02*vary[2])/duration)
	switch {
	case c == CutShort && m.Swung():
		return cutLaw(0.52+0.2*vary[0], give)
	case c == Driven && m.Swung():
		return drivenLaw(0.6+vary[0], 0.35+0.4*vary[1], 0.5*vary[0], give)
	case c == RunsOut && !m.Swung() && m != StopGo:
		return placeLaw(1, 0, 0.27+0.1*vary[0])
	}
	switch m {
	case StopGo:
		return placeLaw(2+int(vary[0]*1.99), 0.06+0.08*vary[1], 0.42+0.16*vary[2])
	case Creep:
		return placeLaw(1, 0, 0.42+0.12*vary[0])
	case QuickPlace:
		return placeLaw(1, 0, 0.36+0.12*vary[0])
	case GentleSwing:
		return swingLaw(0.72+0.12*vary[0], 0.55+0.2*vary[1], min(0.3, (0.03+0.015*vary[2])/duration))
	default:
		return swingLaw(0.66+0.14*vary[0], 0.5+0.25*vary[1], min(0.3, (0.025+0.015*vary[2])/duration))
	}
}
