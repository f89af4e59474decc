package sight

import (
	"errors"
	"math"
	"slices"

	"drillbay/camera/frame"
	"drillbay/camera/lens"
)

// Errors that say why no hung club is measured.
var (
	ErrNoneHangs   = errors.New("no club is seen hanging: hold it by the end of the grip, clear of your body, and let it hang")
	ErrStillSwings = errors.New("the club still swings: wait until it hangs still")
)

// Hanging is a club that hangs by its grip now, by the latest pictures in
// order of time, as seen: a thin upright thing that was not there before, and
// is still. Its lean is the mean over a second, its uncertainty what it moved
// by meanwhile and what a line of that length is seen to.
func (s Setting) Hanging(pics []*frame.Picture) (lens.Hung, error) {
	var none lens.Hung
	if len(pics) == 0 {
		return none, ErrTooFew
	}
	now := pics[len(pics)-1].Seconds()
	still := within(pics, now-hangOver, now)
	if len(still) < 2*hangParts {
		return none, ErrTooFew
	}
	r := region{0, 0, s.View.Width / 8 * 8, s.View.Height / 8 * 8}
	before := s.unlike(thin(still, 8), spaced(within(pics, math.Inf(-1), now-hangEvery-0.2), lookStep), 9, 0.45)
	if len(before) < 4 {
		return none, ErrNoneHangs
	}
	k := reduction(s.View.Width)
	m := s.perMetre(s.Distance)
	gone := mean(before, r, k, false)
	all := mean(thin(still, 12), r, k, false)
	diff := all.like()
	for i, v := range all.Pix {
		diff.Pix[i] = v - gone.Pix[i]
	}
	fine := ridge(diff, 0.011*m/float64(k))
	length := hangFind * s.Reach * m
	rad := math.Pi / 180
	o := 0.011*m + 1.5*float64(k)
	var best lens.Hung
	var line Line
	for _, l := range longest(halve(fine), length, (90-uprightBy)*rad, (90+uprightBy)*rad, 6) {
		l = refine(fine, l, 3*float64(k))
		if l.Score < hangScore || !shaftGoes(all, gone, l, 0.009*m+1.5*float64(k)) {
			continue
		}
		// From here on what is thin all the way: neither glove nor head.
		if l = thinPart(all, l, o); l.Length > line.Length && !stood(all, before, l, o) {
			line = l
		}
	}
	if line.Length < hangLength*s.Reach*m {
		return none, ErrNoneHangs
	}
	// The same line in each part of the time.
	var leans, sides []float64
	step := hangOver / hangParts
	for i := range hangParts {
		part := within(still, now-hangOver+float64(i)*step, now-hangOver+float64(i+1)*step)
		if len(part) == 0 {
			return none, ErrTooFew
		}
		lean, side, sd, ok := leanOf(mean(part, r, k, false), line, o)
		if !ok {
			return none, ErrStillSwings
		}
		leans, sides = append(leans, lean), append(sides, side)
		best.Sd = max(best.Sd, sd)
	}
	avg, dev := spreadOf(leans)
	if _, moved := spreadOf(sides); dev > hangSd || moved > hangMoves*m {
		return none, ErrStillSwings
	}
	a, b := line.From, line.End()
	best.At = lens.Point{U: (a.U + b.U) / 2, V: (a.V + b.V) / 2}
	best.Lean, best.Sd = avg, math.Hypot(best.Sd, dev)
	return best, nil
}

// stood reports whether the thin thing along l in g was there before, in two
// pictures or more: a pole that somebody stood in front of in the others.
func stood(g *gray, before []*frame.Picture, l Line, o float64) bool {
	end := l.End()
	r := around(min(l.From.U, end.U)-3*o, min(l.From.V, end.V), max(l.From.U, end.U)+3*o, max(l.From.V, end.V), g.W*g.K, g.H*g.K)
	now := thinProfile(g, l, 0, o)
	times := 0
	for _, p := range before {
		then := mean([]*frame.Picture{p}, r, g.K, false)
		for a := -1.0; a <= 1; a++ {
			var both, one float64
			for i, v := range thinProfile(then, l, a, o) {
				both, one = both+v*now[i], one+now[i]*now[i]
			}
			if both > 0.5*one {
				times++
				break
			}
		}
	}
	return times >= 2
}

