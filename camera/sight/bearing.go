package sight

import "math"

// doubts are the variances of a way across and up and their covariance, in
// squares of its unit.
type doubts struct{ aa, au, uu float64 }

// bearing is by how much a way leans from the vertical, degrees, + the way that
// across counts, and its 1-sigma uncertainty by the law of propagation (Guide
// to the Expression of Uncertainty in Measurement, JCGM 100:2008, 5.2.2).
func bearing(across, up float64, d doubts) Measure {
	const deg = 180 / math.Pi
	long := across*across + up*up
	if !(long > 0) {
		return noMeasure()
	}
	variance := up*up*d.aa - 2*up*across*d.au + across*across*d.uu
	return Measure{deg * math.Atan2(across, up), deg * math.Sqrt(max(0, variance)) / long}
}

func noMeasure() Measure { return Measure{math.NaN(), math.NaN()} }

// OK reports whether there is a measure.
func (m Measure) OK() bool { return !math.IsNaN(m.Value) && !math.IsNaN(m.Sigma) }
