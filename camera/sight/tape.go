package sight

import (
	"math"

	"drillbay/camera/frame"
	"drillbay/camera/lens"
)

// tape is a band of bright tape on the shaft: its colour, what is beside it,
// and how far its middle is from the hands, m.
type tape struct {
	colour, beside chroma
	along          float64
}

// chroma is Cb and Cr.
type chroma struct{ b, r float64 }

func (c chroma) from(o chroma) float64 { return math.Hypot(c.b-o.b, c.r-o.r) }

// chromaAt is the mean chroma of pictures at a point of the analysed picture.
func chromaAt(pics []*frame.Picture, p lens.Point, left bool) chroma {
	var c chroma
	for _, q := range pics {
		u, v := p.U, p.V
		if left {
			u = float64(q.Width) - u
		}
		rows := 2.0
		if q.Sub == frame.Sub422 {
			rows = 1
		}
		x := max(0, min(u/2-0.5, float64(q.ChromaWidth()-1)-0.001))
		y := max(0, min(v/rows-0.5, float64(q.ChromaHeight()-1)-0.001))
		ix, iy := int(x), int(y)
		fx, fy := x-float64(ix), y-float64(iy)
		i := iy*q.CStride + ix
		mix := func(pl []byte) float64 {
			j := min(i+1, len(pl)-1)
			k, l := min(i+q.CStride, len(pl)-1), min(i+q.CStride+1, len(pl)-1)
			a := float64(pl[i]) + fx*(float64(pl[j])-float64(pl[i]))
			b := float64(pl[k]) + fx*(float64(pl[l])-float64(pl[k]))
			return a + fy*(b-a)
		}
		c.b += mix(q.Cb) / float64(len(pics))
		c.r += mix(q.Cr) / float64(len(pics))
	}
	return c
}

const (
	tapeStep  = 0.005 // m
	tapeFrom  = 0.45  // of the way from hands to head
	tapeTo    = 0.97
	leastTape = 0.02 // m
	mostTape  = 0.16 // m: what is longer is a painted shaft
	// Colour is told from this difference of chroma on, levels, from what is
	// beside it and from grey; what is like
	// the tape is nearer to it than this share of its difference from what was
	// beside it.
	leastColour, likeTape = 14.0, 0.4
)

// findTape looks for a band of tape on the club at address.
func (s Setting) findTape(still []*frame.Picture, st Stance) (tape, bool) {
	still = thin(still, 8)
	hands := s.View.At(st.Hands, s.Distance)
	way := s.View.At(st.Head, s.Distance-ahead).Sub(hands)
	du, dv := st.Head.U-st.Hands.U, st.Head.V-st.Hands.V
	n := math.Hypot(du, dv)
	off := 0.045 * s.perMetre(s.Distance)
	type place struct {
		t       float64
		on, out chroma
		differs bool
	}
	var all []place
	for t := tapeFrom * s.Reach; t < tapeTo*s.Reach; t += tapeStep {
		p, ok := s.View.Project(hands.Add(way.Mul(t / s.Reach)))
		if !ok {
			return tape{}, false
		}
		// The axis may be missed by a pixel: the place most unlike its sides.
		var x place
		most := -1.0
		for _, o := range [...]float64{-2, 0, 2} {
			c := chromaAt(still, lens.Point{U: p.U - o*dv/n, V: p.V + o*du/n}, s.View.Left)
			a := chromaAt(still, lens.Point{U: p.U - off*dv/n, V: p.V + off*du/n}, s.View.Left)
			b := chromaAt(still, lens.Point{U: p.U + off*dv/n, V: p.V - off*du/n}, s.View.Left)
			if d := min(c.from(a), c.from(b)); d > most {
				most = d
				x = place{t, c, chroma{(a.b + b.b) / 2, (a.r + b.r) / 2}, d > leastColour && c.from(chroma{128, 128}) > leastColour}
			}
		}
		all = append(all, x)
	}
	best, from := 0, 0
	run := 0
	for i, x := range all {
		if !x.differs {
			run = 0
			continue
		}
		if run++; run > best {
			best, from = run, i-run+1
		}
	}
	if long := float64(best) * tapeStep; long < leastTape || long > mostTape {
		return tape{}, false
	}
	var out tape
	var w float64
	for _, x := range all[from : from+best] {
		d := x.on.from(x.out)
		w += d
		out.along += d * x.t
		out.colour.b += d * x.on.b
		out.colour.r += d * x.on.r
		out.beside.b += d * x.out.b
		out.beside.r += d * x.out.r
	}
	out.along /= w
	out.colour = chroma{out.colour.b / w, out.colour.r / w}
	out.beside = chroma{out.beside.b / w, out.beside.r / w}
	return out, true
}

