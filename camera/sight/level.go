package sight

import (
	"math"

	"drillbay/camera/lens"
)

// Measure is a number read off the track with its 1-sigma uncertainty.
type Measure struct{ Value, Sigma float64 }

// Reading is what the track tells of one moment: shaft line and elevation in
// degrees, and how far inside and above of where they were at address the
// hands are, m.
type Reading struct {
	Line, Lift    Measure
	Inside, Above Measure
}

// between is a time between two poses: the share of the later one.
type between struct {
	i     int // the earlier pose
	share float64
}

// Held is the reading of the hold.
func (m *Motion) Held() Reading {
	r := m.reading(between{m.Hold, 0}, false)
	r.Line.Sigma = math.Hypot(r.Line.Sigma, aside/m.fit.reach()*180/math.Pi)
	return r
}

// AtLevel is the reading where the shaft is level at a time that Times gives.
func (m *Motion) AtLevel(at float64) Reading { return m.reading(m.find(at), true) }

// At is the reading at any time within the track.
func (m *Motion) At(at float64) Reading { return m.reading(m.find(at), false) }

func (m *Motion) find(at float64) between {
	for i := 1; i < len(m.Poses); i++ {
		if a, b := m.Poses[i-1].At, m.Poses[i].At; at <= b {
			return between{i - 1, max(0, (at-a)/(b-a))}
		}
	}
	return between{len(m.Poses) - 1, 0}
}

// reading reads the track between two poses. With level, the moment is where
// the elevation is 0: its error moves the shaft line as well.
func (m *Motion) reading(b between, level bool) Reading {
	p := &m.Poses[b.i]
	q := p
	if b.share > 0 {
		q = &m.Poses[b.i+1]
	}
	shaft := m.shaft(b)
	line, lift := lens.Angles(lens.Vec{}, shaft)
	turn := math.Remainder(q.Line-p.Line, 360)
	var of, up []combination
	add := func(node int, s lens.Vec, share, late float64) {
		l, e := gradients(s)
		for k := range 2 {
			of = append(of, combination{node, 3 + k, share*l[k] + late*e[k]})
			up = append(up, combination{node, 3 + k, share * e[k]})
		}
	}
	// How late the level comes by each pose's elevation, in shares of the step.
	var lateP, lateQ float64
	if rise := q.Lift - p.Lift; level && q != p && math.Abs(rise) > 1e-6 {
		lateP, lateQ = -(1-b.share)/rise*turn, -b.share/rise*turn
	}
	add(b.i, p.Shaft, 1-b.share, lateP)
	if q != p {
		add(b.i+1, q.Shaft, b.share, lateQ)
	}
	r := Reading{Line: Measure{line, m.sigma(of...)}, Lift: Measure{lift, m.sigma(up...)}}
	home := m.Poses[m.Address].Hands
	hands := p.Hands.Mul(1 - b.share).Add(q.Hands.Mul(b.share))
	side := func(axis int) float64 {
		c := []combination{{m.Address, axis, -1}, {b.i, axis, 1 - b.share}}
		if q != p {
			c = append(c, combination{b.i + 1, axis, b.share})
		}
		return m.sigma(c...)
	}
	r.Inside = Measure{hands.Y - home.Y, side(1)}
	r.Above = Measure{hands.Z - home.Z, side(2)}
	return r
}

// shaft is the direction of the club between two poses, on the curve through
// the poses about (cubic, by their mean slopes).
func (m *Motion) shaft(b between) lens.Vec {
	p := m.Poses[b.i]
	if b.share == 0 {
		return p.Shaft
	}
	q := m.Poses[b.i+1]
	h := q.At - p.At
	step := q.Shaft.Sub(p.Shaft).Mul(1 / h)
	before, after := step, step
	if b.i > 0 {
		o := m.Poses[b.i-1]
		before = mean2(p.Shaft.Sub(o.Shaft).Mul(1/(p.At-o.At)), step, p.At-o.At, h)
	}
	if b.i+2 < len(m.Poses) {
		o := m.Poses[b.i+2]
		after = mean2(step, o.Shaft.Sub(q.Shaft).Mul(1/(o.At-q.At)), h, o.At-q.At)
	}
	t := b.share
	t2, t3 := t*t, t*t*t
	return p.Shaft.Mul(2*t3 - 3*t2 + 1).Add(q.Shaft.Mul(3*t2 - 2*t3)).
		Add(before.Mul(h * (t3 - 2*t2 + t))).Add(after.Mul(h * (t3 - t2))).Unit()
}

// mean2 is the slope at a point between two steps: the shorter tells more.
func mean2(a, b lens.Vec, ha, hb float64) lens.Vec {
	return a.Mul(hb / (ha + hb)).Add(b.Mul(ha / (ha + hb)))
}

// rising is when the shaft is first level on its way up between two poses, by
// halving; NaN when it is not.
func (m *Motion) rising(from, to int) float64 {
	for i := max(from, 1); i <= to; i++ {
		if m.Poses[i-1].Lift >= 0 || m.Poses[i].Lift < 0 {
			continue
		}
		lo, hi := 0.0, 1.0
		for range 30 {
			if mid := (lo + hi) / 2; m.shaft(between{i - 1, mid}).Z < 0 {
				lo = mid
			} else {
				hi = mid
			}
		}
		return m.Poses[i-1].At + hi*(m.Poses[i].At-m.Poses[i-1].At)
	}
	return math.NaN()
}

// Seen is where hands and head are at a time, px of the analysed picture.
func (m *Motion) Seen(at float64) (hands, head lens.Point) {
	b := m.find(at)
	p := &m.Poses[b.i]
	where := p.Hands
	if b.share > 0 {
		where = p.Hands.Mul(1 - b.share).Add(m.Poses[b.i+1].Hands.Mul(b.share))
	}
	v := m.fit.view()
	hands, _ = v.Project(where)
	head, _ = v.Project(where.Add(m.shaft(b).Mul(m.fit.reach())))
	return hands, head
}

// Flatness is how fast the shaft line turns at a time against how fast the shaft
// rises: in a level shaft's plane of swing, the cotangent of the plane's
// inclination to the ground.
func (m *Motion) Flatness(at float64) float64 {
	i := min(m.find(at).i, len(m.Poses)-2)
	p, q := m.Poses[i], m.Poses[i+1]
	return math.Abs(math.Remainder(q.Line-p.Line, 360) / (q.Lift - p.Lift))
}

// SeenNear is how many looks before and after a time showed the head of the
// club, and are believed, while the shaft was within so many degrees of its
// elevation then.
func (m *Motion) SeenNear(at, within float64) (before, after int) {
	b := m.find(at)
	_, lift := lens.Angles(lens.Vec{}, m.shaft(b))
	for i, p := range m.Poses {
		if math.Abs(p.Lift-lift) > within || math.Abs(p.At-at) >= 0.2 || !m.fit.nodes[i].of[headAt].ok || m.fit.nodes[i].weight[headAt] <= believed {
			continue
		}
		if p.At < at {
			before++
		} else {
			after++
		}
	}
	return before, after
}
