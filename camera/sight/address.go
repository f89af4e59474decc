package sight

import (
	"errors"
	"math"

	"drillbay/camera/frame"
	"drillbay/camera/lens"
)

// Setting is what the full pass must know of the bay and the club.
type Setting struct {
	View     lens.View
	Distance float64 // m, from the lens to the hands at address along the target line
	Reach    float64 // m, from the hands point to where the shaft axis meets the sole
	Grip     float64 // m, from the club's end to the hands point; 0: as usual
}

// perMetre is the size in px of a metre square on at forward metres.
func (s Setting) perMetre(forward float64) float64 { return s.View.Focal / forward }

// Stance is the club at address in the analysed picture.
type Stance struct {
	Hands, Head lens.Point
	Line, Lift  float64 // shaft line and elevation there, degrees
	Score       float64 // evidence along the shaft, in units of the noise
}

// ErrNoClub says that no club was seen at address.
var ErrNoClub = errors.New("no club was seen at address")

const (
	// The shaft at address as seen from behind: lie angles from the longest
	// club to a wedge, upright and flat players (common practice).
	leastLie, mostLie = 46.0, 72.0
	steepest          = -69.0 // degrees of elevation
	// What is seen of the club ends beyond the head point: sole and shadow.
	beyondSole = 0.052 // m
	// The hands are a little ahead of the ball (common practice).
	ahead    = 0.045 // m
	minScore = 1.6
)

// findAddress finds the shaft that is in the still pictures and gone from the
// moving ones.
func findAddress(still, moving []*frame.Picture, s Setting) (Stance, error) {
	v := s.View
	m := s.perMetre(s.Distance)
	tp := v.TargetPoint()
	k := reduction(v.Width)
	// Hands within 20° of the target point; the head below, on the ball's side.
	reach := s.Reach * m
	off := 0.36 * s.Distance * m
	r := around(tp.U-off, tp.V-off, tp.U+off+0.62*reach, tp.V+off+reach+0.1*m, v.Width, v.Height)
	a, b := mean(still, r, k, v.Left), mean(moving, r, k, v.Left)
	gone := a.like()
	for i := range a.Pix {
		gone.Pix[i] = a.Pix[i] - b.Pix[i]
	}
	shaft := 0.011 * m / float64(k)
	fine := ridge(gone, shaft)
	roll := v.Roll * math.Pi / 180
	if v.Left {
		roll = -roll
	}
	coarse := halve(fine)
	from, to := leastLie*math.Pi/180-roll, mostLie*math.Pi/180-roll
	best := Stance{Score: math.Inf(-1)}
	for _, l := range longest(coarse, 0.72*reach, from, to, 6) {
		l = refine(fine, l, 3*float64(k))
		head, clear := lowerEnd(fine, l, reach, m)
		c := s.stance(head, l.Angle, reach)
		// Hands far from the target point are less likely.
		off := math.Hypot(c.Hands.U-tp.U, c.Hands.V-tp.V) / v.Focal * 180 / math.Pi
		c.Score = l.Score + 0.5*clear - 0.008*off*off
		if l.Score >= minScore && c.Score > best.Score && c.Lift > steepest && shaftGoes(a, b, l, 0.009*m+1.5*float64(k)) {
			best = c
		}
	}
	if math.IsInf(best.Score, -1) {
		return Stance{}, ErrNoClub
	}
	return best, nil
}

// Search looks for a stillness at address before a time, in s, where the live
// pass saw none because something else moved: the newest part of a second in
// which a whole club is seen that is gone later.
func (s Setting) Search(pics []*frame.Picture, catch float64) (Run, bool) {
	moving := thin(within(pics, catch-0.5, catch), 6)
	if len(moving) < 4 {
		return Run{}, false
	}
	var times []float64
	for t := catch - 0.9; t > catch-4 && t > pics[0].Seconds()+searchPart; t -= searchStep {
		times = append(times, t)
	}
	seen := make([]Stance, len(times))
	shared(func(first, step int) {
		for i := first; i < len(times); i += step {
			still := thin(within(pics, times[i]-searchPart, times[i]), 5)
			if len(still) < 4 {
				continue
			}
			if st, err := findAddress(still, moving, s); err == nil {
				seen[i] = st
			}
		}
	})
	var best Stance
	var at float64
	for i, st := range seen {
		if st.Score > searchScore && st.Score > best.Score+0.5 {
			best, at = st, times[i]
		}
	}
	if best.Score == 0 {
		return Run{}, false
	}
	still := within(pics, at-searchPart, at)
	l := newLikeness(still, s.addressPoints(best), s.window(best), 2*reduction(s.View.Width), s.View.Left)
	after := within(pics, at, catch)
	d, most := l.along(after)
	run := Run{From: at - searchPart, To: at}
	for i, p := range after {
		if d[i] > l.level+0.2*(most-l.level) {
			break
		}
		run.To = p.Seconds()
	}
	return run, true
}