// thinProfile is how much stands out along l, a px to its side.
func thinProfile(g *gray, l Line, a, o float64) (out []float64) {
	sn, c := math.Sincos(l.Angle)
	for t := 0.0; t < l.Length; t++ {
		out = append(out, thinness(g, l.From.U+c*t-sn*a, l.From.V+sn*t+c*a, c, sn, o))
	}
	return out
}

// thinPart is the longest part of l, and of how it goes on both ways, along
// which something thin is seen, but for short gaps.
func thinPart(g *gray, l Line, o float64) Line {
	sn, c := math.Sincos(l.Angle)
	gap := hangGap * l.Length
	var from, last, bestFrom, best float64
	from, last = math.Inf(-1), math.Inf(-1)
	for t := -l.Length; t < 2*l.Length; t++ {
		seen := false
		for a := -2.5; a <= 2.5 && !seen; a++ {
			u, v := l.From.U+c*t-sn*a, l.From.V+sn*t+c*a
			seen = g.inside(u, v) && math.Abs(thinness(g, u, v, c, sn, o)) > thinLevel
		}
		if !seen {
			continue
		}
		if t-last > gap {
			from = t
		}
		if last = t; last-from > best {
			bestFrom, best = from, last-from
		}
	}
	l.From = lens.Point{U: l.From.U + c*bestFrom, V: l.From.V + sn*bestFrom}
	l.Length = best
	return l
}

func spreadOf(x []float64) (mean, sd float64) {
	for _, v := range x {
		mean += v / float64(len(x))
	}
	for _, v := range x {
		sd += sq(v-mean) / float64(max(len(x)-1, 1))
	}
	return mean, math.Sqrt(sd)
}

// leanOf measures a thin line near l: its lower end's lean to the right,
// degrees, and how far it is to the side of l in the middle, px, by a straight
// line through where it is thinnest at each height.
func leanOf(g *gray, l Line, o float64) (lean, side, sd float64, ok bool) {
	sn, c := math.Sincos(l.Angle)
	var ts, os []float64
	for t := 0.05 * l.Length; t < 0.95*l.Length; t++ {
		best, at := 0.0, 0
		const reach, per = 24, 4 // quarters of a px
		var scores [2*reach + 1]float64
		for i := -reach; i <= reach; i++ {
			a := float64(i) / per
			scores[i+reach] = math.Abs(thinness(g, l.From.U+c*t-sn*a, l.From.V+sn*t+c*a, c, sn, o))
			if scores[i+reach] > best {
				best, at = scores[i+reach], i
			}
		}
		if best < thinLevel || at <= -reach || at >= reach {
			continue
		}
		// The middle of what is nearly as thin: it is some px wide.
		var sum, weight float64
		for i, v := range scores {
			if v > 0.6*best && math.Abs(float64(i-reach-at)) <= 10 {
				sum, weight = sum+v*float64(i-reach)/per, weight+v
			}
		}
		ts, os = append(ts, t), append(os, sum/weight)
	}
	if float64(len(ts)) < 0.6*l.Length {
		return 0, 0, 0, false
	}
	slope, from, rms := robustLine(ts, os)
	// Downward: l runs down, its angle from level; + to the right.
	lean = 90 - l.Angle*180/math.Pi - math.Atan(slope)*180/math.Pi
	n := float64(len(ts)) / 3
	return lean, from + slope*l.Length/2, math.Atan(rms/(l.Length*math.Sqrt(n/12)))*180/math.Pi + 0.03, rms < 2
}

// robustLine is the straight line y = from + slope·x through points, less
// those that are far off, and how far the others are off (rms).
func robustLine(x, y []float64) (slope, from, rms float64) {
	use := slices.Repeat([]bool{true}, len(x))
	for range 4 {
		var n, sx, sy, sxx, sxy float64
		for i := range x {
			if use[i] {
				n, sx, sy, sxx, sxy = n+1, sx+x[i], sy+y[i], sxx+x[i]*x[i], sxy+x[i]*y[i]
			}
		}
		slope = (n*sxy - sx*sy) / max(n*sxx-sx*sx, 1e-9)
		from = (sy - slope*sx) / n
		var off []float32
		for i := range x {
			off = append(off, float32(math.Abs(y[i]-from-slope*x[i])))
		}
		limit := max(3*float64(median(off)), 0.3)
		n, rms = 0, 0
		for i, d := range off {
			if use[i] = float64(d) <= limit; use[i] {
				n, rms = n+1, rms+sq(float64(d))
			}
		}
		rms = math.Sqrt(rms / max(n, 1))
	}
	return slope, from, rms
}
