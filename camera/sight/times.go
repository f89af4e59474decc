package sight

import (
	"math"

	"drillbay/camera/lens"
)

// Times are the moments of a rep read off its track, s of the capture clock,
// NaN where there is none, by the definitions of drills.Moments.
type Times struct {
	Start, Turn, Level, Catch, Top, Impact float64
	// Ending is how long the last part of the way took, as a share of the time
	// of the part before: the more, the more the club came to rest by itself.
	Ending float64
}

const (
	// Hands that stop a club take so long for it (common practice), s.
	give = 0.032
	// A rep has begun when the head passes this share of its fastest.
	begun = 0.05
	// A turn-round is one from this many degrees ahead of address.
	forwardArc = 12.0
	// Between these the way from a rest is told from what the eye is off, m
	// and degrees.
	nearWay, farWay = 0.03, 0.30
	nearLeave       = 0.07
	nearArc         = 4.0
	// As far as such a share of the whole movement tells when it began or ended.
	farLeave, farTurning, farRest = 0.5, 0.4, 0.5
	// The parts of the way that are compared to tell how the club came to rest,
	// and the share of their times from which it did so by itself: 0.66 is that
	// of a movement of least jerk, 0.35 that of an even one.
	lastWay, midWay, firstWay = 0.05, 0.14, 0.40
	runsOut                   = 0.53
	// A pause is slower than this share of the fastest.
	slowed = 0.12
)

// Times reads the moments off the track.
func (m *Motion) Times() Times {
	nan := math.NaN()
	t := Times{Start: nan, Turn: nan, Level: nan, Catch: nan, Top: nan, Impact: nan, Ending: nan}
	n := len(m.Poses)
	last := n - 1
	if m.Hold >= 0 {
		last = m.Hold
	}
	arc := m.Arcs()
	least := 0
	top := last
	if m.Hold < 0 {
		top = greatest(arc)
	}
	for i := range arc[:top+1] {
		if arc[i] < arc[least] {
			least = i
		}
	}
	fast := m.Fastest(0, last)
	if arc[least] < -forwardArc {
		t.Start = m.start(arc, fast, least)
		t.Turn = turning(m.Poses, arc, m.Address, least, top, -1)
	} else {
		least = m.Address
		t.Start = m.start(arc, fast, top)
		t.Turn = t.Start
	}
	if m.Hold >= 0 {
		t.Catch, t.Ending = m.catch(least)
	} else {
		t.Top = turning(m.Poses, arc, m.Address, top, len(arc)-1, 1)
		t.Impact = crossing(m.Poses[top:], arc[top:], 0)
	}
	t.Level = m.rising(least, top)
	return t
}

// Arcs are how far the club has swung about the hands from address at each
// pose, degrees, + back, seen along the line about which it swings back.
func (m *Motion) Arcs() []float64 {
	s0 := m.Poses[m.Address].Shaft
	back := lens.Vec{X: -1}
	back = back.Sub(s0.Mul(back.Dot(s0))).Unit()
	arc := make([]float64, len(m.Poses))
	for i, p := range m.Poses {
		arc[i] = math.Atan2(p.Shaft.Dot(back), p.Shaft.Dot(s0)) * 180 / math.Pi
		if i > 0 {
			arc[i] = arc[i-1] + math.Remainder(arc[i]-arc[i-1], 360)
		}
	}
	return arc
}

// way is how far the head of one pose is from that of another, m. How far the
// hands have come toward the lens is hardly seen, and left out.
func (m *Motion) way(p, q *Pose) float64 {
	d := q.Head.Sub(p.Head)
	d.X -= q.Hands.X - p.Hands.X
	return d.Len()
}

func greatest(x []float64) int {
	at := 0
	for i, v := range x {
		if v > x[at] {
			at = i
		}
	}
	return at
}

// Speed is the head's about pose i, m/s.
func (m *Motion) Speed(i int) float64 {
	j, k := i, i
	for j > 0 && m.Poses[i].At-m.Poses[j].At < speedOver-1e-6 {
		j--
	}
	for k < len(m.Poses)-1 && m.Poses[k].At-m.Poses[i].At < speedOver-1e-6 {
		k++
	}
	if j == k {
		return 0
	}
	return m.way(&m.Poses[j], &m.Poses[k]) / (m.Poses[k].At - m.Poses[j].At)
}

// Fastest is the head's greatest speed between two poses, m/s.
func (m *Motion) Fastest(from, to int) (v float64) {
	for i := from; i <= to; i++ {
		v = max(v, m.Speed(i))
	}
	return v
}

// start is when the head passes begun of its fastest, by how it leaves address
// on its way to pose to.
func (m *Motion) start(arc []float64, fast float64, to int) float64 {
	home := &m.Poses[m.Address]
	whole := max(m.way(home, &m.Poses[to]), m.fit.reach()*math.Abs(arc[to])*math.Pi/180)
	var at, way []float64
	for i := m.Address + 1; i <= to; i++ {
		d := m.way(home, &m.Poses[i])
		if d > max(farLeave*whole, 2*nearLeave) && len(at) > 0 {
			break
		}
		if d < nearLeave {
			at, way = at[:0], way[:0]
			continue
		}
		at, way = append(at, m.Poses[i].At), append(way, d)
	}
	if len(at) == 0 {
		return home.At
	}
	rest, unit, _ := flank(at, way, even(whole))
	// The speed is whole·unit·30·τ² at first.
	t := rest + math.Sqrt(begun*fast/(30*whole*unit))/unit
	return max(home.At, min(t, at[len(at)-1]))
}

