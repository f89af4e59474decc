package sight

import (
	"math"

	"drillbay/camera/lens"
)

// choose sets hands and shaft of all nodes: for each the two roots, and of all
// ways through them the one that goes on most evenly (Viterbi 1967, on pairs
// of nodes), starts with the shaft as at address, and goes with the shoulders'
// turn. It reports false when too few nodes show both hands and head.
func (f *fit) choose(whole bool) bool {
	all := f.forks(whole)
	way := sparse(all, f.nodes)
	if len(way) < 4 {
		return false
	}
	pick := f.evenest(way)
	set := make([]bool, len(f.nodes))
	for k, b := range way {
		f.take(b, pick[k])
		set[b.node] = true
	}
	f.doubtful(set)
	f.bridge(set)
	// The others take the way nearer to that.
	for _, b := range all {
		if set[b.node] {
			continue
		}
		for r, s := range b.shaft {
			if s.Dot(f.nodes[b.node].shaft) > 0.97 {
				f.take(b, r)
				break
			}
		}
	}
	return true
}

func (f *fit) take(b fork, root int) {
	f.nodes[b.node].hands, f.nodes[b.node].shaft = b.hands[root], b.shaft[root]
}

// evenest are the roots of the way that goes on most evenly.
func (f *fit) evenest(way []fork) []int {
	// sum[a][b]: the least cost of a way whose last two roots are a and b.
	var sum [roots][roots]float64
	from := make([][roots][roots]int, len(way))
	for a := range roots {
		for b := range roots {
			sum[a][b] = way[0].cost[a] + way[1].cost[b]
		}
	}
	for k := 2; k < len(way); k++ {
		t0, t1, t2 := f.nodes[way[k-2].node].at, f.nodes[way[k-1].node].at, f.nodes[way[k].node].at
		var next [roots][roots]float64
		for b := range roots {
			for c := range roots {
				best := math.Inf(1)
				for a := range roots {
					cost := sum[a][b] + uneven(way[k-2].shaft[a], way[k-1].shaft[b], way[k].shaft[c], t1-t0, t2-t1)
					if cost < best {
						best, from[k][b][c] = cost, a
					}
				}
				next[b][c] = best + way[k].cost[c]
			}
		}
		sum = next
	}
	k := len(way) - 1
	pick, best := make([]int, len(way)), math.Inf(1)
	for a := range roots {
		for b := range roots {
			if sum[a][b] < best {
				pick[k-1], pick[k], best = a, b, sum[a][b]
			}
		}
	}
	for ; k >= 2; k-- {
		pick[k-2] = from[k][pick[k-1]][pick[k]]
	}
	return pick
}

// doubtful leaves out nodes whose shaft is far from where the ones before and
// after lead.
func (f *fit) doubtful(set []bool) {
	var at []int
	for i, ok := range set {
		if ok {
			at = append(at, i)
		}
	}
	for k := 1; k+1 < len(at); k++ {
		a, b, c := &f.nodes[at[k-1]], &f.nodes[at[k]], &f.nodes[at[k+1]]
		w := (b.at - a.at) / (c.at - a.at)
		lead := a.shaft.Mul(1 - w).Add(c.shaft.Mul(w)).Unit()
		if math.Acos(min(1, lead.Dot(b.shaft))) > 0.35+0.4*math.Acos(max(-1, min(1, a.shaft.Dot(c.shaft)))) {
			set[at[k]] = false
			k++ // the next was held against it
		}
	}
}

// uneven is how little the shaft goes on as it went, in squares of sigmas.
func uneven(a, b, c lens.Vec, h1, h2 float64) float64 {
	v := c.Sub(b).Mul(1 / h2).Sub(b.Sub(a).Mul(1 / h1))
	v = v.Sub(b.Mul(v.Dot(b)))
	push := sq(changes*max(c.Sub(a).Len()/(h1+h2), 1)) * lasting * (h1 + h2) / 3
	// Where the club is seen square on, how far it points to the lens is
	// hardly seen.
	err := func(s lens.Vec) (across, toward float64) {
		return squareOn, squareOn * max(1, math.Sqrt(1-s.X*s.X)/max(leastToward, math.Abs(s.X)))
	}
	var across, toward float64
	for i, s := range [...]lens.Vec{a, b, c} {
		x, y := err(s)
		k := [...]float64{1 / h1, 1/h1 + 1/h2, 1 / h2}[i]
		across, toward = across+sq(k*x), toward+sq(k*y)
	}
	off := v.X*v.X/(push+toward) + (v.Y*v.Y+v.Z*v.Z)/(push+across)
	return max(0, min(mostOdds, off-usualOdds)) + sq(c.Sub(b).Len()/h2/usualTurn)
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
