package sight

import (
	"math"
	"slices"

	"drillbay/camera/frame"
	"drillbay/camera/lens"
)

// Edges are the straight edges in pictures of a still scene, px as seen, the
// longest first, each with the uncertainty of its ends. Parts of one edge that
// something stands in front of are joined.
func Edges(pics []*frame.Picture) []lens.Edge {
	if len(pics) == 0 {
		return nil
	}
	w, h := pics[0].Width, pics[0].Height
	k := reduction(w)
	e := newEdgels(mean(thin(pics, 8), region{0, 0, w / k * k, h / k * k}, k, false).blur(1.2))
	var runs []run
	for _, i := range e.order {
		if r, ok := e.grow(i); ok {
			runs = append(runs, r)
		}
	}
	runs = joined(runs)
	var out []lens.Edge
	for _, r := range runs {
		if l := r.edge(float64(k), float64(w)); l.Length() >= shortestEdge*float64(w) {
			out = append(out, l)
		}
	}
	slices.SortStableFunc(out, func(a, b lens.Edge) int {
		switch {
		case a.Length() > b.Length():
			return -1
		case a.Length() < b.Length():
			return 1
		}
		return 0
	})
	return out[:min(len(out), mostEdges)]
}

const (
	mostEdges = 60
	turnsBy   = 14 * math.Pi / 180
)

// edgels are the points at which the gradient is greatest across an edge.
type edgels struct {
	w, h  int
	angle []float32 // direction of the gradient, rad
	size  []float32 // 0 where there is no edge, or it is used
	off   []float32 // of the edge from the point, along the gradient, px
	order []int     // strongest first
	stack []int
}

func newEdgels(g *gray) *edgels {
	e := &edgels{w: g.W, h: g.H, angle: make([]float32, len(g.Pix)), size: make([]float32, len(g.Pix)), off: make([]float32, len(g.Pix))}
	raw := make([]float32, len(g.Pix))
	du, dv := make([]float32, len(g.Pix)), make([]float32, len(g.Pix))
	for y := 1; y < g.H-1; y++ {
		for x := 1; x < g.W-1; x++ {
			i := y*g.W + x
			du[i], dv[i] = (g.Pix[i+1]-g.Pix[i-1])/2, (g.Pix[i+g.W]-g.Pix[i-g.W])/2
			raw[i] = float32(math.Sqrt(float64(du[i]*du[i] + dv[i]*dv[i])))
		}
	}
	limit := max(leastSlope, 2.5*median(raw))
	for y := 2; y < g.H-2; y++ {
		for x := 2; x < g.W-2; x++ {
			i := y*g.W + x
			m := raw[i]
			if m < limit {
				continue
			}
			// The neighbours along the gradient, to the nearest of 8.
			step := 1
			switch a, b := abs32(du[i]), abs32(dv[i]); {
			case b > 2.414*a:
				step = g.W
			case a > 2.414*b:
			case (du[i] > 0) == (dv[i] > 0):
				step = g.W + 1
			default:
				step = -g.W + 1
			}
			p, q := raw[i-step], raw[i+step]
			if m < p || m <= q {
				continue
			}
			e.size[i] = m
			e.angle[i] = float32(math.Atan2(float64(dv[i]), float64(du[i])))
			// Where between them it is greatest, along the gradient.
			o := peak(p, m, q)
			var ox, oy float64
			switch step {
			case 1:
				ox = o
			case g.W:
				oy = o
			case g.W + 1:
				ox, oy = o, o
			default:
				ox, oy = o, -o
			}
			e.off[i] = float32(ox*float64(du[i]/m) + oy*float64(dv[i]/m))
			e.order = append(e.order, i)
		}
	}
	slices.SortStableFunc(e.order, func(a, b int) int {
		switch {
		case raw[a] > raw[b]:
			return -1
		case raw[a] < raw[b]:
			return 1
		}
		return 0
	})
	return e
}

// run is a stretch of edge points, as sums for a straight line through them.
type run struct {
	n, x, y, xx, xy, yy float64
	c, s                float64 // sums of the gradient's direction
	from, to            lens.Point
	rms                 float64
}

func (r *run) add(x, y, angle float64) {
	r.n++
	r.x, r.y, r.xx, r.xy, r.yy = r.x+x, r.y+y, r.xx+x*x, r.xy+x*y, r.yy+y*y
	s, c := math.Sincos(angle)
	r.c, r.s = r.c+c, r.s+s
}

