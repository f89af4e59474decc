package main

import (
	"math"
	"math/rand/v2"

	"drillbay/camera/virtual"
)

// reps is how many reps of a bay are learnt from.
const reps = 3

// vary makes a bay look less like others, and gives it more reps, unlike its
// first.
func vary(s *virtual.Setup, r *rand.Rand) {
	between := func(a, b float64) float64 { return a + (b-a)*r.Float64() }
	shade := func(from, to float64) virtual.Colour {
		v := between(from, to)
		return virtual.Colour{v * between(0.8, 1.1), v * between(0.8, 1.1), v * between(0.8, 1.1)}
	}
	// Heads of any shape: beside the axis, as real ones, or about it.
	s.Club.Wood = s.Club.Wood || r.Float64() < 0.45
	if s.Club.HeadOffset = between(0.01, 0.045); r.Float64() < 0.5 {
		s.Club.HeadOffset = between(-0.012, 0.012)
	}
	s.Club.Head = shade(0.05, 0.6)
	s.Club.ShaftMM = between(9, 13)
	s.Player.Skin = shade(0.1, 0.7)
	if r.Float64() < 0.6 {
		s.Player.Glove = shade(0.05, 0.95)
	}
	s.Scene.Wall, s.Scene.Floor = shade(0.05, 0.8), shade(0.1, 0.6)
	s.Scene.Net = r.Float64() < 0.7
	s.Noise = between(0.3, 2)
	s.Shutter = between(0.2, 0.9)
	if r.Float64() < 0.3 && s.Drill == virtual.Catch {
		s.Arms = virtual.BothArms
	}
	if r.Float64() < 0.25 && s.Drill != virtual.Ordinary {
		s.Drill, s.Arms = virtual.Ordinary, virtual.BothArms
		s.Reps[0].Back, s.Reps[0].Down, s.Reps[0].ElevationDeg = between(0.65, 1), between(0.22, 0.34), 0
	}
	if s.Drill == virtual.Ordinary {
		s.FPS = []float64{30, 60}[r.IntN(2)]
	}
	ways := []virtual.RepSpec{
		{Manner: virtual.Swing, Back: 0.6}, {Manner: virtual.GentleSwing, Back: 1.1}, {Manner: virtual.Creep, Back: 1.5}, {Manner: virtual.QuickPlace, Back: 0.7},
	}
	first := s.Reps[0]
	for range reps - 1 {
		x := first
		if s.Drill != virtual.Ordinary {
			w := ways[r.IntN(len(ways))]
			x.Manner, x.Back = w.Manner, w.Back
			x.ElevationDeg = 0
			if r.Float64() < 0.5 {
				x.ElevationDeg = between(-25, 20)
			}
		}
		x.ShaftLineDeg, x.FaceDeg = between(-24, 26), between(-95, 95)
		travel, arc := between(0.2, 0.45), between(0.55, 0.95)
		x.HandsX = 0.02 - travel
		x.HandsDZ = arc - math.Sqrt(arc*arc-travel*travel)
		x.HandsY = first.HandsY + between(-0.12, 0.12)
		s.Reps = append(s.Reps, x)
	}
}
