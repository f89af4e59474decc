package sight

import (
	"cmp"
	_ "embed"
	"math"
	"slices"
	"sync"

	"drillbay/camera/frame"
	"drillbay/camera/lens"
	"drillbay/camera/sight/net"
)

//go:embed taught.bin
var taughtNumbers []byte

var taught = sync.OnceValue(func() *net.Net {
	n, err := net.Read(taughtNumbers)
	if err != nil {
		panic("camera/sight/taught.bin: " + err.Error())
	}
	return n
})

// seen is hands and head as the network sees them in a picture, both in the
// analysed picture, px.
type seen struct {
	hands, head             lens.Point
	sigmaHands, sigmaHead   float64 // px
	weightHands, weightHead float64 // likelihoods
}

// viewer looks at pictures of one rep with the network.
type viewer struct {
	patch Patch
	calm  []float32
}

func (s Setting) viewer(still []*frame.Picture, st Stance) viewer {
	f := s.patch(st.Hands)
	return viewer{f, f.Mean(thin(still, 6))}
}

// look sees what is in the mean of pictures, given what is there without the
// club: the likeliest ways, the best first.
func (v viewer) look(f *net.Finder, now []*frame.Picture, scene []float32) []seen {
	return pairs(v.places(f, now, scene))
}

// places are those of hands and head.
func (v viewer) places(f *net.Finder, now []*frame.Picture, scene []float32) (hands, head []spot) {
	patch := make([]float32, net.Channels*PatchSize*PatchSize)
	Channels(patch, v.patch.Mean(now), v.calm, scene)
	f.Look(patch)
	spots := func(of int, most int) (out []spot) {
		for _, p := range f.Places(of, most) {
			out = append(out, spot{v.patch.Point(p.X, p.Y), p.Sigma * v.patch.Step, p.Weight})
		}
		return out
	}
	return spots(net.Hands, mostHands), spots(net.Head, mostHeads)
}

const mostHands, mostHeads = 2, 3

// spot is a place with its 1-sigma uncertainty, px, and its likelihood.
type spot struct {
	at            lens.Point
	sigma, weight float64
}

func pairs(hands, head []spot) (out []seen) {
	for _, a := range hands {
		for _, b := range head {
			out = append(out, seen{a.at, b.at, a.sigma, b.sigma, a.weight, b.weight})
		}
	}
	return out
}

// looks are ways to lay a patch: shares of its size, radians, and patch px to
// the side and down. What is seen in all of them is surer than what is seen in
// one.
var looks = [...]struct{ size, turn, x, y float64 }{
	{1, 0, 0, 0}, {1.08, 0.03, 2.5, -1.5}, {0.93, -0.03, -2.5, 1.5}, {1.03, -0.04, 1.5, 2.5}, {0.97, 0.04, -1.5, -2.5},
}

// ponder looks at the mean of pictures in several ways.
func (s Setting) ponder(st Stance, still, before, now []*frame.Picture) []seen {
	still, before, now = thin(still, 5), thin(before, 9), thin(now, 6)
	var hands, head [len(looks)][]spot
	var wg sync.WaitGroup
	const workers = 2
	for w := range workers {
		wg.Go(func() {
			f := net.NewFinder(taught())
			for i := w; i < len(looks); i += workers {
				l := looks[i]
				v := viewer{patch: s.patch(st.Hands)}
				v.patch.Step *= l.size
				v.patch.Turn, v.patch.OriginX, v.patch.OriginY = l.turn, v.patch.OriginX+l.x, v.patch.OriginY+l.y
				v.calm = v.patch.Mean(still)
				hands[i], head[i] = v.places(f, now, v.patch.Median(before))
			}
		})
	}
	wg.Wait()
	m := s.perMetre(s.Distance)
	return pairs(agreed(hands[:], 0.03*m, mostHands), agreed(head[:], 0.04*m, mostHeads))
}