// line is the straight line through the points (total least squares): a point
// of it, its direction, and how far the points are off (rms).
func (r *run) line() (mx, my, dx, dy, rms float64) {
	mx, my = r.x/r.n, r.y/r.n
	xx, xy, yy := r.xx/r.n-mx*mx, r.xy/r.n-mx*my, r.yy/r.n-my*my
	a := 0.5 * math.Atan2(2*xy, xx-yy)
	dy, dx = math.Sincos(a)
	return mx, my, dx, dy, math.Sqrt(max(0, xx*dy*dy-2*xy*dx*dy+yy*dx*dx))
}

// grow follows an edge from a point to all that go on from it in the same
// direction.
func (e *edgels) grow(i int) (r run, ok bool) {
	if e.size[i] == 0 {
		return r, false
	}
	e.stack = append(e.stack[:0], i)
	e.size[i] = 0
	type at struct{ x, y float64 }
	var all []at
	for len(e.stack) > 0 {
		j := e.stack[len(e.stack)-1]
		e.stack = e.stack[:len(e.stack)-1]
		s, c := math.Sincos(float64(e.angle[j]))
		o := float64(e.off[j])
		p := at{float64(j%e.w) + 0.5 + o*c, float64(j/e.w) + 0.5 + o*s}
		r.add(p.x, p.y, float64(e.angle[j]))
		all = append(all, p)
		mean := math.Atan2(r.s, r.c)
		for dy := -2; dy <= 2; dy++ {
			for dx := -2; dx <= 2; dx++ {
				n := j + dy*e.w + dx
				if n < 0 || n >= len(e.size) || e.size[n] == 0 || math.Abs(math.Remainder(float64(e.angle[n])-mean, 2*math.Pi)) > turnsBy {
					continue
				}
				e.size[n] = 0
				e.stack = append(e.stack, n)
			}
		}
	}
	if r.n < 12 {
		return r, false
	}
	mx, my, dx, dy, rms := r.line()
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, p := range all {
		t := (p.x-mx)*dx + (p.y-my)*dy
		lo, hi = min(lo, t), max(hi, t)
	}
	r.rms = rms
	r.from, r.to = lens.Point{U: mx + lo*dx, V: my + lo*dy}, lens.Point{U: mx + hi*dx, V: my + hi*dy}
	return r, rms < straight && r.n > 0.7*(hi-lo)
}

// joined puts runs together that are parts of one straight edge, the longest
// taking in the others.
func joined(runs []run) []run {
	slices.SortStableFunc(runs, func(a, b run) int { return int(b.n - a.n) })
	for i := 0; i < len(runs); i++ {
		for j := i + 1; j < len(runs); j++ {
			if m, ok := runs[i].with(runs[j]); ok {
				runs[i] = m
				runs = slices.Delete(runs, j, j+1)
				j = i
			}
		}
	}
	return runs
}

// with is both runs as one, when they are parts of one edge.
func (r run) with(o run) (run, bool) {
	if math.Abs(math.Remainder(math.Atan2(r.s, r.c)-math.Atan2(o.s, o.c), 2*math.Pi)) > turnsBy/2 {
		return r, false
	}
	mx, my, dx, dy, _ := r.line()
	along := func(p lens.Point) float64 { return (p.U-mx)*dx + (p.V-my)*dy }
	across := func(p lens.Point) float64 { return math.Abs((p.V-my)*dx - (p.U-mx)*dy) }
	if across(o.from) > inLine || across(o.to) > inLine {
		return r, false
	}
	lo, hi := min(along(o.from), along(o.to)), max(along(o.from), along(o.to))
	from, to := along(r.from), along(r.to)
	if lo-to > 2*(to-from) || from-hi > 2*(to-from) {
		return r, false // too far to know
	}
	m := run{n: r.n + o.n, x: r.x + o.x, y: r.y + o.y, xx: r.xx + o.xx, xy: r.xy + o.xy, yy: r.yy + o.yy, c: r.c + o.c, s: r.s + o.s}
	mx, my, dx, dy, m.rms = m.line()
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, p := range [...]lens.Point{r.from, r.to, o.from, o.to} {
		t := along(p)
		lo, hi = min(lo, t), max(hi, t)
	}
	m.from, m.to = lens.Point{U: mx + lo*dx, V: my + lo*dy}, lens.Point{U: mx + hi*dx, V: my + hi*dy}
	return m, m.rms < straight
}

// edge is the run in px of the whole picture, its uncertainty that of a
// straight line through n points of which three go together.
func (r run) edge(k, width float64) lens.Edge {
	at := func(p lens.Point) lens.Point { return lens.Point{U: k * p.U, V: k * p.V} }
	sd := math.Hypot(bentBy*width/1280, k*2*r.rms/math.Sqrt(r.n/3))
	return lens.Edge{Stretch: lens.Stretch{From: at(r.from), To: at(r.to)}, Sd: sd}
}
