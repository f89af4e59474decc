package watch

import (
	"math"
	"sync"

	"drillbay/camera/eye"
	"drillbay/camera/sight"
	"drillbay/drills"
)

const (
	seenKept = 128 // looks: those of the latest look-up picture are among them
	// A look is that of a picture at most so long before or after it, s.
	seenNear = 0.3
)

// Sightings are the looks of the last seconds, for what is drawn over the live
// picture. The eye adds to them, the window asks.
type Sightings struct {
	mu  sync.Mutex
	all [seenKept]Seen
	n   int // how many there were
	// When player, hands and head were surely seen last, s; NaN without a
	// player.
	hands, head float64
}

// take adds a look.
func (s *Sightings) take(l sight.Look) {
	s.mu.Lock()
	defer s.mu.Unlock()
	one := Seen{At: l.At, Hands: spotOf(l.Places[eye.Hands]), Head: spotOf(l.Places[eye.Head]), Ball: spotOf(l.Places[eye.Ball])}
	a, b := spotOf(l.Places[eye.LeftHip]), spotOf(l.Places[eye.RightHip])
	one.Hips = Spot{Pixel: drills.Pixel{X: (a.X + b.X) / 2, Y: (a.Y + b.Y) / 2}, SdX: (a.SdX + b.SdX) / 2, SdY: (a.SdY + b.SdY) / 2, Chance: min(a.Chance, b.Chance)}
	if l.Places == [eye.Points]eye.Place{} {
		s.hands, s.head = math.NaN(), math.NaN()
	} else {
		one.Player = true
		one.Hands.Lost, s.hands = lost(one.Hands, s.hands, l.At)
		one.Head.Lost, s.head = lost(one.Head, s.head, l.At)
	}
	s.all[s.n%seenKept] = one
	s.n++
}

// lost is for how long a spot was not surely seen, and when it was last.
func lost(spot Spot, last, now float64) (long, at float64) {
	if spot.Sure() || math.IsNaN(last) || now < last {
		return 0, now
	}
	return now - last, last
}

func spotOf(p eye.Place) Spot {
	return Spot{Pixel: drills.Pixel{X: p.U, Y: p.V}, SdX: math.Sqrt(p.UU), SdY: math.Sqrt(p.VV), Chance: p.Here * p.Seen}
}

// Near is the look nearest to a time, s; false when there is none.
func (s *Sightings) Near(at float64) (Seen, bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	best, off := -1, seenNear
	for i := s.n - 1; i >= max(0, s.n-seenKept); i-- {
		d := math.Abs(s.all[i%seenKept].At - at)
		if d > off && s.all[i%seenKept].At < at {
			break
		}
		if d <= off {
			best, off = i%seenKept, d
		}
	}
	if best < 0 {
		return Seen{}, false
	}
	return s.all[best], true
}

// Looks returns the number of looks so far.
func (s *Sightings) Looks() int {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.n
}
