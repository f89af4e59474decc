package sight_test

import (
	"math"
	"math/rand/v2"

	"drillbay/camera/eye"
	"drillbay/camera/lens"
	"drillbay/camera/sight"
	"drillbay/camera/virtual"
)

// noise is how wrong an eye is, in m at the point's distance: it says so
// itself. A part of it lasts while the club rests or goes on.
type noise struct {
	hands, head, body float64
	lasting           float64 // share of the variance that lasts
	outliers          float64 // share of points that are anywhere
	missing           float64 // share of looks that see no club, in stretches
	endOn             float64 // by how much worse the head is end-on
}

func usualNoise() noise {
	return noise{hands: 0.010, head: 0.010, body: 0.015, lasting: 0.85, outliers: 0.02, missing: 0.03, endOn: 3}
}

// slow is noise that goes over into other noise within a tenth of a second,
// unless nothing moves.
type slow struct{ u, v float64 }

// looksOf are what an eye with that noise sees of a bay's first rep.
func looksOf(b *virtual.Bay, n noise, from, to float64, r *rand.Rand) (looks []sight.Look) {
	s := b.Setup()
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
			a, c := math.Sqrt(n.lasting), math.Sqrt(1-n.lasting)
			place := eye.Place{U: px[0] + k*(a*q.u+c*r.NormFloat64()), V: px[1] + k*(a*q.v+c*r.NormFloat64()), UU: k * k, VV: k * k, Here: 0.97, Seen: 0.9}
			if r.Float64() < n.outliers {
				place.U += b.Focal() / depth * 0.4 * r.NormFloat64()
				place.V += b.Focal() / depth * 0.4 * r.NormFloat64()
			}
			if club && gone > 0 {
				place.Here = 0.1
			}
			l.Places[p] = place
		}
		if gone--; gone < -1 && r.Float64() < n.missing/3 {
			gone = 1 + r.IntN(5)
		}
		along := func(d float64) (at [3]float64) {
			for i := range at {
				at[i] = w.Hands[i] + (w.Head[i]-w.Hands[i])/b.HandsToHead()*d
			}
			return at
		}
		head := n.head
		m := b.Focal() / w.HandsDistance
		if short := math.Hypot(w.HeadPX[0]-w.HandsPX[0], w.HeadPX[1]-w.HandsPX[1]) / m; short < 0.25 {
			head *= 1 + (n.endOn-1)*(1-short/0.25)
		}
		see(eye.GripEnd, along(-s.Club.Grip), n.hands, true)
		see(eye.Hands, w.Hands, n.hands, true)
		see(eye.ShaftEnd, along(b.HandsToHead()-0.055), head, true)
		see(eye.Head, w.Head, head, true)
		pairs := []struct {
			p    eye.Point
			l, t [3]float64
		}{{eye.LeftShoulder, j.LeadShoulder, j.TrailShoulder}, {eye.LeftElbow, j.LeadElbow, j.TrailElbow}, {eye.LeftWrist, j.LeadWrist, j.TrailWrist}}
		for _, x := range pairs {
			lead, trail := x.p, x.p.Mirrored()
			if s.Player.Hand == virtual.LeftHand {
				lead, trail = trail, lead
			}
			see(lead, x.l, n.body, false)
			see(trail, x.t, n.body, false)
		}
		see(eye.Crown, j.Crown, n.body, false)
		see(eye.Neck, j.Neck, n.body, false)
		looks = append(looks, l)
	}
	return looks
}

func sq(x float64) float64 { return x * x }

// told is a setting as a user gives it: distance to 3 %, target point to 3 px,
// field of view and roll in whole degrees.
func toldSetting(b *virtual.Bay, r *rand.Rand) (sight.Setting, sight.Doubt) {
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
