package sight

import (
	"errors"
	"math"

	"drillbay/camera/eye"
	"drillbay/camera/lens"
)

// Front is what is read of a rep face-on, the camera before the player's chest
// and looking across the target line: lengths in m, + away from the target,
// angles in degrees. The view's target point is where lines square to the target
// line meet, and Setting.Distance is from the lens to the hands at address.
// Which way the shaft points to the lens or from it is not seen from there, so
// that there is no shaft line.
type Front struct {
	Times
	At, Arc []float64 // s and degrees: the shaft's angle from hanging straight down, + away from the target
	Held    bool      // it ends in a hold
	Frame   float64   // s, the usual time between two looks
	// Lift is the elevation of the shaft in the hold, as the picture shows it.
	Lift Measure
	// HeadBack and HipsBack are the ways of the crown and of the middle of the
	// hips since address.
	HeadBack, HipsBack Measure
	// HandsThigh is how far the hands are beyond the trail thigh.
	HandsThigh Measure
	// ArmBack is the lead arm's angle from hanging straight down, Bend how far it
	// is bent.
	ArmBack, Bend Measure
	// Ball is where the ball lies between the feet at address, in shares: 0 at
	// the trail ankle, 1 at the lead ankle.
	Ball Measure
	// Home and Here are where the points were seen, as in Body.
	Home, Here      [eye.Points]lens.Point
	Hidden, Unclear []string
}

// ErrNoBackswing says that the club did not swing back.
var ErrNoBackswing = errors.New("no backswing was seen")

const (
	// How much farther from the lens than the hands at address the points of a
	// body at address are, m (by stature and posture, common practice), and how
	// sure that is.
	crownBehind, neckBehind, shoulderBehind, elbowBehind = -0.20, 0.03, 0.06, 0.04
	hipBehind, thighBehind, ankleBehind, ballBehind      = 0.39, 0.33, 0.30, -0.45
	behindSigma                                          = 0.06
	// A backswing turns the shaft by so much at least, degrees.
	leastArc = 45.0
	// From so far back it is one that goes on, degrees.
	farBack = 25.0
	// Hands that hold a catch are so far away from the target of where they were, m.
	leastBack = 0.1
	// Looks so long before the first motion are of address, s.
	addressLast, addressGap = 1.2, 0.12
	holdGap, holdLast       = 0.06, 0.9
	// The shaft has begun to move, or is caught, this far from where it rests,
	// degrees.
	stirred = 3.0
)

// FaceOn reads a rep from its looks and what the live pass found.
func (s Setting) FaceOn(looks []Look, span Span) (Front, error) {
	none := noMeasure()
	nan := math.NaN()
	f := Front{Times: Times{Start: nan, Turn: nan, Level: nan, Catch: nan, Top: nan, Impact: nan, Ending: nan}, Held: !span.Whole,
		Lift: none, HeadBack: none, HipsBack: none, HandsThigh: none, ArmBack: none, Bend: none, Ball: none}
	var all []float64 // the shaft's angle in each look that shows it
	for i := range looks {
		if arc, ok := s.hangs(&looks[i]); ok {
			f.At, all = append(f.At, looks[i].At), append(all, arc)
		}
	}
	f.Arc = despiked(all)
	if len(f.At) < 8 {
		return f, ErrFewLooks
	}
	if !f.moments(s, looks, span) {
		return f, ErrNoBackswing
	}
	r := frontReader{s: s, f: &f}
	r.home = s.standing(looks, f.Start-addressLast, f.Start-addressGap)
	where := f.Level
	if f.Held {
		r.here = s.standing(looks, f.Catch+holdGap, f.Catch+holdLast)
		where = f.Catch
	} else if !math.IsNaN(where) {
		r.here = s.passing(looks, where, passes)
	}
	f.Home, f.Here = r.home.points(), r.here.points()
	if a, b := r.home[eye.Hands], r.here[eye.Hands]; f.Held && (!a.ok || !b.ok || (a.at.U-b.at.U)/s.perMetre(s.Distance) < leastBack) {
		return f, ErrNoBackswing // held, but not behind
	}
	if math.IsNaN(where) {
		f.Unclear = append(f.Unclear, "the club was not followed through level")
	} else {
		r.read()
	}
	r.ball()
	return f, nil
}

// hangs is the shaft's angle from hanging straight down in a look, degrees, +
// away from the target.
func (s Setting) hangs(l *Look) (arc float64, ok bool) {
	hands := s.point(l, eye.Hands)
	end := s.point(l, eye.Head)
	if !end.ok {
		end = s.point(l, eye.ShaftEnd)
	}
	if !hands.ok || !end.ok || apart(hands.at, end.at) < 0.2*s.Reach*s.perMetre(s.Distance) {
		return 0, false
	}
	d := s.View.At(end.at, s.Distance).Sub(s.View.At(hands.at, s.Distance))
	return math.Atan2(d.Y, -d.Z) * 180 / math.Pi, true
}

// despiked are angles without single wrong ones, each the middle of three where
// it is far from both neighbours, and going on over ±180°.
func despiked(x []float64) []float64 {
	out := make([]float64, len(x))
	copy(out, x)
	for i := 1; i+1 < len(out); i++ {
		a, b := math.Remainder(out[i]-out[i-1], 360), math.Remainder(x[i+1]-out[i], 360)
		if math.Abs(a) > 25 && math.Abs(b) > 25 && a*b < 0 {
			out[i] = out[i-1] + math.Remainder(x[i+1]-out[i-1], 360)/2
		}
	}
	for i := 1; i < len(out); i++ {
		out[i] = out[i-1] + math.Remainder(out[i]-out[i-1], 360)
	}
	return out
}

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
	law := power(1)
	if f.Ending > runsOut {
		law = even(whole)
	}
	f.Catch, _, _ = flank(at[:n], way[:n], law)
	if f.Ending <= runsOut {
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
