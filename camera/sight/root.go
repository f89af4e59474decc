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

const (
	mostOdds  = 12.0 // what one look can say against a way, in squares of sigmas
	wrongHold = 60.0 // against a held club that points to the target
	turnSigma = 0.5  // of the sine of the shoulders' turn
)

// choose sets hands and shaft of all nodes: for each the two roots, and of all
// ways through them the one that goes on most evenly (Viterbi 1967, on pairs
// of nodes), starts with the shaft as at address, and goes with the shoulders'
// turn. It reports false when too few nodes show both hands and head.
func (f *fit) choose(whole bool) bool {
	type both struct {
		i int
		p [roots]struct{ hands, shaft lens.Vec }
		c [roots]float64
	}
	var way []both
	rising := true // the club has not been above the hands yet
	for i := range f.nodes {
		n := &f.nodes[i]
		head, along := n.of[headAt], f.reach()
		if !head.ok {
			head, along = n.of[shaftEnd], f.reach()-hosel
		}
		if !n.of[handsAt].ok || !head.ok {
			continue
		}
		b := both{i: i}
		for r := range b.p {
			far := 0.0
			for range 3 {
				hands := f.view().At(n.of[handsAt].at, f.base()+far)
				shaft := f.meet(hands, f.view().Ray(head.at), along, r)
				b.p[r].hands, b.p[r].shaft = hands, shaft
				far = goesWith * shaft.X
			}
		}
		near, other := b.p[nearRoot].shaft, b.p[farRoot].shaft
		if near.Z > 0.1 && other.Z > 0.1 {
			rising = false
		}
		for r, x := range [roots]lens.Vec{near, other} {
			if x.Z < 0.3 {
				// Shoulders turn with the club.
				b.c[r] += 0.15 * min(4, sq((math.Sin(f.turn(n))+0.6*x.X)/turnSigma))
			}
			switch {
			case n.role == atAddress:
				b.c[r] += sq((x.X - leanAddress) / 0.1)
			case n.role == inHold && r == farRoot && x.X > 0:
				b.c[r] += wrongHold
			case whole && rising && r == farRoot && x.X > 0.15:
				b.c[r] += 3
			}
		}
		way = append(way, b)
	}
	if len(way) < 4 {
		return false
	}
	// sum[a][b]: the least cost of a way whose last two roots are a and b.
	var sum [roots][roots]float64
	from := make([][roots][roots]int8, len(way))
	for a := range roots {
		for b := range roots {
			sum[a][b] = way[0].c[a] + way[1].c[b]
		}
	}
	for k := 2; k < len(way); k++ {
		t0, t1, t2 := f.nodes[way[k-2].i].at, f.nodes[way[k-1].i].at, f.nodes[way[k].i].at
		var next [roots][roots]float64
		for b := range roots {
			for c := range roots {
				best := math.Inf(1)
				for a := range roots {
					cost := sum[a][b] + uneven(way[k-2].p[a].shaft, way[k-1].p[b].shaft, way[k].p[c].shaft, t1-t0, t2-t1)
					if cost < best {
						best, from[k][b][c] = cost, int8(a)
					}
				}
				next[b][c] = best + way[k].c[c]
			}
		}
		sum = next
	}
	last, best := [2]int{}, math.Inf(1)
	for a := range roots {
		for b := range roots {
			if sum[a][b] < best {
				last, best = [2]int{a, b}, sum[a][b]
			}
		}
	}
	pick := make([]int, len(way))
	k := len(way) - 1
	pick[k], pick[k-1] = last[1], last[0]
	for ; k >= 2; k-- {
		pick[k-2] = int(from[k][pick[k-1]][pick[k]])
	}
	set := make([]bool, len(f.nodes))
	for k, b := range way {
		n := &f.nodes[b.i]
		n.hands, n.shaft = b.p[pick[k]].hands, b.p[pick[k]].shaft
		set[b.i] = true
	}
	f.bridge(set)
	return true
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

// uneven is how little the shaft goes on as it went, in squares of sigmas.
func uneven(a, b, c lens.Vec, h1, h2 float64) float64 {
	v := c.Sub(b).Mul(1 / h2).Sub(b.Sub(a).Mul(1 / h1))
	v = v.Sub(b.Mul(v.Dot(b)))
	speed := c.Sub(a).Len() / (h1 + h2)
	const look = 0.03 // rad, a look's own error
	var2 := sq(changes*max(speed, 1))*lasting*(h1+h2)/3 + sq(look)*(1/(h1*h1)+1/(h2*h2)+1/(h1*h2))
	return min(mostOdds, v.Dot(v)/var2)
}

// bridge sets the nodes between those that are set.
func (f *fit) bridge(set []bool) {
	last := -1
	for i := range f.nodes {
		if !set[i] {
			continue
		}
		for k := last + 1; k < i; k++ {
			if last < 0 {
				f.nodes[k].hands, f.nodes[k].shaft = f.nodes[i].hands, f.nodes[i].shaft
				continue
			}
			a, b := &f.nodes[last], &f.nodes[i]
			w := (f.nodes[k].at - a.at) / (b.at - a.at)
			f.nodes[k].hands = a.hands.Mul(1 - w).Add(b.hands.Mul(w))
			f.nodes[k].shaft = a.shaft.Mul(1 - w).Add(b.shaft.Mul(w)).Unit()
		}
		last = i
	}
	for k := last + 1; k < len(f.nodes) && last >= 0; k++ {
		f.nodes[k].hands, f.nodes[k].shaft = f.nodes[last].hands, f.nodes[last].shaft
	}
}
