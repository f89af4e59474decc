package sight

import "math"

// Times are the moments of a rep read off its track, s of the capture clock,
// NaN where there is none, by the definitions of drills.Moments.
type Times struct {
	Start, Turn, Level, Catch, Top, Impact float64
	// Rest is Catch for a club that nobody stops: when it comes to rest by itself.
	Rest float64
	// Ending is how long the last part of the way took, as a share of the time
	// of the part before: the more, the more the club came to rest by itself;
	// NaN when that was not seen.
	Ending float64
}

// Times reads the moments off the track.
func (m *Motion) Times() Times {
	nan := math.NaN()
	t := Times{Start: nan, Turn: nan, Level: nan, Catch: nan, Top: nan, Impact: nan, Rest: nan, Ending: nan}
	n := len(m.Poses)
	last := n - 1
	if m.Hold >= 0 {
		last = m.Hold
	}
	arc := m.Arcs()
	least := 0
	for i := range arc[:last+1] {
		if arc[i] < arc[least] {
			least = i
		}
	}
	fast := m.Fastest(0, last)
	if m.Hold < 0 {
		fast = max(fast, m.strike.fastest)
	}
	if arc[least] < -forwardArc {
		t.Start = m.start(arc, fast, least)
		t.Turn = turning(m.Poses, arc, m.Address, least, last)
	} else {
		least = m.Address
		t.Start = m.start(arc, fast, last)
		t.Turn = t.Start
	}
	if m.Hold >= 0 {
		t.Catch, t.Rest, t.Ending = m.catch(least)
	} else {
		t.Top, t.Impact = m.strike.top, m.strike.impact
	}
	t.Level = m.rising(least, last)
	return t
}

// start is when the head passes begun of its fastest, by how it leaves address
// on its way to pose to.
func (m *Motion) start(arc []float64, fast float64, to int) float64 {
	home := &m.Poses[m.Address]
	whole := max(m.way(home, &m.Poses[to]), m.fit.reach()*math.Abs(arc[to])*math.Pi/180)
	at, way := m.leaving(to, min(farLeave*whole, farStart))
	if len(at) == 0 {
		return home.At
	}
	// How it gathers way tells when it was that slow: of the laws from an even
	// push to one that grows, the one that fits best.
	begins, off := math.NaN(), math.Inf(1)
	for p := 2.0; p <= 4; p += 0.5 {
		rest, unit, o := flank(at, way, power(p))
		if o < off {
			// The speed is unit·p·τ^(p−1), τ in units since the rest.
			off, begins = o, rest+math.Pow(begun*fast/(p*unit), 1/(p-1))/unit
		}
	}
	if math.IsNaN(begins) {
		begins = at[0]
	}
	return max(home.At, min(begins, at[len(at)-1]))
}

// leaving gives how far the head is from its place at address, m, and when, up to a
// distance of far or pose to. The distances are measured in the picture, because the
// smooth track moves before the head does. They are scaled to the track's distance
// at the last of them, where the track knows the depth better.
func (m *Motion) leaving(to int, far float64) (at, way []float64) {
	nodes, home := m.fit.nodes, m.Address
	metre := m.fit.set.perMetre(m.fit.base())
	long := 1.0 // in space for each in the picture
	for i := home + 1; i <= to; i++ {
		if !m.fit.sees(i) {
			continue
		}
		seen := apart(nodes[i].of[headAt].at, nodes[home].of[headAt].at) / metre
		if seen < seenLeave {
			at, way = at[:0], way[:0]
			continue
		}
		at, way = append(at, m.Poses[i].At), append(way, seen)
		w := m.Poses[i].Head.Sub(m.Poses[home].Head).Len()
		if long = w / seen; w > far && len(way) > 2 {
			break
		}
	}
	for k := range way {
		way[k] *= long
	}
	return at, way
}

// turning is when the arc turns at its least pose: by how it comes there from
// pose from, and how it leaves for pose to.
func turning(poses []Pose, arc []float64, from, turn, to int) float64 {
	side := func(step, end int) (float64, bool) {
		var at, way []float64
		whole := arc[end] - arc[turn]
		far := max(2*nearArc, farTurning*whole)
		for i := turn + step; i >= 0 && i < len(arc) && i != end; i += step {
			d := arc[i] - arc[turn]
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
		rest, _, _ := flank(at, way, even(max(1, whole)))
		return rest, math.Abs(rest-poses[turn].At) < 0.3
	}
	a, ok := side(-1, from)
	b, ok2 := side(1, to)
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

// catch is when the club stops, by how the way that is left shrinks before:
// evenly until a hand stops it, or as a movement that comes to rest by itself;
// and when it does if that is how.
func (m *Motion) catch(from int) (at, rest, ending float64) {
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
		return hold.At, math.NaN(), 0
	}
	// The last part of the way against the part before: a club that is stopped
	// goes on evenly, one that comes to rest by itself takes its time.
	a, b, c := since(ts, way, lastWay*whole), since(ts, way, midWay*whole), since(ts, way, firstWay*whole)
	ending = (a - b) / (b - c)
	if math.IsNaN(ending) || ending < 0 {
		ending = 0
	}
	if !m.seenLast(hold.At) {
		ending = math.NaN() // how it came to rest was not seen
	}
	upTo := func(far float64) int {
		n := 0
		for n < len(way) && (way[n] < far || n < 2) {
			n++
		}
		return n
	}
	n := upTo(farWay)
	long := max(n, upTo(farRest*whole))
	rest = resting(ts[:long], way[:long], whole)
	if ending > runsOut && !math.IsNaN(rest) {
		return rest, rest, ending
	}
	at, _, _ = flank(ts[:n], way[:n], power(1))
	// The hand stops it a little way before its even course would end, and it rests once
	// it is seen to.
	return min(at+give/2, hold.At+give), rest, ending
}

// resting is when a movement of which whole is left comes to rest by itself. It
// may be the end of a longer one, or a shorter one after a first push: the one that
// fits best.
func resting(at, way []float64, whole float64) float64 {
	best, least := math.NaN(), math.Inf(1)
	for _, share := range [...]float64{0.5, 0.6, 0.7, 0.85, 1, 1.2, 1.4} {
		if way[len(way)-1] >= share*whole {
			continue
		}
		if rest, _, off := flank(at, way, even(share*whole)); off < least {
			best, least = rest, off
		}
	}
	return best
}

// seenLast reports whether the head was seen in most looks shortly before a time.
func (m *Motion) seenLast(at float64) bool {
	seen, all := 0, 0
	for i, p := range m.Poses {
		if p.At < at && at-p.At < lastLooks {
			all++
			if m.fit.sees(i) {
				seen++
			}
		}
	}
	return 2*seen > all
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
