package sight

import (
	"math"

	"drillbay/camera/frame"
	"drillbay/camera/lens"
)

// likeness tells how much a picture differs, at some points, from those of a
// stillness: when the club leaves address or passes there again, and when it
// has come to rest as it is held.
type likeness struct {
	points []lens.Point
	calm   []float32
	level  float64 // usual difference while still
	spread float64
	w      region
	k      int
	left   bool
}

// newLikeness learns what the still pictures look like at the points, in the
// window w at 1/k of its size.
func newLikeness(still []*frame.Picture, points []lens.Point, w region, k int, left bool) likeness {
	l := likeness{points: points, calm: make([]float32, len(points)), w: w, k: k, left: left}
	calm := mean(still, w, k, left).blur(0.7)
	for i, p := range points {
		l.calm[i] = calm.at(p.U, p.V)
	}
	values := make([]float64, len(still))
	for i, p := range still {
		values[i] = l.of(p)
		l.level += values[i] / float64(len(still))
	}
	for _, v := range values {
		l.spread += sq(v-l.level) / float64(len(still))
	}
	l.spread = math.Sqrt(l.spread)
	return l
}

// of is how much a picture differs.
func (l likeness) of(p *frame.Picture) float64 {
	g := newGray(l.w, l.k)
	g.load(p, l.left)
	return l.differs(g.blur(0.7))
}

// along is how much each of some pictures differs, and the most of it.
func (l likeness) along(pics []*frame.Picture) (d []float64, most float64) {
	d = make([]float64, len(pics))
	for i, p := range pics {
		d[i] = l.of(p)
		most = max(most, d[i])
	}
	return d, most
}

// addressPoints are where a club at address is told from one that left: along
// its far half, and about the head.
func (s Setting) addressPoints(st Stance) []lens.Point {
	var points []lens.Point
	m := s.perMetre(s.Distance)
	du, dv := st.Head.U-st.Hands.U, st.Head.V-st.Hands.V
	n := math.Hypot(du, dv)
	for i := range 36 {
		f := 0.45 + 0.6*float64(i)/35
		for _, o := range [...]float64{-0.012, 0, 0.012} {
			points = append(points, lens.Point{U: st.Hands.U + f*du - o*m*dv/n, V: st.Hands.V + f*dv + o*m*du/n})
		}
	}
	for a := -0.05; a <= 0.09; a += 0.02 {
		for b := -0.05; b <= 0.05; b += 0.02 {
			points = append(points, lens.Point{U: st.Head.U + a*m, V: st.Head.V + b*m})
		}
	}
	return points
}

// heldPoints are where a held club is told from one on its way: along its far
// half, for the hands still settle when it has stopped; all of it when only
// the hands are seen.
func (s Setting) heldPoints(h Held) []lens.Point {
	var points []lens.Point
	m := s.perMetre(s.Distance)
	from, wide := 0.5, 0.03
	if h.EndOn {
		from, wide = 0, 0.06
	}
	for f := from; f <= 1.051; f += 0.05 {
		u, v := h.Hands.U+f*(h.Head.U-h.Hands.U), h.Hands.V+f*(h.Head.V-h.Hands.V)
		for a := -wide; a <= wide+0.001; a += wide / 2 {
			for b := -wide; b <= wide+0.001; b += wide / 2 {
				points = append(points, lens.Point{U: u + a*m, V: v + b*m})
			}
		}
	}
	return points
}

// arrival is when the club came to rest as it is held: the last time before
// the end of the hold at which the picture about the held club clearly
// differs from that of the hold, guess when there is none.
func (s Setting) arrival(pics, hold []*frame.Picture, h Held, w region, k int, guess float64) float64 {
	l := newLikeness(hold[len(hold)/3:], s.heldPoints(h), w, k, s.View.Left)
	near := within(pics, guess-1.5, hold[len(hold)-1].Seconds())
	d, most := l.along(near)
	limit := l.level + max(5*l.spread, 0.2*(most-l.level))
	for i := len(near) - 2; i >= 0; i-- {
		if d[i] > limit {
			f := (d[i] - limit) / max(d[i]-d[i+1], 1e-6)
			t := near[i].Seconds()
			return t + max(0, min(1, f))*(near[i+1].Seconds()-t)
		}
	}
	return guess
}

// differs is the root mean square difference of a picture that is reduced and
// smoothed as the still ones were.
func (l likeness) differs(g *gray) float64 {
	var s float64
	for i, p := range l.points {
		s += sq(min(60, math.Abs(float64(g.at(p.U, p.V)-l.calm[i]))))
	}
	return math.Sqrt(s / float64(len(l.points)))
}

