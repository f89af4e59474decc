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
	shared(func(first, step int) {
		f := net.NewFinder(taught())
		for i := first; i < len(looks); i += step {
			l := looks[i]
			v := viewer{patch: s.patch(st.Hands)}
			v.patch.Step *= l.size
			v.patch.Turn, v.patch.OriginX, v.patch.OriginY = l.turn, v.patch.OriginX+l.x, v.patch.OriginY+l.y
			v.calm = v.patch.Mean(still)
			hands[i], head[i] = v.places(f, now, v.patch.Median(before))
		}
	})
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
	return g, ok && g.possible() && g.score > 0.05*seenScore
}

// seenAcross is how far the network may be off with a head of a shape that it
// was not taught, m.
const seenAcross = 0.04

// seenScore is the score of a club that is surely seen: twice that of the
// plainest shaft, which may be something else.
const seenScore = 10.0

// plainSum is the evidence of a club that is surely seen, as of a shaft.
const plainSum = 40.0
