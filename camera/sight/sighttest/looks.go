// Package sighttest makes looks at a drawn bay as an eye has them that errs by a known
// amount: what the track is tested on, and what learns from many reps.
package sighttest

import (
	"math"
	"math/rand/v2"

	"drillbay/camera/eye"
	"drillbay/camera/lens"
	"drillbay/camera/sight"
	"drillbay/camera/virtual"
)

// Noise is how wrong an eye is. It says so itself.
type Noise struct {
	// 1-sigma errors of hands, head and body, m at the point's distance.
	Hands, Head, Body float64
	Lasting           float64 // share of the variance that lasts while the club rests or goes on
	Outliers          float64 // share of points that are anywhere
	Missing           float64 // share of looks that see no club, in stretches
	EndOn             float64 // by how much worse the head is where the club points at the lens
	Lost              float64 // share of looks that lose the head there, before the catch
	Late              float64 // by how much the head is elsewhere at most when the club is caught, m
	Settle            float64 // for how long after the catch, s
	Behind            float64 // by how much the head's place lags shortly before the catch, s
}

// Usual is how wrong the eye is on drawn and rendered reps.
func Usual() Noise {
	return Noise{Hands: 0.010, Head: 0.010, Body: 0.015, Lasting: 0.85, Outliers: 0.02, Missing: 0.03, EndOn: 3}
}

// Unfamiliar is how wrong it is on pictures of a kind that it does not know: a draw
// from ranges that hold what was seen of such.
func Unfamiliar(r *rand.Rand) Noise {
	between := func(a, b float64) float64 { return a + (b-a)*r.Float64() }
	n := Noise{Hands: between(0.006, 0.02), Head: between(0.006, 0.02), Body: 0.015, Lasting: between(0.4, 0.9),
		Outliers: between(0, 0.05), Missing: between(0.01, 0.1), EndOn: between(1.5, 5)}
	if r.Float64() < 0.6 {
		n.Lost = between(0.1, 0.9)
	}
	if r.Float64() < 0.6 {
		n.Late, n.Settle = between(0.02, 0.2), between(-0.05, 0.15)
	}
	if r.Float64() < 0.4 {
		n.Behind = between(0.01, 0.08)
	}
	return n
}

// slow is noise that goes over into other noise within a tenth of a second,
// unless nothing moves.
type slow struct{ u, v float64 }

