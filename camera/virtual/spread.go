package virtual

import (
	"math"
	"math/rand/v2"
)

// Spread makes setups of one rep each over the ordinary conditions of a bay:
// distance 2–4 m, lens offset and roll, hand, stature, light, clutter, clubs
// from wedge to driver, hands' travel 0.2–0.45 m, catches from −25° to +20°,
// face rolled ±60°, every manner, at 30 and 60 frames per second. The seed
// picks the conditions; the same seed gives the same setups.
func Spread(seed uint64, n int) []Setup {
	r := rand.New(rand.NewPCG(seed, 0x6261792d31))
	out := make([]Setup, n)
	for i := range out {
		out[i] = spreadOne(r)
		for !inPicture(out[i]) {
			out[i] = spreadOne(r)
		}
		out[i].Seed = seed*1000 + uint64(i)
	}
	return out
}

func spreadOne(r *rand.Rand) Setup {
	between := func(a, b float64) float64 { return a + (b-a)*r.Float64() }
	chance := func(p float64) bool { return r.Float64() < p }
	s := Default()
	s.Width, s.Height = 960, 540
	if chance(0.4) {
		s.Width, s.Height = 1280, 720
	}
	if chance(0.35) {
		s.FPS = 60
	}
	s.Player.Stature = between(1.58, 1.92)
	if chance(0.3) {
		s.Player.Hand = LeftHand
	}
	s.Camera.Distance = between(2.0, 4.0)
	s.Camera.HFOVDeg = between(58, 78)
	s.Camera.Height += between(-0.2, 0.3)
	s.Camera.Lateral += between(-0.2, 0.2)
	s.Camera.YawDeg = between(-3, 3)
	// The lens looks between the hands and the ball, so that both are seen.
	s.Camera.PitchDeg = -math.Atan2(0.38, s.Camera.Distance)*180/math.Pi + between(-2, 2)
	if chance(0.5) {
		s.Camera.RollDeg = between(-3, 3)
	}
	s.Light.Strength = between(0.45, 1.1)
	s.Light.Warmth = between(0.2, 0.9)
	if chance(0.3) {
		s.Light.Kind = Outdoor
	}
	if chance(0.3) {
		s.Light.Flicker, s.Light.Drift = between(0, 0.02), between(0, 0.02)
	}
	s.Scene.Bags = r.IntN(4)
	s.Scene.PasserBy = chance(0.25)
	shade := func() Colour {
		v := between(0.06, 0.75)
		return Colour{v * between(0.7, 1.1), v * between(0.7, 1.1), v * between(0.7, 1.1)}
	}
	s.Player.Shirt, s.Player.Trousers = shade(), shade()
	wall := between(0.2, 0.65)
	s.Scene.Wall = Colour{wall, wall * 1.02, wall * 0.97}
	if chance(0.3) {
		s.Player.Glove = s.Player.Skin // no glove
	}
	clubs := []struct {
		length, lie float64
		wood        bool
	}{{0.889, 64, false}, {0.914, 63, false}, {0.940, 62, false}, {0.965, 61, false}, {1.02, 59, true}, {1.12, 58, true}}
	c := clubs[r.IntN(len(clubs))]
	s.Club.Length, s.Club.LieDeg, s.Club.Wood = c.length, c.lie, c.wood
	s.Club.HeadOffset = between(0.03, 0.04)
	if chance(0.35) {
		s.Club.Shaft, s.Club.Steel = Colour{0.07, 0.07, 0.08}, false
	}
	if chance(0.15) {
		s.Club.Tape = &Colour{0.95, 0.3, 0.02}
	}
	rep := RepSpec{
		ShaftLineDeg: between(-20, 22),
		FaceDeg:      between(-60, 60),
		Still:        between(0.7, 1.1),
		Hold:         between(0.7, 1.2),
	}
	if chance(0.3) {
		rep.ElevationDeg = between(-25, 20)
	}
	travel := between(0.2, 0.45)
	rep.HandsX = 0.02 - travel
	// The higher the hands, the farther they came: an arc of 0.55–0.95 m.
	arc := between(0.55, 0.95)
	rep.HandsDZ = arc - math.Sqrt(arc*arc-travel*travel)
	switch x := r.Float64(); {
	case x < 0.14:
		s.Drill, s.Arms = Ordinary, BothArms
		rep.Back, rep.Down, rep.ElevationDeg = between(0.65, 1.0), between(0.22, 0.34), 0
		s.FPS = 60
	case x < 0.5:
		rep.Manner, rep.Back = Swing, between(0.48, 0.75)
	case x < 0.65:
		rep.Manner, rep.Back = GentleSwing, between(0.9, 1.3)
	case x < 0.76:
		rep.Manner, rep.Back = StopGo, between(1.4, 2.2)
	case x < 0.88:
		rep.Manner, rep.Back = Creep, between(1.2, 2.0)
	default:
		rep.Manner, rep.Back = QuickPlace, between(0.6, 0.9)
	}
	if chance(0.25) && s.Drill != Ordinary {
		s.Arms = BothArms
	}
	if s.Drill != Ordinary && chance(0.1) {
		rep.Forward = -1
	}
	s.Reps = []RepSpec{rep}
	if b, err := New(s); err == nil {
		s.Reps[0].HandsY = b.Truth(0).Hands[1] + between(-0.08, 0.14)
	}
	return s
}

// inPicture reports whether hands and head are seen at address and where the
// club is level or caught: a user would see at once if they were not.
func inPicture(s Setup) bool {
	b, err := New(s)
	if err != nil {
		return false
	}
	e := b.Events()[0]
	stop := e.Catch
	if s.Drill == Ordinary {
		stop = e.Level
	}
	for _, t := range []float64{0.1, stop} {
		truth := b.Truth(t)
		for _, p := range [][2]float64{truth.HandsPX, truth.HeadPX} {
			if p[0] < 0.06*float64(s.Width) || p[0] > 0.94*float64(s.Width) || p[1] < 0.1*float64(s.Height) || p[1] > 0.96*float64(s.Height) {
				return false
			}
		}
	}
	return true
}
