package virtual

// Rung is a run of reps of one drill in a demo.
type Rung struct {
	Drill  Drill
	Arms   Arms
	Manner Manner // of the reps that are swung; default Swing
	Reps   int
}

// DemoRungs are three rungs for a demo, reps reps each: gentle catches with
// the lead arm, catches at full speed, and ordinary swings.
func DemoRungs(reps int) []Rung {
	return []Rung{
		{Drill: Catch, Arms: LeadArm, Manner: GentleSwing, Reps: reps},
		{Drill: Catch, Arms: LeadArm, Reps: reps},
		{Drill: Ordinary, Arms: BothArms, Reps: reps},
	}
}

// Demo is a bay where a learner practises the rungs: most reps in line, the
// usual faults among them (inside with deep hands, outside, stopped short,
// placed), and a waggle, a ball teed up and somebody passing by.
func Demo(seed uint64, rungs []Rung) Setup {
	s := Default()
	s.Seed, s.Scene.PasserBy, s.Scene.Ball = seed, true, false
	rnd := newRandom(seed, 21)
	for _, rung := range rungs {
		for i := range rung.Reps {
			r := RepSpec{Drill: rung.Drill, Arms: rung.Arms, Manner: rung.Manner, Still: 1.2, Hold: 1.6}
			home := newKeyPoses(&s, rung.Arms).address.hands
			r.HandsX = home.x - rnd.between(0.28, 0.42)
			r.HandsY = home.y + rnd.between(-0.01, 0.05)
			r.FaceDeg = 12 * rnd.normal()
			r.ShaftLineDeg = 3 * rnd.normal()
			if rung.Drill != Ordinary {
				r.ElevationDeg = 3 * rnd.normal()
			}
			// The first two of a rung show a good rep and a miss.
			switch k := rnd.float(); {
			case i == 0:
			case i == 1 || k < 0.18:
				r.ShaftLineDeg, r.HandsY = rnd.between(13, 20), home.y+rnd.between(0.09, 0.13)
			case k < 0.30:
				r.ShaftLineDeg, r.HandsY = -rnd.between(12, 18), home.y-rnd.between(0.03, 0.06)
			case k < 0.40 && rung.Drill != Ordinary:
				r.ElevationDeg = -rnd.between(17, 24)
			case k < 0.60 && rung.Drill != Ordinary:
				r.Manner = [3]Manner{StopGo, Creep, QuickPlace}[int(rnd.float()*2.999)]
			}
			switch {
			case len(s.Reps) == 0:
				r.Before = []Interlude{WalkIn}
			case rung.Drill == Ordinary || rung.Drill == CatchTurnStrike:
				r.Before = []Interlude{Waggle}
				if i == 0 {
					r.Before = []Interlude{TeeUp, Waggle}
				}
			case rnd.float() < 0.3:
				r.Before = []Interlude{Waggle}
			}
			s.Reps = append(s.Reps, r)
		}
	}
	return s
}
