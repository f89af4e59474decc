package sight

import (
	"math"

	"drillbay/camera/lens"
)

// A ray meets the sphere of the club's reach about the hands twice: the club
// points to the lens or away from it.
const (
	nearRoot = iota
	farRoot
	roots
)

// fork is a node with the two ways to see it.
type fork struct {
	node         int
	hands, shaft [roots]lens.Vec
	cost         [roots]float64
}

// forks are the nodes whose hands and head are seen, and not by mistake.
func (f *fit) forks(whole bool) (all []fork) {
	wild := f.wild()
	rising := true // the club has not been above the hands yet
	past := f.passes()
	for i := range f.nodes {
		n := &f.nodes[i]
		head, along := n.of[headAt], f.reach()
		if !head.ok {
			head, along = n.of[shaftEnd], f.reach()-hosel
		}
		if !n.of[handsAt].ok || !head.ok || wild[i] && n.role == moving {
			continue
		}
		b := fork{node: i}
		for r := range roots {
			far := 0.0
			for range 3 {
				b.hands[r] = f.view().At(n.of[handsAt].at, f.base()+far)
				b.shaft[r] = f.meet(b.hands[r], f.view().Ray(head.at), along, r)
				far = goesWith * b.shaft[r].X
			}
		}
		if b.shaft[nearRoot].Z > 0.1 && b.shaft[farRoot].Z > 0.1 {
			rising = false
		}
		for r, x := range b.shaft {
			if x.Z < 0.3 {
				// Shoulders turn with the club.
				b.cost[r] += 0.3 * min(4, sq((math.Sin(f.turn(n))+0.6*x.X)/turnSigma))
			}
			if (rising || !whole) && math.Abs(x.Z) < nearLevel && math.Abs(x.Y) > mostAside {
				b.cost[r] += wrongForward / 2
			}
			if !whole && n.role == moving && past >= 0 {
				// Before it passed the ball again it was ahead of it, then behind.
				if (i < past) == (r == nearRoot) && math.Abs(x.X-leanAddress) > 0.1 {
					b.cost[r] += wrongSide
				}
			}
			switch {
			case n.role == atAddress:
				b.cost[r] += sq((x.X - leanAddress) / 0.1)
			case n.role == inHold && r == farRoot && x.X > 0:
				b.cost[r] += wrongHold
			case (rising || !whole) && r == farRoot && x.X > 0.3 && x.Z > highForward:
				b.cost[r] += wrongForward
			case whole && rising && r == farRoot && x.X > 0.15:
				b.cost[r] += wrongForward / 2
			}
		}
		all = append(all, b)
	}
	return all
}

// passes is the node at which the club swings back over the ball after a
// forward swing, by where its head is in the picture; -1 without one.
func (f *fit) passes() int {
	home := f.nodes[0].of[headAt]
	if !home.ok {
		return -1
	}
	m := f.set.perMetre(f.base())
	away := func(i int) float64 {
		p := f.nodes[i].of[headAt]
		if !p.ok || f.nodes[i].role != moving && f.nodes[i].role != inHold {
			return math.NaN()
		}
		return apart(p.at, home.at) / m
	}
	most, least, at, past := 0.0, math.Inf(1), -1, -1
	for i := range f.nodes {
		d := away(i)
		if math.IsNaN(d) {
			continue
		}
		if most < awayFrom {
			most = max(most, d)
			continue
		}
		if d < least {
			least, at = d, i
		}
		if least < passing && d > least+awayFrom && past < 0 {
			past = at
		}
		if past < 0 && d > most {
			most, least, at = d, math.Inf(1), -1
		}
	}
	return past
}

// wild are the nodes whose hands or head lie far from where those before and
// after lead.
func (f *fit) wild() []bool {
	out := make([]bool, len(f.nodes))
	for _, p := range [...]int{handsAt, headAt} {
		var at []int
		for i := range f.nodes {
			if f.nodes[i].of[p].ok {
				at = append(at, i)
			}
		}
		for k := 2; k+2 < len(at); k++ {
			here := &f.nodes[at[k]]
			to := func(a, b int) lens.Point {
				x, y := &f.nodes[at[a]], &f.nodes[at[b]]
				w := (here.at - x.at) / (y.at - x.at)
				return lens.Point{U: (1-w)*x.of[p].at.U + w*y.of[p].at.U, V: (1-w)*x.of[p].at.V + w*y.of[p].at.V}
			}
			var u, v, span []float64
			for _, ab := range [...][2]int{{k - 1, k + 1}, {k - 2, k + 2}, {k - 2, k + 1}, {k - 1, k + 2}} {
				q := to(ab[0], ab[1])
				x, y := f.nodes[at[ab[0]]].of[p].at, f.nodes[at[ab[1]]].of[p].at
				u, v, span = append(u, q.U), append(v, q.V), append(span, apart(x, y))
			}
			x := here.of[p]
			if math.Hypot(x.at.U-middle(u), x.at.V-middle(v)) > 4*x.sigma()+0.4*middle(span) {
				out[at[k]] = true
			}
		}
	}
	return out
}

// sparse are forks so far apart in time that the eye's errors do not look
// like motion.
func sparse(all []fork, nodes []node) (out []fork) {
	for _, b := range all {
		if n := len(out); n == 0 || nodes[b.node].at-nodes[out[n-1].node].at >= sparsely || nodes[b.node].role == inHold {
			out = append(out, b)
		}
	}
	return out
}

// meet is the direction of the club whose point, along metres from the hands,
// is seen on the ray: the nearer or the farther one.
func (f *fit) meet(hands, ray lens.Vec, along float64, root int) lens.Vec {
	near, far, ok := lens.Reach(hands, ray, along)
	switch {
	case !ok:
		return ray.Mul(hands.Dot(ray)).Sub(hands).Unit()
	case root == nearRoot:
		return near.Sub(hands).Unit()
	}
	return far.Sub(hands).Unit()
}