// back reports whether the hold looks like address again, as compared to what
// was between.
func (l likeness) back(between, hold []*frame.Picture) bool {
	if len(hold) == 0 {
		return false
	}
	_, most := l.along(between)
	return l.differs(mean(hold, l.w, l.k, l.left).blur(0.7)) < l.level+0.3*(most-l.level)
}

// moments gives the start, and for whole swings top and impact; what was not
// seen is NaN.
func (l likeness) moments(g []*gray, pics []*frame.Picture, caught bool) (start, top, impact float64) {
	d := make([]float64, len(g))
	most := 0.0
	for i, x := range g {
		d[i] = l.differs(x)
		most = max(most, d[i])
	}
	start, top, impact = math.NaN(), math.NaN(), math.NaN()
	limit := l.level + max(5*l.spread, 0.12*(most-l.level))
	first := -1
	for i := range d {
		if d[i] > limit && (i+1 >= len(d) || d[i+1] > limit) {
			first = i
			break
		}
	}
	if first < 0 {
		return start, top, impact
	}
	start = pics[first].Seconds()
	if first > 0 {
		// Between the frames, where the line through both crosses.
		f := (limit - d[first-1]) / (d[first] - d[first-1])
		start = pics[first-1].Seconds() + max(0, min(1, f))*(start-pics[first-1].Seconds())
	}
	if caught {
		return start, top, impact
	}
	// The club passes address again: the least difference after it was away
	// for a third of a second, when it is clearly less than usual.
	at := -1
	for i := first; i < len(d); i++ {
		if t := pics[i].Seconds() - start; t < 0.5 || t > 2.2 {
			continue
		}
		if at < 0 || d[i] < d[at] {
			at = i
		}
	}
	if at < 0 || d[at] > l.level+0.85*(most-l.level) {
		return start, top, impact
	}
	impact = parabola(pics, d, at)
	// The top: the least motion between.
	e := make([]float64, len(g))
	best := -1
	for i := 2; i < at; i++ {
		var s float64
		for j := 0; j < len(g[i].Pix); j += 3 {
			s += float64(min(abs32(g[i].Pix[j]-g[i-2].Pix[j]), 40))
		}
		e[i] = s
		t := pics[i].Seconds()
		if t > start+0.35 && t < impact-0.12 && (best < 0 || e[i] < e[best]) {
			best = i
		}
	}
	if best > 2 {
		top = (pics[best].Seconds() + pics[best-2].Seconds()) / 2
	}
	return start, top, impact
}

// parabola is the time of the least value near i, between frames.
func parabola(pics []*frame.Picture, d []float64, i int) float64 {
	t := pics[i].Seconds()
	if i == 0 || i+1 >= len(d) {
		return t
	}
	a, b, c := d[i-1], d[i], d[i+1]
	q := a - 2*b + c
	if q <= 0 {
		return t
	}
	f := max(-0.5, min(0.5, 0.5*(a-c)/q))
	return t + f*(pics[i+1].Seconds()-pics[i-1].Seconds())/2
}

// turn is when the backward motion began: the middle of the time in which the
// club was within a few degrees of its foremost place, or Start without a
// forward swing.
func (t *Track) turn() float64 {
	least := math.Inf(1)
	at := -1
	for i, s := range t.Samples {
		if s.Arc < least {
			least, at = s.Arc, i
		}
	}
	if at < 0 || least > -14 {
		return t.Start
	}
	// Both flanks a little above the least; samples are on a grid.
	limit := least + 7
	from, to := at, at
	for from > 0 && t.Samples[from-1].Arc <= limit {
		from--
	}
	for to+1 < len(t.Samples) && t.Samples[to+1].Arc <= limit {
		to++
	}
	return (t.crossing(from-1, limit) + t.crossing(to, limit)) / 2
}

// crossing is when the arc passes limit between samples i and i+1.
func (t *Track) crossing(i int, limit float64) float64 {
	if i < 0 {
		return t.Samples[0].At
	}
	if i+1 >= len(t.Samples) {
		return t.Samples[len(t.Samples)-1].At
	}
	a, b := t.Samples[i], t.Samples[i+1]
	if a.Arc == b.Arc {
		return (a.At + b.At) / 2
	}
	f := max(0, min(1, (limit-a.Arc)/(b.Arc-a.Arc)))
	return a.At + f*(b.At-a.At)
}