const (
	searchPart, searchStep = 0.42, 0.25 // s
	searchScore            = 5.5
)

// stance is the club with its head at a point and its shaft at an angle: the
// hands are up the line, where the two are a club's length apart, a little
// ahead of the head.
func (s Setting) stance(head lens.Point, angle, reach float64) Stance {
	v := s.View
	at := v.At(head, s.Distance-ahead)
	c, sn := math.Cos(angle), math.Sin(angle)
	out := Stance{Head: head}
	lo, hi := 0.3*reach, 1.5*reach
	for range 40 {
		mid := (lo + hi) / 2
		p := lens.Point{U: head.U - c*mid, V: head.V - sn*mid}
		if v.At(p, s.Distance).Sub(at).Len() < s.Reach {
			lo = mid
		} else {
			hi = mid
		}
	}
	out.Hands = lens.Point{U: head.U - c*lo, V: head.V - sn*lo}
	h := v.At(out.Hands, s.Distance)
	out.Line, out.Lift = lens.Angles(h, at)
	return out
}

// shaftGoes reports whether the line is there in the still picture rather
// than in the moving one: a club that comes to address leaves a line too.
func shaftGoes(still, moving *gray, l Line, o float64) bool {
	s, c := math.Sincos(l.Angle)
	var a, b float64
	for t := 0.0; t < l.Length; t++ {
		u, v := l.From.U+c*t, l.From.V+s*t
		a += math.Abs(thinness(still, u, v, c, s, o))
		b += math.Abs(thinness(moving, u, v, c, s, o))
	}
	return a > 1.1*b
}

// thinness is how much g at a point stands out from both its sides, o px
// across a line with the direction (c, sn); an edge does not.
func thinness(g *gray, u, v, c, sn, o float64) float64 {
	mid := float64(g.at(u, v))
	a := mid - float64(g.at(u-sn*o, v+c*o))
	b := mid - float64(g.at(u+sn*o, v-c*o))
	if a*b <= 0 {
		return 0
	}
	return math.Copysign(math.Min(math.Abs(a), math.Abs(b)), a)
}

// lowerEnd is the head point: where the evidence along l stops, less what is
// seen beyond it; clear says how clearly it stops there.
func lowerEnd(e *gray, l Line, reach, m float64) (head lens.Point, clear float64) {
	before, after := 0.2*reach, 0.75*reach
	p := profile(e, l, before, after)
	// The best step from evidence to none, over a window of 6 cm.
	w := max(4, int(0.06*m))
	sum := make([]float64, len(p)+1)
	for i, x := range p {
		sum[i+1] = sum[i] + min(x, 4)
	}
	best, end := math.Inf(-1), len(p)-1
	lo := int(before + 0.45*l.Length)
	for i := max(lo, 2*w); i+w < len(p); i++ {
		step := (sum[i]-sum[i-2*w])/float64(2*w) - (sum[i+w]-sum[i])/float64(w)
		// What lies above must be shaft all the way.
		step += 0.8 * (sum[i] - sum[int(before)]) / float64(i-int(before))
		if step > best {
			best, end = step, i
		}
	}
	t := float64(end) - before - beyondSole*m
	s, c := math.Sincos(l.Angle)
	return lens.Point{U: l.From.U + c*t, V: l.From.V + s*t}, best
}

// reduction is how far the full pass reduces pictures of a width in px.
func reduction(width int) int {
	switch {
	case width <= 1440:
		return 1
	case width <= 2880:
		return 2
	default:
		return 4
	}
}

// halve is g at half the size.
func halve(g *gray) *gray {
	h := &gray{X: g.X / 2, Y: g.Y / 2, W: g.W / 2, H: g.H / 2, K: g.K * 2}
	h.Pix = make([]float32, h.W*h.H)
	for y := range h.H {
		a, b := g.Pix[2*y*g.W:][:g.W], g.Pix[(2*y+1)*g.W:][:g.W]
		for x := range h.W {
			h.Pix[y*h.W+x] = (a[2*x] + a[2*x+1] + b[2*x] + b[2*x+1]) / 4
		}
	}
	return h
}
