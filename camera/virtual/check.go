package virtual

import (
	"fmt"
	"math"
)

// check says what in the setup is out of its range.
func (s *Setup) check() error {
	within := []struct {
		name   string
		v      float64
		lo, hi float64
	}{
		{"width", float64(s.Width), 64, 4096}, {"height", float64(s.Height), 64, 4096},
		{"frame rate", s.FPS, 1, 480},
		{"camera distance", s.Camera.Distance, 1, 12}, {"camera height", s.Camera.Height, 0.05, 2.9},
		{"camera lateral", s.Camera.Lateral, -2.5, 3.2}, {"field of view", s.Camera.HFOVDeg, 10, 150},
		{"camera yaw", s.Camera.YawDeg, -60, 60}, {"camera pitch", s.Camera.PitchDeg, -60, 60},
		{"camera roll", s.Camera.RollDeg, -45, 45}, {"camera late", s.Camera.Late, 0, 1},
		{"light strength", s.Light.Strength, 0.05, 4}, {"warmth", s.Light.Warmth, 0, 1},
		{"flicker", s.Light.Flicker, 0, 0.9}, {"drift", s.Light.Drift, 0, 0.9},
		{"stature", s.Player.Stature, 1.0, 2.3}, {"stance", s.Player.Stance, -0.3, 0.3}, {"sway", s.Player.Sway, 0, 0.1}, {"tremor", s.Player.Tremor, 0, 5},
		// Equipment Rules (R&A / USGA): 18 to 48 in.
		{"club length", s.Club.Length, 0.4572, 1.2192},
		{"grip", s.Club.Grip, 0.01, 0.25}, {"lie", s.Club.LieDeg, 45, 80},
		{"shaft diameter", s.Club.ShaftMM, 2, 30}, {"head offset", s.Club.HeadOffset, -0.05, 0.08},
		{"bags", float64(s.Scene.Bags), 0, 4}, {"tail", s.Tail, 0, 600},
		{"noise", s.Noise, 0, 20}, {"shutter", s.Shutter, 0, 1}, {"samples", float64(s.Samples), 1, 64},
	}
	for i, r := range s.Reps {
		n := fmt.Sprintf("rep %d: ", i+1)
		within = append(within, []struct {
			name   string
			v      float64
			lo, hi float64
		}{
			{n + "shaft line", r.ShaftLineDeg, -80, 80}, {n + "elevation", r.ElevationDeg, -45, 45},
			{n + "hands x", r.HandsX, -0.8, 0.5}, {n + "hands y", r.HandsY, -0.3, 1.2},
			{n + "hands dz", r.HandsDZ, -0.3, 0.8}, {n + "face", r.FaceDeg, -120, 120},
			{n + "forward", r.Forward, -1e9, 10}, {n + "back", r.Back, 0, 20}, {n + "hold", r.Hold, 0, 600},
			{n + "still", r.Still, 0, 600}, {n + "down", r.Down, 0, 5},
		}...)
		switch r.Manner {
		case "", Swing, GentleSwing, StopGo, Creep, QuickPlace:
		default:
			return fmt.Errorf("virtual bay: rep %d: manner %q is not known", i+1, r.Manner)
		}
		switch r.Course {
		case "", CutShort, Driven, RunsOut:
		default:
			return fmt.Errorf("virtual bay: rep %d: course %q is not known", i+1, r.Course)
		}
		if r.Drill != "" && !r.Drill.known() {
			return fmt.Errorf("virtual bay: rep %d: drill %q is not known", i+1, r.Drill)
		}
		if r.Arms != "" && r.Arms != LeadArm && r.Arms != BothArms {
			return fmt.Errorf("virtual bay: rep %d: arms %q is neither lead nor both", i+1, r.Arms)
		}
		for _, what := range r.Before {
			switch what {
			case Waggle, TeeUp, WalkIn, Away, Hang, Stand:
			default:
				return fmt.Errorf("virtual bay: rep %d: interlude %q is not known", i+1, what)
			}
		}
	}
	for _, f := range within {
		if math.IsNaN(f.v) || f.v < f.lo || f.v > f.hi {
			return fmt.Errorf("virtual bay: %s %g is not within %g … %g", f.name, f.v, f.lo, f.hi)
		}
	}
	switch {
	case s.Width%2 != 0 || s.Height%2 != 0:
		return fmt.Errorf("virtual bay: size %d × %d is not even", s.Width, s.Height)
	case s.Player.Hand != RightHand && s.Player.Hand != LeftHand:
		return fmt.Errorf("virtual bay: hand %q is neither right nor left", s.Player.Hand)
	case s.Light.Kind != Indoor && s.Light.Kind != Outdoor:
		return fmt.Errorf("virtual bay: light %q is neither indoor nor outdoor", s.Light.Kind)
	case s.Arms != LeadArm && s.Arms != BothArms:
		return fmt.Errorf("virtual bay: arms %q is neither lead nor both", s.Arms)
	}
	if !s.Drill.known() {
		return fmt.Errorf("virtual bay: drill %q is not known", s.Drill)
	}
	return nil
}

func (d Drill) known() bool {
	return d == Catch || d == CatchTurnStrike || d == Ordinary || d == FreeReturn
}
