package sight

import (
	"math"

	"drillbay/camera/lens"
)

// strike is what is seen of a swing after its track's end: s, m/s.
type strike struct{ top, impact, fastest float64 }

// swings splits the sights of a whole swing after address: up to which the
// track goes, and when top and impact were. ok is false when the hands did not
// rise and come down again.
func (s Setting) swings(all []sighted, address rest, b *buffers) (to int, k strike, ok bool) {
	m := s.perMetre(s.Distance)
	home := b.together(all[address.from:address.to])
	up := func(i int) float64 { return (home.of[handsAt].at.V - all[i].of[handsAt].at.V) / m }
	rise := func(i int) float64 { // one wrong look is passed over
		if i == 0 || i == len(all)-1 {
			return up(i)
		}
		return middle([]float64{up(i - 1), up(i), up(i + 1)})
	}
	k = strike{math.NaN(), math.NaN(), math.NaN()}
	for to = address.to; to < len(all) && rise(to) < trackTo; to++ {
	}
	if to == len(all) {
		return to, k, false
	}
	// The hands come down again.
	low := to
	high := false
	for low < len(all) && all[low].at-all[to].at < soonImpact {
		r := rise(low)
		if high = high || r > raised || leaves(all, low, rise); high && r < lowered {
			break
		}
		low++
	}
	if low == len(all) || !high || all[low].at-all[to].at >= soonImpact {
		return to, k, false
	}
	k.top = topOf(all, to, low, rise)
	from := max(to, low-6)
	for from < low && all[from].at < k.top {
		from++
	}
	k.impact, k.fastest = s.impactOf(all[from:], home)
	return to, k, !math.IsNaN(k.impact)
}

// leaves reports whether the hands were out of the picture before a sight: unseen
// for some time, and high before and after it.
func leaves(all []sighted, i int, rise func(int) float64) bool {
	return i > 0 && all[i].at-all[i-1].at > unseenTop && min(rise(i-1), rise(i)) > raised/2
}

// topOf is when the hands turn between two sights: between their passing a
// height a little under the highest on the way up and on the way down. Where
// they leave the picture, the height is one at which they were still seen.
func topOf(all []sighted, from, to int, rise func(int) float64) float64 {
	best := from
	for i := from; i <= to; i++ {
		if rise(i) > rise(best) {
			best = i
		}
	}
	const under = 0.04 // m
	level, last, next := rise(best)-under, best, best
	for i, long := from, unseenTop; i < to; i++ {
		if gap := all[i+1].at - all[i].at; gap > long && leaves(all, i+1, rise) {
			long, level, last, next = gap, min(rise(i), rise(i+1)), i, i+1
		}
	}
	pass := func(start, step int) float64 {
		for i := start; i+step >= from && i+step <= to; i += step {
			if a, b := rise(i), rise(i+step); b < level {
				return all[i].at + (all[i+step].at-all[i].at)*max(0, a-level)/(a-b)
			}
		}
		return all[start].at
	}
	// The way down gains speed, the way up loses it more slowly.
	up, down := pass(last, -1), pass(next, 1)
	return up + 0.6*(down-up)
}

// impactOf is when the club points where it did at address, and how fast its
// head goes there, from the sights about the hands' lowest. How far the shaft
// points to the lens or away from it is by how long it looks: before impact it
// points to the lens, after it away.
func (s Setting) impactOf(all []sighted, home sighted) (at, fastest float64) {
	m := s.perMetre(s.Distance)
	from := home.of[handsAt].at
	far := func(q *sighted) float64 { // as a share of the reach
		if !q.of[handsAt].ok || !q.of[headAt].ok {
			return math.NaN()
		}
		a, b := q.of[handsAt].at, q.of[headAt].at
		return apart(a, b) / m / s.Reach
	}
	longest, most := -1, 0.0
	usual := far(&home)
	end := len(all)
	for i := range all {
		if all[i].at-all[0].at > 0.5 {
			end = i
			break
		}
		q := &all[i]
		if f := far(q); f > most && f < longestLook*usual && q.of[headAt].at.V > q.of[handsAt].at.V && apart(q.of[handsAt].at, from) < 0.3*m {
			longest, most = i, f
		}
	}
	if longest < 0 || most < 0.75 {
		return s.handsBack(all[:end], from), slowSwing
	}
	// The club is as long as it looks at its longest: what distance and length
	// are told wrong does not matter.
	s.Reach *= most * 1.002
	// The sine of how far it points away from the lens, at the looks about.
	type point struct{ t, phi float64 }
	var before, after []point
	sine := func(q *sighted, root int) float64 {
		v := s.View
		hands := v.At(q.of[handsAt].at, s.Distance)
		ray := v.Ray(q.of[headAt].at)
		near, beyond, ok := lens.Reach(hands, ray, s.Reach)
		switch {
		case !ok:
			return 0
		case root == nearRoot:
			return math.Asin(max(-1, min(1, near.Sub(hands).Unit().X)))
		}
		return math.Asin(max(-1, min(1, beyond.Sub(hands).Unit().X)))
	}
	for i := longest - 1; i >= 0 && all[longest].at-all[i].at < 0.06; i-- {
		if !math.IsNaN(far(&all[i])) && all[i].of[headAt].at.V > all[i].of[handsAt].at.V-0.1*m {
			before = append(before, point{all[i].at, sine(&all[i], nearRoot)})
		}
	}
	for i := longest + 1; i < end && all[i].at-all[longest].at < 0.06; i++ {
		if !math.IsNaN(far(&all[i])) && all[i].of[headAt].at.V > all[i].of[handsAt].at.V-0.1*m {
			after = append(after, point{all[i].at, sine(&all[i], farRoot)})
		}
	}
	// The look between is on the side that goes on evenly.
	mid := [roots]point{{all[longest].at, sine(&all[longest], nearRoot)}, {all[longest].at, sine(&all[longest], farRoot)}}
	cross := func(a, b point) (t, rate float64) {
		rate = (b.phi - a.phi) / (b.t - a.t)
		if math.Abs(rate) < slowTurn {
			return (a.t + b.t) / 2, slowTurn
		}
		return a.t + (leanAddress-a.phi)/rate, rate
	}
	// Near impact the club's length in the picture hardly tells how it points:
	// how fast it turns is told by the looks farthest apart.
	speed := func(a, b point) float64 {
		_, rate := cross(a, b)
		return max(slowSwing, headOver*s.Reach*math.Abs(rate))
	}
	switch {
	case len(before) > 0 && len(after) > 0:
		a, b := mid[nearRoot], after[0]
		if t, _ := cross(before[0], after[0]); t < mid[0].t {
			a, b = before[0], mid[farRoot]
		}
		t, _ := cross(a, b)
		return t, speed(before[len(before)-1], after[len(after)-1])
	case len(before) > 0:
		t, _ := cross(before[0], mid[nearRoot])
		return min(t, mid[0].t+0.02), speed(before[len(before)-1], mid[nearRoot])
	case len(after) > 0:
		t, _ := cross(mid[farRoot], after[0])
		return max(t, mid[0].t-0.02), speed(mid[farRoot], after[len(after)-1])
	}
	return mid[0].t, slowSwing
}

// handsBack is when the hands are nearest to where they were at address.
func (s Setting) handsBack(all []sighted, home lens.Point) float64 {
	best, at := math.Inf(1), math.NaN()
	for i := range all {
		q := all[i].of[handsAt]
		if d := apart(q.at, home); q.ok && d < best {
			best, at = d, all[i].at
		}
	}
	return at
}