// Looks are what an eye with that noise sees of a bay's first rep, from a time to
// another, s.
func Looks(b *virtual.Bay, n Noise, from, to float64, r *rand.Rand) (looks []sight.Look) {
	s, e := b.Setup(), b.Events()[0]
	var last [eye.Points]slow
	for i := range last {
		last[i] = slow{u: r.NormFloat64(), v: r.NormFloat64()}
	}
	gone := 0
	var before [3]float64
	for i := int(math.Ceil(from * s.FPS)); float64(i) <= to*s.FPS && i < b.Frames(); i++ {
		t := float64(i) / s.FPS
		w, j := b.Truth(t), b.Joints(t)
		moved := 0.0
		for k := range before {
			moved += sq(w.Head[k] - before[k])
		}
		before = w.Head
		keep := math.Exp(-math.Sqrt(moved) / 0.3)
		l := sight.Look{At: t}
		see := func(p eye.Point, at [3]float64, sigma float64, club bool) {
			px, depth := b.See(at)
			k := b.Focal() / depth * sigma
			q := &last[p]
			q.u = keep*q.u + math.Sqrt(1-keep*keep)*r.NormFloat64()
			q.v = keep*q.v + math.Sqrt(1-keep*keep)*r.NormFloat64()
			a, c := math.Sqrt(n.Lasting), math.Sqrt(1-n.Lasting)
			place := eye.Place{U: px[0] + k*(a*q.u+c*r.NormFloat64()), V: px[1] + k*(a*q.v+c*r.NormFloat64()), UU: k * k, VV: k * k, Here: 0.97, Seen: 0.9}
			if r.Float64() < n.Outliers {
				place.U += b.Focal() / depth * 0.4 * r.NormFloat64()
				place.V += b.Focal() / depth * 0.4 * r.NormFloat64()
			}
			if club && gone > 0 {
				place.Here = 0.1
			}
			l.Places[p] = place
		}
		if gone--; gone < -1 && r.Float64() < n.Missing/3 {
			gone = 1 + r.IntN(5)
		}
		along := func(d float64) (at [3]float64) {
			for i := range at {
				at[i] = w.Hands[i] + (w.Head[i]-w.Hands[i])/b.HandsToHead()*d
			}
			return at
		}
		head := n.Head
		m := b.Focal() / w.HandsDistance
		short := math.Hypot(w.HeadPX[0]-w.HandsPX[0], w.HeadPX[1]-w.HandsPX[1]) / m
		if short < 0.25 {
			head *= 1 + (n.EndOn-1)*(1-short/0.25)
		}
		see(eye.GripEnd, along(-s.Club.Grip), n.Hands, true)
		see(eye.Hands, w.Hands, n.Hands, true)
		see(eye.ShaftEnd, along(b.HandsToHead()-0.055), head, true)
		seen := w.Head
		if n.Behind > 0 && t > e.BackStart && t < e.Catch {
			seen = b.Truth(t - n.Behind*math.Exp(-(e.Catch-t)/0.1)).Head
		}
		see(eye.Head, seen, head, true)
		if stop := e.Catch; !math.IsNaN(stop) && t > e.BackStart {
			if n.Lost > 0 && (t < stop && short < 0.35 && r.Float64() < n.Lost || t >= stop && r.Float64() < 0.3*n.Lost) {
				l.Places[eye.Head].Here, l.Places[eye.ShaftEnd].Here = 0.15, 0.15
			}
			if t > stop-0.16 && t < stop+n.Settle && n.Late > 0 && r.Float64() < 0.6 {
				way, d, p := 2*math.Pi*r.Float64(), m*n.Late*r.Float64(), &l.Places[eye.Head]
				p.U, p.V = p.U+d*math.Cos(way), p.V+d*math.Sin(way)
				p.UU, p.VV = p.UU+sq(0.4*m*n.Late), p.VV+sq(0.4*m*n.Late)
			}
		}
		pairs := []struct {
			p    eye.Point
			l, t [3]float64
		}{{eye.LeftShoulder, j.LeadShoulder, j.TrailShoulder}, {eye.LeftElbow, j.LeadElbow, j.TrailElbow}, {eye.LeftWrist, j.LeadWrist, j.TrailWrist}}
		for _, x := range pairs {
			lead, trail := x.p, x.p.Mirrored()
			if s.Player.Hand == virtual.LeftHand {
				lead, trail = trail, lead
			}
			see(lead, x.l, n.Body, false)
			see(trail, x.t, n.Body, false)
		}
		see(eye.Crown, j.Crown, n.Body, false)
		see(eye.Neck, j.Neck, n.Body, false)
		looks = append(looks, l)
	}
	return looks
}

func sq(x float64) float64 { return x * x }

// Told is a setting as a user gives it: distance to 3 %, target point to 3 px,
// field of view and roll in whole degrees.
func Told(b *virtual.Bay, r *rand.Rand) (sight.Setting, sight.Doubt) {
	s := b.Setup()
	u, v := b.TargetPoint()
	even := func(most float64) float64 { return most * (2*r.Float64() - 1) }
	field := math.Round(s.Camera.HFOVDeg)
	view, err := lens.NewView(lens.Camera{Width: s.Width, Height: s.Height, Focal: lens.FocalFromField(s.Width, field),
		Target: lens.Point{U: u + even(3), V: v + even(3)}, Roll: math.Round(s.Camera.RollDeg), Left: s.Player.Hand == virtual.LeftHand})
	if err != nil {
		panic(err)
	}
	d := s.Camera.Distance * (1 + even(0.03))
	return sight.Setting{View: view, Distance: d, Reach: b.HandsToHead(), Grip: s.Club.Grip},
		sight.Doubt{Distance: 0.02 * d, Reach: 0.008, Target: 0.002 * float64(s.Width), Roll: 0.3, Focal: 0.007}
}
