package rep

import (
	"math"

	"drillbay/camera/lens"
	"drillbay/camera/sight"
)

// path is the way the shaft line goes with the elevation in the backswing:
// a quadratic through the samples, each with its sigma.
type path struct {
	lift, line, sigma []float64
	times             []float64 // s
	points            []lens.Point
	alone             bool // of a whole swing, by what was seen by itself
}

// pathOf takes the samples of the backswing on the way up to level.
func pathOf(t sight.Track) path {
	var p path
	n := len(t.Samples)
	if t.Held != nil {
		n--
	}
	top := -90.0
	p.alone = t.Held == nil && seenAlone(t)
	for _, s := range t.Samples[:n] {
		if p.alone && !s.Seen {
			continue
		}
		if s.At < t.Turn || s.Arc < 12 || s.Lift < -52 {
			continue
		}
		if s.Lift < top-3 || s.Lift > 27 {
			break // on its way down again
		}
		top = max(top, s.Lift)
		if t.Held == nil && !p.alone && s.Unlike > lostHands {
			break // the hands, and the club with them, are followed no farther
		}
		sg := 2.5
		switch {
		case s.Seen:
			sg = 2
		case s.Fit < 1:
			sg = 8
		}
		p.lift, p.line, p.sigma = append(p.lift, s.Lift), append(p.line, s.Line), append(p.sigma, sg)
		p.times, p.points = append(p.times, s.At), append(p.points, s.Hands)
	}
	return p
}

// seenAlone reports whether the club was seen often enough about the level of a
// whole swing for what was seen to tell the path without what was followed.
func seenAlone(t sight.Track) bool {
	n := 0
	for _, s := range t.Samples {
		if s.Seen && s.At > t.Start && s.Lift > -40 && s.Lift < 27 {
			n++
		}
	}
	return n >= 3
}

// lostHands is how unlike those at address hands may look that are followed.
const lostHands = 0.45

// mostCarried is how far under an elevation the last sample may be for the
// time at it to be told, degrees.
const mostCarried = 26.0

// with adds a reading at an elevation.
func (p path) with(lift, line, sigma float64) path {
	q := p
	q.lift = append(append([]float64(nil), p.lift...), lift)
	q.line = append(append([]float64(nil), p.line...), line)
	q.sigma = append(append([]float64(nil), p.sigma...), sigma)
	return q
}

// at is the shaft line at an elevation and its sigma, degrees; ok is false
// when there are too few samples near.
func (p path) at(lift float64) (line, sigma float64, ok bool) {
	n := len(p.lift)
	if n < 3 {
		return 0, 0, false
	}
	near := math.Inf(1)
	for _, l := range p.lift {
		near = min(near, math.Abs(l-lift))
	}
	if near > 30 {
		return 0, 0, false
	}
	degree := 2
	if n < 5 {
		degree = 1
	}
	extra := make([]float64, n)
	for range 4 {
		c, cov, fine := fit(p.lift, p.line, p.sigma, extra, lift, degree)
		if !fine {
			return 0, 0, false
		}
		line, sigma = c, cov
		// Samples far from the curve count less (Huber).
		for i := range extra {
			v, _, _ := fit(p.lift, p.line, p.sigma, extra, p.lift[i], degree)
			z := math.Abs(p.line[i]-v) / p.sigma[i]
			extra[i] = 1
			if z > 1.5 {
				extra[i] = z / 1.5
			}
		}
	}
	// Neighbouring samples share their errors, and a curve carried on is
	// less sure the farther it goes.
	return line, math.Sqrt(sq(1.6*sigma) + sq(0.12*near) + 0.8), true
}

// fit is a weighted polynomial fit about x0: its value there and the sigma.
func fit(x, y, sigma, worse []float64, x0 float64, degree int) (value, sd float64, ok bool) {
	const size = 3
	var a [size][size + 1]float64
	var inv [size][size]float64
	d := degree + 1
	for i := range x {
		w := 1 / sq(sigma[i]*max(1, worse[i]))
		u := (x[i] - x0) / 30
		w /= 1 + sq(u) // near counts more
		pow := [5]float64{1, u, u * u, u * u * u, u * u * u * u}
		for r := range d {
			for c := range d {
				a[r][c] += w * pow[r+c]
			}
			a[r][size] += w * pow[r] * y[i]
		}
	}
	// A weak prior keeps the curvature small.
	if d == 3 {
		a[2][2] += 1 / sq(14.0)
	}
	a[1][1] += 1 / sq(60.0)
	for i := range d {
		inv[i][i] = 1
	}
	for i := range d {
		if math.Abs(a[i][i]) < 1e-12 {
			return 0, 0, false
		}
		p := a[i][i]
		for c := range d {
			a[i][c] /= p
			inv[i][c] /= p
		}
		a[i][size] /= p
		for r := range d {
			if r == i {
				continue
			}
			f := a[r][i]
			for c := range d {
				a[r][c] -= f * a[i][c]
				inv[r][c] -= f * inv[i][c]
			}
			a[r][size] -= f * a[i][size]
		}
	}
	return a[0][size], math.Sqrt(max(inv[0][0], 0)), true
}

// when is the first time at which the elevation passes lift upward.
func (p path) when(lift float64) (float64, bool) {
	for i := 1; i < len(p.lift) && i < len(p.times); i++ {
		if p.lift[i-1] < lift && p.lift[i] >= lift {
			f := (lift - p.lift[i-1]) / (p.lift[i] - p.lift[i-1])
			return p.times[i-1] + f*(p.times[i]-p.times[i-1]), true
		}
	}
	// Not quite reached: carried on at the rate of the last tenth of a second.
	n := len(p.times)
	if n < 4 || p.lift[n-1] < lift-mostCarried {
		return math.NaN(), false
	}
	i := n - 1
	for i > 0 && p.times[n-1]-p.times[i] < 0.09 {
		i--
	}
	if rate := (p.lift[n-1] - p.lift[i]) / (p.times[n-1] - p.times[i]); rate > 60 {
		return p.times[n-1] + (lift-p.lift[n-1])/rate, true
	}
	return math.NaN(), false
}

// short is by how much the highest sample is under an elevation, degrees.
func (p path) short(lift float64) float64 {
	least := math.Inf(1)
	for _, l := range p.lift {
		least = min(least, max(0, lift-l))
	}
	return least
}

// hands are where the hands are when the elevation is lift.
func (p path) hands(lift float64) lens.Point {
	best, at := math.Inf(1), lens.Point{}
	for i, l := range p.lift {
		if d := math.Abs(l - lift); d < best {
			best, at = d, p.points[i]
		}
	}
	return at
}