// law is how a way from rest grows with time: inverse gives the time of a way
// in some unit, and how fast the way grows there.
type law func(way float64) (time, rate float64)

// power is a way that grows with a power of time.
func power(p float64) law {
	return func(way float64) (float64, float64) {
		t := math.Pow(way, 1/p)
		return t, p * way / t
	}
}

// even is one movement from rest to rest over the whole of a way: the least
// jerk of all (Flash & Hogan 1985), 10τ³ − 15τ⁴ + 6τ⁵.
func even(whole float64) law {
	return func(way float64) (float64, float64) {
		x := min(way/whole, 0.999)
		lo, hi := 0.0, 1.0
		for range 40 {
			if t := (lo + hi) / 2; t*t*t*(10-15*t+6*t*t) < x {
				lo = t
			} else {
				hi = t
			}
		}
		return lo, whole * 30 * sq(lo*(1-lo))
	}
}

// flank fits a law through what was seen on one side of a rest: when the rest
// is, how many of the law's units pass in a second, and the mean square by
// which the ways are off.
func flank(at, way []float64, l law) (rest, unit, off float64) {
	if len(at) == 1 {
		return at[0], 1, math.Inf(1)
	}
	var w, wx, wy, wxx, wxy, wyy float64
	for i, d := range way {
		y, rate := l(d)
		q := rate * rate // an error of the way is this much less of the time
		x := at[i] - at[0]
		w, wx, wy, wxx, wxy, wyy = w+q, wx+q*x, wy+q*y, wxx+q*x*x, wxy+q*x*y, wyy+q*y*y
	}
	k := (w*wxy - wx*wy) / (w*wxx - wx*wx)
	if k == 0 || math.IsNaN(k) {
		return at[0], 1, math.Inf(1)
	}
	c := (wy - k*wx) / w
	off = max(0, wyy-c*wy-k*wxy) / float64(len(way))
	return at[0] - c/k, math.Abs(k), off
}

// turning is when the arc turns at its least (sign −1) or greatest (1) pose: by
// how it comes there from pose from, and how it leaves for pose to.
func turning(poses []Pose, arc []float64, from, turn, to int, sign float64) float64 {
	side := func(step, end int, l law) (float64, bool) {
		var at, way []float64
		far := max(2*nearArc, farTurning*sign*(arc[turn]-arc[end]))
		for i := turn + step; i >= 0 && i < len(arc) && i != end; i += step {
			d := sign * (arc[turn] - arc[i])
			if d > far {
				break
			}
			if d >= nearArc {
				at, way = append(at, poses[i].At), append(way, d)
			}
		}
		if len(at) < 2 {
			return 0, false
		}
		rest, _, _ := flank(at, way, l)
		return rest, math.Abs(rest-poses[turn].At) < 0.3
	}
	a, ok := side(-1, from, even(max(1, sign*(arc[turn]-arc[from]))))
	after := even(max(1, sign*(arc[turn]-arc[to])))
	if sign > 0 {
		after = power(2) // a downswing gains speed from the first
	}
	b, ok2 := side(1, to, after)
	switch {
	case ok && ok2:
		return (a + b) / 2
	case ok:
		return a
	case ok2:
		return b
	}
	return poses[turn].At
}

// crossing is when the arc first falls through a value, s.
func crossing(poses []Pose, arc []float64, value float64) float64 {
	for i := 1; i < len(arc); i++ {
		if arc[i-1] >= value && arc[i] < value {
			f := (arc[i-1] - value) / (arc[i-1] - arc[i])
			return poses[i-1].At + f*(poses[i].At-poses[i-1].At)
		}
	}
	return math.NaN()
}

// catch is when the club stops, by how the way that is left shrinks before:
// evenly until a hand stops it, or as a movement that comes to rest by itself.
func (m *Motion) catch(from int) (at, ending float64) {
	hold := &m.Poses[m.Hold]
	var ts, way []float64
	whole, slow := 0.0, slowed*m.Fastest(from, m.Hold)
	for i := m.Hold - 1; i >= from; i-- {
		d := m.way(&m.Poses[i], hold)
		if d < nearWay {
			ts, way, whole = ts[:0], way[:0], 0
			continue
		}
		if d > 2*nearLeave && m.Speed(i) < slow {
			break // it paused here
		}
		whole = max(whole, d)
		ts, way = append(ts, m.Poses[i].At), append(way, d)
	}
	if len(ts) < 2 {
		return hold.At, 0
	}
	// The last part of the way against the part before: a club that is stopped
	// goes on evenly, one that comes to rest by itself takes its time.
	a, b, c := since(ts, way, lastWay*whole), since(ts, way, midWay*whole), since(ts, way, firstWay*whole)
	ending = (a - b) / (b - c)
	if math.IsNaN(ending) || ending < 0 {
		ending = 0
	}
	n := 0
	for n < len(way) && (way[n] < farWay || n < 2) {
		n++
	}
	if ending > runsOut {
		for n < len(way) && way[n] < farRest*whole {
			n++
		}
		at, _, _ = flank(ts[:n], way[:n], even(whole))
		return at, ending
	}
	at, _, _ = flank(ts[:n], way[:n], power(1))
	// The hand stops it a little way before its even course would end.
	return at + give/2, ending
}

// since is when a way, that grows backward in time, was passed.
func since(at, way []float64, far float64) float64 {
	for i := range way {
		if way[i] < far {
			continue
		}
		if i == 0 {
			return at[0]
		}
		f := (far - way[i-1]) / (way[i] - way[i-1])
		return at[i-1] + f*(at[i]-at[i-1])
	}
	return at[len(at)-1]
}
