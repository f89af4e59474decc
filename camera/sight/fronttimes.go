package sight

import (
	"math"

	"drillbay/camera/eye"
)

// around is the median angle from one time to another.
func (f *Front) around(from, to float64) float64 {
	var x []float64
	for i, t := range f.At {
		if t >= from && t <= to {
			x = append(x, f.Arc[i])
		}
	}
	return middle(x)
}

// moments finds the rep's times from the live pass's; false without a backswing.
func (f *Front) moments(s Setting, looks []Look, span Span) bool {
	var steps []float64
	for i := 1; i < len(f.At); i++ {
		steps = append(steps, f.At[i]-f.At[i-1])
	}
	f.Frame = middle(steps)
	home := f.around(span.Start-addressLast, span.Start-addressGap)
	stop := span.Catch
	if span.Whole {
		stop = math.Inf(1)
	}
	// Forward first, where it swings forward: the least before it is far back,
	// which the hands tell where the club is not seen.
	least, first, back := -1, -1, s.handsAway(looks, span.Start, stop+0.3)
	for i, t := range f.At {
		if t < span.Start-0.3 || t > stop+0.3 {
			continue
		}
		if first < 0 && math.Abs(f.Arc[i]-home) > stirred {
			first = i
		}
		if t < back && f.Arc[i]-home > farBack {
			back = t
		}
		if t < back && (least < 0 || f.Arc[i] < f.Arc[least]) {
			least = i
		}
	}
	if math.IsNaN(home) || first < 1 || math.IsInf(back, 1) || least < 0 {
		return false
	}
	f.Start = f.crosses(first, home+math.Copysign(stirred, f.Arc[first]-home))
	f.Turn = f.Start
	if home-f.Arc[least] > forwardArc {
		f.Turn = f.turnsAt(least)
	}
	for i := least + 1; i < len(f.At); i++ {
		if f.Arc[i-1] < 90 && f.Arc[i] >= 90 && f.At[i] < stop+0.5 {
			f.Level = f.crosses(i, 90)
			break
		}
	}
	if !f.Held {
		return f.strikes(s, looks, home, back)
	}
	held := f.around(span.Catch+holdGap, span.Catch+holdLast)
	if !math.IsNaN(held) {
		f.Lift = Measure{held - 90, math.NaN()}
		return held-f.Arc[least] > leastArc && f.stops(held, least)
	}
	// The club is not seen where it is held: the hands tell when it stopped.
	f.Unclear = append(f.Unclear, "the club is not seen where it is held")
	f.Catch, f.Ending = s.handsStop(looks, f.Turn, span.Catch), math.NaN()
	return !math.IsNaN(f.Catch)
}

// handsAway is when the hands are away from the target of where they were before
// a time, +Inf when they never are.
func (s Setting) handsAway(looks []Look, from, until float64) float64 {
	home := s.standing(looks, from-addressLast, from-addressGap)[eye.Hands]
	if !home.ok {
		return math.Inf(1)
	}
	for i := range looks {
		if q := s.point(&looks[i], eye.Hands); looks[i].At > from && looks[i].At < until && q.ok && (home.at.U-q.at.U)/s.perMetre(s.Distance) > leastBack {
			return looks[i].At
		}
	}
	return math.Inf(1)
}

// handsStop is when the hands come to rest, by how the way along the target line
// that is left to where they are held shrinks.
func (s Setting) handsStop(looks []Look, from, catch float64) float64 {
	held := s.standing(looks, catch+holdGap, catch+holdLast)[eye.Hands]
	if !held.ok {
		return catch
	}
	var at, way []float64 // backward in time
	m := s.perMetre(s.Distance)
	for i := len(looks) - 1; i >= 0 && looks[i].At > from; i-- {
		q := s.point(&looks[i], eye.Hands)
		if !q.ok {
			continue
		}
		left := (q.at.U - held.at.U) / m
		if left < nearWay {
			at, way = at[:0], way[:0]
			continue
		}
		at, way = append(at, looks[i].At), append(way, left)
	}
	n := 0
	for n < len(way) && (way[n] < farWay || n < 2) {
		n++
	}
	if n < 2 {
		return catch
	}
	rest, _, _ := flank(at[:n], way[:n], power(1))
	return rest + give/2
}

// crosses is when the angle passes a value between look i−1 and i.
func (f *Front) crosses(i int, at float64) float64 {
	a, b := f.Arc[i-1], f.Arc[i]
	if a == b {
		return f.At[i]
	}
	return f.At[i-1] + max(0, min(1, (at-a)/(b-a)))*(f.At[i]-f.At[i-1])
}