// find is where the tape may be in now and was not before: the middles of
// patches of its colour near a point, about as large as it was at address; m
// is the size of a metre, px.
func (t tape) find(now, before []*frame.Picture, near lens.Point, m float64, left bool) []lens.Point {
	now, before = thin(now, 6), thin(before, 6)
	reach := 0.6 * m
	n := int(2*reach/tapeGrid) + 1
	like := make([]float64, n*n)
	at := func(i int) lens.Point {
		return lens.Point{U: near.U - reach + float64(i%n)*tapeGrid, V: near.V - reach + float64(i/n)*tapeGrid}
	}
	full := t.colour.from(t.beside)
	for i := range like {
		p := at(i)
		if p.U < 0 || p.V < 0 || p.U > float64(now[0].Width) || p.V > float64(now[0].Height) {
			continue
		}
		d := chromaAt(now, p, left).from(t.colour) / full
		if d < likeTape && chromaAt(before, p, left).from(t.colour)/full > d+0.2 {
			like[i] = 1 - d/likeTape
		}
	}
	var out []lens.Point
	for i := range like {
		sum, p := patch(like, n, i, at)
		if area := sum * sq(tapeGrid/m); area > leastTapeArea && area < mostTapeArea {
			out = append(out, p)
		}
	}
	return out
}

// patch is what is like at a place of a grid n wide and joined to it, and its
// middle. It is taken away.
func patch(like []float64, n, i int, at func(int) lens.Point) (sum float64, middle lens.Point) {
	queue := []int{i}
	for len(queue) > 0 {
		j := queue[len(queue)-1]
		queue = queue[:len(queue)-1]
		w := like[j]
		if w <= 0 {
			continue
		}
		like[j] = 0
		p := at(j)
		sum, middle.U, middle.V = sum+w, middle.U+w*p.U, middle.V+w*p.V
		for _, k := range [...]int{j - 1, j + 1, j - n, j + n} {
			if k >= 0 && k < len(like) {
				queue = append(queue, k)
			}
		}
	}
	return sum, lens.Point{U: middle.U / sum, V: middle.V / sum}
}

const (
	tapeGrid = 2.0 // px
	// A band of tape as it is seen, m² at the hands: 2 to 10 cm of a shaft, end
	// on or near the lens.
	leastTapeArea, mostTapeArea = 0.5e-4, 20e-4
)

// tapeGuess is the held club with its tape seen at p.
func (s Setting) tapeGuess(t tape, p, hands lens.Point, fwd float64) (guess, bool) {
	g := guess{Held: Held{Hands: hands, Sum: plainSum}, by: byTape}
	at := s.View.At(hands, fwd)
	q, ok := lens.Meet(at, s.View.Ray(p), t.along, 0.04)
	if !ok {
		return g, false
	}
	g.Line, g.Lift = lens.Angles(at, q)
	if !g.possible() {
		return g, false
	}
	if g.Head, ok = s.View.Project(at.Add(lens.Direction(g.Line, g.Lift).Mul(s.Reach))); !ok {
		return g, false
	}
	g.AcrossHands = 0.01 * s.perMetre(fwd)
	g.AcrossHead = 2.5 * s.Reach / t.along
	g.score = 3.5
	return g, true
}
