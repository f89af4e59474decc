package sight

import (
	"math"
	"slices"

	"drillbay/camera/frame"
	"drillbay/camera/lens"
	"drillbay/camera/sight/net"
)

// motion is what was seen in the pictures of a motion; nothing where it was
// not looked.
type motion struct {
	v     viewer
	seq   []*frame.Picture
	scene []float32 // what is there without the club
	eyes  [][]seen
}

// watch looks at the pictures of a motion: at each of the last before a hold,
// at fewer before; without a hold at some, and then at each where the club
// comes to level. It begins at from and goes no further than to, s.
func (s Setting) watch(v viewer, seq, hold []*frame.Picture, from, to float64) motion {
	m := motion{v: v, seq: seq, eyes: make([][]seen, len(seq))}
	moving := within(seq, from, to)
	if math.IsNaN(from) || len(moving) < 3 {
		return m
	}
	scene := slices.Clone(thin(moving, 12))
	if len(hold) > 0 {
		scene = append(scene, thin(hold, 3)...)
	}
	m.scene = v.patch.Median(scene)
	first := 0
	for first < len(seq) && seq[first].Seconds() < from {
		first++
	}
	last := first + len(moving) - 1
	if len(hold) > 0 {
		m.look(behind(first, last, closeLooks, mostLooks))
		return m
	}
	m.look(behind(first, last, 0, coarseLooks))
	near, most := -1, 0.25
	for i, e := range m.eyes {
		for _, x := range e {
			c, ok := s.seenClub(x, s.Distance-0.3)
			if w := x.weightHands * x.weightHead; ok && w > most && math.Abs(c.lift+levelAhead) < 20 {
				near, most = i, w
			}
		}
	}
	if near < 0 {
		return m
	}
	var next []int
	for i := max(first, near-closeLooks); i <= min(last, near+closeLooks); i++ {
		if m.eyes[i] == nil {
			next = append(next, i)
		}
	}
	m.look(next)
	return m
}

const (
	closeLooks, mostLooks = 10, 18
	coarseLooks           = 14
	levelAhead            = 6.0 // degrees under level: where whole swings are looked at closely
)

// behind are up to n of first … last: each of the last few, then fewer.
func behind(first, last, few, n int) (out []int) {
	i := last
	for ; i >= first && len(out) < few; i-- {
		out = append(out, i)
	}
	step := max(1, (i-first)/max(1, n-few))
	for ; i >= first; i -= step {
		out = append(out, i)
	}
	return out
}

// look looks at pictures of the motion.
func (m motion) look(at []int) {
	shared(func(first, step int) {
		f := net.NewFinder(taught())
		for j := first; j < len(at); j += step {
			m.eyes[at[j]] = m.v.look(f, m.seq[at[j]:at[j]+1], m.scene)
		}
	})
}

// seenHands is what hands that are surely seen elsewhere cost, as unlikeness.
const seenHands = 0.6

// heed makes places for the hands dear where the network sees them elsewhere;
// m is the size of a metre, px.
func (h *handsPaths) heed(eyes [][]seen, m float64) {
	for t, e := range eyes {
		if len(e) == 0 {
			continue
		}
		for i := range h.look[t] {
			p := h.grid.point(i)
			near := 0.0
			for _, x := range e {
				d := sq(p.U-x.hands.U) + sq(p.V-x.hands.V)
				near = max(near, x.weightHands*math.Exp(-d/(2*(sq(0.02*m)+sq(x.sigmaHands)))))
			}
			h.look[t][i] = h.look[t][i]*float32(1-0.8*near) + float32(seenHands*(e[0].weightHands-near))
		}
	}
}

func (smp *Sample) put(c seenAs) {
	smp.Line, smp.Lift, smp.Hands, smp.Head, smp.Seen = c.line, c.lift, c.hands, c.head, true
}

// rising puts the samples of a whole swing where the network sees the club on
// its way up to level and past it: those that follow from one another at the
// speed of a backswing and are the surest together.
func (s Setting) rising(samples []Sample, eyes [][]seen) {
	type step struct {
		seenAs
		frame, from int
		sum         float64
	}
	var steps []step
	best := -1
	for i, e := range eyes {
		samples[i].Seen = false
		for _, x := range e {
			w := x.weightHands * x.weightHead
			c, ok := s.seenClub(x, samples[i].Forward)
			if !ok || w < 0.2 || c.lift < -50 || c.lift > 27 {
				continue
			}
			c, _ = s.seenClub(x, s.forwardAfter(c.lift-samples[0].Lift))
			n := step{c, i, -1, w}
			for j, p := range steps {
				dt := samples[i].At - samples[p.frame].At
				far := math.Hypot(c.hands.U-p.hands.U, c.hands.V-p.hands.V) / s.perMetre(s.Distance)
				if dt <= 0 || dt > longestGap || c.lift < p.lift+slowest*dt-1.5 || apart(lens.Direction(c.line, c.lift), lens.Direction(p.line, p.lift)) > 6+fastest*dt || far > 0.03+2.5*dt {
					continue
				}
				if p.sum+w > n.sum {
					n.sum, n.from = p.sum+w, j
				}
			}
			steps = append(steps, n)
			if best < 0 || n.sum > steps[best].sum {
				best = len(steps) - 1
			}
		}
	}
	for ; best >= 0; best = steps[best].from {
		x := steps[best]
		samples[x.frame].put(x.seenAs)
		samples[x.frame].Forward = s.forwardAfter(x.lift - samples[0].Lift)
	}
}

// slowest and fastest are how fast a club rises and turns in the backswing of a
// whole swing about level, degrees a second.
const slowest, fastest = 120.0, 700.0

// longestGap is how long a club that is seen may not be seen between, s.
const longestGap = 0.055
