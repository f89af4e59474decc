package sight

import (
	"math"

	"drillbay/camera/lens"
)

// Times are the moments of a rep read off its track, s of the capture clock,
// NaN where there is none, by the definitions of drills.Moments.
type Times struct {
	Start, Turn, Level, Catch, Top, Impact float64
	// Ending is how the way that is left shrinks with the time that is left
	// before the catch: with its power 1 at a club that is stopped, with its
	// power 3 at one that comes to rest by itself.
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
	nearWay, farWay     = 0.03, 0.30
	nearLeave, farLeave = 0.07, 0.40
	nearArc, farArc     = 4.0, 35.0
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
	t.Start = m.start(fast)
	t.Turn = t.Start
	if arc[least] < -forwardArc {
		t.Turn = turning(m.Poses, arc, least, -1, 3, 3)
	} else {
		least = 0
	}
	if m.Hold >= 0 {
		t.Catch, t.Ending = m.catch(least)
	} else {
		t.Top = turning(m.Poses, arc, top, 1, 3, 2)
		t.Impact = crossing(m.Poses[top:], arc[top:], 0)
	}
	for i := max(least, 1); i <= top; i++ {
		a, b := &m.Poses[i-1], &m.Poses[i]
		if a.Lift < 0 && b.Lift >= 0 && arc[i] > 20 {
			t.Level = a.At + a.Lift/(a.Lift-b.Lift)*(b.At-a.At)
			break
		}
	}
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

// start is when the head passes begun of its fastest: by how it leaves
// address.
func (m *Motion) start(fast float64) float64 {
	home := &m.Poses[m.Address]
	var at, way []float64
	for _, p := range m.Poses[m.Address+1:] {
		d := m.way(home, &p)
		if d > farLeave && len(at) > 0 {
			break
		}
		if d < nearLeave {
			at, way = at[:0], way[:0]
			continue
		}
		at, way = append(at, p.At), append(way, d)
	}
	if len(at) == 0 {
		return m.Poses[m.Address].At
	}
	rest, k := flank(at, way, 3)
	// way = (k·τ)³: the speed is 3·k³·τ².
	return max(m.Poses[m.Address].At, min(rest+math.Sqrt(begun*fast/(3*k*k*k)), at[len(at)-1]))
}

// flank fits way = |k·(t − rest)|^power, which is 0 at rest, through what was
// seen on one side of it.
func flank(at, way []float64, power float64) (rest, k float64) {
	if len(at) == 1 {
		return at[0], 1
	}
	var w, wx, wy, wxx, wxy float64
	for i, d := range way {
		y := math.Pow(d, 1/power)
		// An error of the way changes its root by so much.
		q := sq(power * math.Pow(d, 1-1/power))
		x := at[i] - at[0]
		w, wx, wy, wxx, wxy = w+q, wx+q*x, wy+q*y, wxx+q*x*x, wxy+q*x*y
	}
	k = (w*wxy - wx*wy) / (w*wxx - wx*wx)
	if k == 0 || math.IsNaN(k) {
		return at[0], 1
	}
	return at[0] + (wx-wy/k)/w, math.Abs(k)
}

// turning is when the arc turns at its least (sign −1) or greatest (1) pose,
// by how it comes there and how it leaves, each with a power of time.
func turning(poses []Pose, arc []float64, turn int, sign, before, after float64) float64 {
	side := func(step int, power float64) (float64, bool) {
		var at, way []float64
		for i := turn + step; i > 0 && i < len(arc); i += step {
			d := sign * (arc[turn] - arc[i])
			if d > farArc {
				break
			}
			if d >= nearArc {
				at, way = append(at, poses[i].At), append(way, d)
			}
		}
		if len(at) < 2 {
			return 0, false
		}
		rest, _ := flank(at, way, power)
		return rest, math.Abs(rest-poses[turn].At) < 0.3
	}
	a, ok := side(-1, before)
	b, ok2 := side(1, after)
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

// catch is when the club stops, by how the way that is left shrinks before.
func (m *Motion) catch(from int) (at, ending float64) {
	hold := &m.Poses[m.Hold]
	var ts, way []float64
	for i := m.Hold - 1; i > from; i-- {
		d := m.way(&m.Poses[i], hold)
		if d > 1.5*farWay && len(ts) >= 3 || d > 2*farWay {
			break
		}
		if d < nearWay {
			ts, way = ts[:0], way[:0]
			continue
		}
		ts, way = append(ts, m.Poses[i].At), append(way, d)
	}
	if len(ts) < 2 {
		return hold.At, 1
	}
	best := math.Inf(1)
	for p := 1.0; p <= 3.01; p += 0.5 {
		rest, k := flank(ts, way, p)
		var off float64
		for i, d := range way {
			off += sq(d - math.Pow(k*max(0, rest-ts[i]), p))
		}
		if len(ts) < 3 && p > 1 {
			break
		}
		if off < best {
			best, at, ending = off, rest, p
		}
	}
	// What is stopped goes on evenly until the hand begins to stop it.
	return at + give/2*max(0, 2-ending), ending
}