// turnsAt is when the angle is least about look i: of the parabola through it and
// its neighbours.
func (f *Front) turnsAt(i int) float64 {
	if i < 1 || i+1 >= len(f.At) {
		return f.At[i]
	}
	h1, h2 := f.At[i]-f.At[i-1], f.At[i+1]-f.At[i]
	s1, s2 := (f.Arc[i]-f.Arc[i-1])/h1, (f.Arc[i+1]-f.Arc[i])/h2
	if !(s2 > s1) {
		return f.At[i]
	}
	bend := (s2 - s1) / ((h1 + h2) / 2)
	return max(f.At[i-1], min(f.At[i+1], f.At[i]-(s1+s2)/2/bend))
}

// stops finds the catch: the way that is left to where the shaft is held shrinks
// evenly until a hand stops it, or as a movement that comes to rest by itself.
func (f *Front) stops(held float64, from int) bool {
	var at, way []float64 // backward in time
	whole := held - f.Arc[from]
	for i := len(f.At) - 1; i >= from; i-- {
		left := held - f.Arc[i]
		if left < stirred {
			at, way = at[:0], way[:0]
			continue
		}
		at, way = append(at, f.At[i]), append(way, left)
	}
	if len(at) < 3 {
		return false
	}
	a, b, c := since(at, way, lastWay*whole), since(at, way, midWay*whole), since(at, way, firstWay*whole)
	if f.Ending = (a - b) / (b - c); math.IsNaN(f.Ending) || f.Ending < 0 {
		f.Ending = 0
	}
	n := 0
	for n < len(way) && (way[n] < farRest*whole || n < 2) {
		n++
	}
	if f.Ending > runsOut {
		f.Catch = resting(at[:n], way[:n], whole)
	} else {
		f.Catch, _, _ = flank(at[:n], way[:n], power(1))
		f.Catch += give / 2
	}
	return !math.IsNaN(f.Catch)
}

// strikes finds top and impact of a whole swing: the hands' highest, and when the
// shaft hangs again as it did at address.
func (f *Front) strikes(s Setting, looks []Look, home, back float64) bool {
	m := s.perMetre(s.Distance)
	var sights []sighted
	for i := range looks {
		if looks[i].At >= f.Start-addressLast {
			if q := s.sighted(looks[i]); q.of[handsAt].ok {
				sights = append(sights, q)
			}
		}
	}
	low := sights[0].of[handsAt].at.V
	rise := func(i int) float64 {
		if i == 0 || i == len(sights)-1 {
			return (low - sights[i].of[handsAt].at.V) / m
		}
		v := func(k int) float64 { return sights[k].of[handsAt].at.V }
		return (low - middle([]float64{v(i - 1), v(i), v(i + 1)})) / m
	}
	from, high, down := 0, -1, -1
	for i := range sights {
		t := sights[i].at
		if t < back {
			from = i
			continue
		}
		if down < 0 && t < back+soonImpact && (high < 0 || rise(i) > rise(high)) {
			high = i
		}
		if high >= 0 && rise(high) > raised && rise(i) < lowered && down < 0 {
			down = i
		}
	}
	if high < 0 || down < 0 {
		return false
	}
	f.Top = topOf(sights, from, down, rise)
	for i := 1; i < len(f.At); i++ {
		if f.At[i] < f.Top+0.1 || f.At[i] > f.Top+0.7 {
			continue
		}
		// On the way down the angle falls to what it was at address.
		a, b := math.Remainder(f.Arc[i-1]-home, 360), math.Remainder(f.Arc[i]-home, 360)
		if a > 0 && b <= 0 && a-b < 180 {
			f.Impact = f.crosses(i, f.Arc[i-1]-a)
			return true
		}
	}
	// Else when the hands pass on toward the target where they were at address.
	at := s.standing(looks, f.Start-addressLast, f.Start-addressGap)[eye.Hands].at.U
	for i := 1; i < len(sights); i++ {
		a, b := sights[i-1].of[handsAt].at.U-at, sights[i].of[handsAt].at.U-at
		if t := sights[i].at; t > f.Top+0.1 && t < f.Top+0.7 && a <= 0 && b > 0 {
			f.Impact = sights[i-1].at + a/(a-b)*(t-sights[i-1].at)
			return true
		}
	}
	return false
}
