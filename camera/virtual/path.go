package virtual

import (
	"math"
	"sort"
)

// pose holds the position of player and club at one instant.
type pose struct {
	hands  vec     // middle of the lead hand
	shaft  vec     // unit, hands to head
	face   float64 // rad, roll about the shaft, 0 toe up at level, + open
	turn   float64 // rad, of the shoulders away from the target
	shift  vec     // of the whole player
	bend   float64 // 0..1, bending down to the ball
	reach  float64 // 0..1, the trail hand goes from rest to its place on the club
	gone   bool    // the player is not in the bay
	stride float64 // rad of the walking cycle
	walk   float64 // 0..1, how much of a walk it is
}

func (p pose) head(length float64) vec { return p.hands.add(p.shaft.mul(length)) }

// plus and times make poses a vector space for the splines; times(0) is zero.
func (p pose) plus(q pose) pose {
	p.hands, p.shaft, p.shift = p.hands.add(q.hands), p.shaft.add(q.shaft), p.shift.add(q.shift)
	p.face, p.turn, p.bend, p.reach = p.face+q.face, p.turn+q.turn, p.bend+q.bend, p.reach+q.reach
	return p
}

func (p pose) times(k float64) pose {
	p.hands, p.shaft, p.shift = p.hands.mul(k), p.shaft.mul(k), p.shift.mul(k)
	p.face, p.turn, p.bend, p.reach = p.face*k, p.turn*k, p.bend*k, p.reach*k
	return p
}

// path is a smooth way through key poses, measured by the way of the head.
type path struct {
	keys   []pose
	at     []float64 // parameter of each key, rising
	length float64   // hands to head
	ground float64   // the head stays above this
	way    [257]float64
}

// newPath lays a path through keys. The parameter grows with the angle that
// the shaft turns and the way of the hands between keys.
func newPath(length float64, keys ...pose) *path {
	p := &path{keys: keys, length: length, ground: 0.015, at: make([]float64, len(keys))}
	for i := 1; i < len(keys); i++ {
		a, b := keys[i-1], keys[i]
		turn := math.Acos(min(max(a.shaft.dot(b.shaft), -1), 1))
		p.at[i] = p.at[i-1] + max(1e-3, length*turn+b.hands.sub(a.hands).len())
	}
	n := len(p.way) - 1
	last := p.pose(0)
	for i := 1; i <= n; i++ {
		next := p.pose(p.end() * float64(i) / float64(n))
		step := next.head(length).sub(last.head(length)).len() + 0.2*next.hands.sub(last.hands).len()
		p.way[i] = p.way[i-1] + step + 1e-9
		last = next
	}
	total := p.way[n]
	for i := range p.way {
		p.way[i] /= total
	}
	return p
}

func (p *path) end() float64 { return p.at[len(p.at)-1] }

// along is the pose after a share of the head's way.
func (p *path) along(share float64) pose {
	if share <= 0 {
		return p.pose(0)
	}
	n := len(p.way) - 1
	if share >= 1 {
		return p.pose(p.end())
	}
	i := sort.Search(n, func(i int) bool { return p.way[i+1] > share })
	k := (share - p.way[i]) / (p.way[i+1] - p.way[i])
	return p.pose(p.end() * (float64(i) + k) / float64(n))
}

// share is the share of the way at key i.
func (p *path) share(i int) float64 {
	x := p.at[i] / p.end() * float64(len(p.way)-1)
	j := min(int(x), len(p.way)-2)
	return p.way[j] + (p.way[j+1]-p.way[j])*(x-float64(j))
}

// pose is the cubic Hermite spline through the keys, with the shaft made unit
// and the hands softly lifted where the head would go below ground.
func (p *path) pose(q float64) pose {
	i := 0
	for i < len(p.keys)-2 && q > p.at[i+1] {
		i++
	}
	a, b := p.keys[i], p.keys[i+1]
	h := p.at[i+1] - p.at[i]
	t := min(max((q-p.at[i])/h, 0), 1)
	t2, t3 := t*t, t*t*t
	r := a.times(2*t3 - 3*t2 + 1).plus(b.times(3*t2 - 2*t3)).
		plus(p.slope(i).times(h * (t3 - 2*t2 + t))).plus(p.slope(i + 1).times(h * (t3 - t2)))
	r.shaft = r.shaft.unit()
	r.bend, r.reach = min(max(r.bend, 0), 1), min(max(r.reach, 0), 1)
	r.gone, r.stride, r.walk = false, 0, 0
	below := p.ground - (r.hands.z + p.length*r.shaft.z)
	r.hands.z += (below + math.Sqrt(below*below+1e-4)) / 2
	return r
}

// slope is the derivative at key i: the weighted mean of the slopes beside it
// (a parabola through three keys), one-sided at the ends.
func (p *path) slope(i int) pose {
	secant := func(j int) pose {
		return p.keys[j+1].plus(p.keys[j].times(-1)).times(1 / (p.at[j+1] - p.at[j]))
	}
	n := len(p.keys)
	if n == 2 {
		return secant(0)
	}
	if i == 0 || i == n-1 {
		j := min(i, n-2)
		inner := p.slope(min(max(i, 1), n-2))
		return secant(j).times(1.5).plus(inner.times(-0.5))
	}
	l, r := secant(i-1), secant(i)
	hl, hr := p.at[i]-p.at[i-1], p.at[i+1]-p.at[i]
	return l.times(hr / (hl + hr)).plus(r.times(hl / (hl + hr)))
}