// agreed joins spots that are within near px of one another: the likeliest
// places, at most most.
func agreed(all [][]spot, near float64, most int) (out []spot) {
	var left []spot
	for _, list := range all {
		left = append(left, list...)
	}
	for len(out) < most && len(left) > 0 {
		top := slices.MaxFunc(left, func(a, b spot) int { return cmp.Compare(a.weight, b.weight) })
		var sum, u, v, uu, within float64
		rest := left[:0]
		for _, x := range left {
			if math.Hypot(x.at.U-top.at.U, x.at.V-top.at.V) > near {
				rest = append(rest, x)
				continue
			}
			du, dv := x.at.U-top.at.U, x.at.V-top.at.V
			sum, u, v = sum+x.weight, u+x.weight*du, v+x.weight*dv
			uu += x.weight * (du*du + dv*dv) / 2
			within += x.weight * sq(x.sigma)
		}
		left = rest
		if sum == 0 {
			break
		}
		u, v = u/sum, v/sum
		out = append(out, spot{
			at:     lens.Point{U: top.at.U + u, V: top.at.V + v},
			sigma:  math.Sqrt(within/sum + max(0, uu/sum-(u*u+v*v)/2)),
			weight: sum / float64(len(all)),
		})
	}
	slices.SortStableFunc(out, func(a, b spot) int { return cmp.Compare(b.weight, a.weight) })
	return out
}

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
	if len(moving) < 3 {
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
	var wg sync.WaitGroup
	const workers = 2
	for w := range workers {
		wg.Go(func() {
			f := net.NewFinder(taught())
			for j := w; j < len(at); j += workers {
				m.eyes[at[j]] = m.v.look(f, m.seq[at[j]:at[j]+1], m.scene)
			}
		})
	}
	wg.Wait()
}

// seenAs is a club as the network sees it.
type seenAs struct {
	seen
	line, lift float64
	forward    float64 // m from the lens
}

// seenClub is the club from hands forward metres from the lens to the head.
func (s Setting) seenClub(x seen, forward float64) (seenAs, bool) {
	at := s.View.At(x.hands, forward)
	p, ok := lens.Meet(at, s.View.Ray(x.head), s.Reach, 0.04)
	if !ok {
		return seenAs{}, false
	}
	g := seenAs{seen: x, forward: p.X}
	g.line, g.lift = lens.Angles(at, p)
	return g, math.Abs(g.line) < 120
}

// taughtGuess turns what was seen into a held club.
func (s Setting) taughtGuess(x seen, fwd float64) (guess, bool) {
	c, ok := s.seenClub(x, fwd)
	w := x.weightHands * x.weightHead
	g := guess{Held: Held{Hands: x.hands, Head: x.head, Line: c.line, Lift: c.lift, Sum: plainSum * w}, score: seenScore * w * math.Sqrt(w), by: byNet}
	g.AcrossHands = math.Hypot(x.sigmaHands, 0.008*s.perMetre(fwd))
	g.AcrossHead = math.Hypot(x.sigmaHead, seenAcross*s.perMetre(c.forward))
	return g, ok && math.Abs(g.Line) <= 45 && g.Lift <= highest && g.Lift >= -45 && g.score > 0.05*seenScore
}

// seenAcross is how far the network may be off with a head of a shape that it
// was not taught, m.
const seenAcross = 0.04

// seenScore is the score of a club that is surely seen: twice that of the
// plainest shaft, which may be something else.
const seenScore = 10.0

// plainSum is the evidence of a club that is surely seen, as of a shaft.
const plainSum = 40.0

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

// apart is the angle between two directions, degrees.
func apart(line, lift, line2, lift2 float64) float64 {
	return math.Acos(max(-1, min(1, lens.Direction(line, lift).Dot(lens.Direction(line2, lift2))))) * 180 / math.Pi
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
				if dt <= 0 || dt > longestGap || c.lift < p.lift+slowest*dt-1.5 || apart(c.line, c.lift, p.line, p.lift) > 6+fastest*dt || far > 0.03+2.5*dt {
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
