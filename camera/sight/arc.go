package sight

import (
	"math"
	"slices"

	"drillbay/camera/lens"
)

// Arcs are how far the club has swung about the hands from address at each
// pose, degrees, + back, seen along the line about which it swings back.
func (m *Motion) Arcs() []float64 {
	s0 := m.Poses[m.Address].Shaft
	back := lens.Vec{X: -1}
	back = back.Sub(s0.Mul(back.Dot(s0))).Unit()
	arc := make([]float64, len(m.Poses))
	for i, p := range m.Poses {
		arc[i] = math.Atan2(p.Shaft.Dot(back), p.Shaft.Dot(s0)) * 180 / math.Pi
		if i > 0 {
			arc[i] = arc[i-1] + math.Remainder(arc[i]-arc[i-1], 360)
		}
	}
	if m.Hold >= 0 {
		unfold(arc[m.Address : m.Hold+1])
	}
	return arc
}

// unfold corrects the arcs of a forward swing that was taken for a backward one.
// From behind, the two look alike where the hands move little. But the club then
// passes its place at address and goes on, which tells them apart.
func unfold(arc []float64) {
	high, top, low := 0, 0, 0
	for i := range arc {
		if arc[i] > arc[high] {
			high = i
		}
		if arc[high]-arc[i] > arc[top]-arc[low] {
			top, low = high, i
		}
	}
	fall := arc[top] - arc[low]
	if fall < foldedBy || arc[low] > foldedTo || arc[len(arc)-1]-arc[low] < goesBack || slices.Min(arc) < -forwardArc {
		return
	}
	forward, by := -arc[top], arc[low]
	for i := range arc[:low] {
		if i <= top {
			arc[i] = -arc[i]
		} else {
			arc[i] = forward + (by-forward)*(-forward-arc[i])/fall
		}
	}
}

// way is how far the head of one pose is from that of another, m. How far the
// hands have come toward the lens is hardly seen, and left out.
func (m *Motion) way(p, q *Pose) float64 {
	d := q.Head.Sub(p.Head)
	d.X -= q.Hands.X - p.Hands.X
	return d.Len()
}

// Speed is the head's about pose i, m/s.
func (m *Motion) Speed(i int) float64 {
	j, k := i, i
	for j > 0 && m.Poses[i].At-m.Poses[j].At < speedOver-1e-6 {
		j--
	}
	for k < len(m.Poses)-1 && m.Poses[k].At-m.Poses[i].At < speedOver-1e-6 {
		k++
	}
	if j == k {
		return 0
	}
	return m.way(&m.Poses[j], &m.Poses[k]) / (m.Poses[k].At - m.Poses[j].At)
}

// Fastest is the head's greatest speed between two poses, m/s.
func (m *Motion) Fastest(from, to int) (v float64) {
	for i := from; i <= to; i++ {
		v = max(v, m.Speed(i))
	}
	return v
}
