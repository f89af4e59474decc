// Package stage puts the virtual bay before the program as a camera: a drawn player
// who practises in real time and rests after a set, seen by one camera or by two.
package stage

import (
	"math"
	"time"

	"drillbay/camera/virtual"
	"drillbay/drills"
	"drillbay/drills/bay"
	"drillbay/drills/rep"
)

// Drawn is the name of the virtual bay, as a camera and as a bay.
const Drawn = "virtual bay"

// Practice is a virtual bay in which somebody practises for ever: catches
// with the usual faults among them, a waggle, somebody walking by.
func Practice(seed uint64, width, height int, fps float64) virtual.Setup {
	s := virtual.Demo(seed, []virtual.Rung{{Drill: virtual.Catch, Arms: virtual.LeadArm, Reps: 40}})
	for i := range s.Reps {
		// Time to look at the lookback, as a player takes it.
		s.Reps[i].Still, s.Reps[i].Hold = 1.6, 2.2
	}
	s.Scene.PasserBy = false // nobody behind the net, as the cautions say
	s.Name, s.Loop, s.Width, s.Height, s.FPS = Drawn, true, width, height, fps
	return s
}

// DrawnOther is the name of the virtual bay's second camera, which stands where the
// first does not.
const DrawnOther = Drawn + ", other view"

// OtherLate is the delay of the second drawn camera's pictures, s: that of a USB camera with its own processor (common practice).
const OtherLate = 0.06

// OtherView is a drawn bay as its second camera sees it: face-on where the first
// looks down the line, else down the line.
func OtherView(s virtual.Setup) virtual.Setup {
	to := virtual.Default().Camera
	if !s.Camera.FaceOn {
		to = FaceOnCamera()
	}
	to.Late = s.Camera.Late + OtherLate
	s.Name, s.Camera = DrawnOther, to
	return s
}

// FaceOnCamera stands before a drawn player's chest.
func FaceOnCamera() virtual.Camera {
	return virtual.Camera{Distance: 3.4, Height: 0.85, HFOVDeg: 70, FaceOn: true}
}

// Register makes the virtual bay two cameras that come after all real ones, of
// which the second shows the other view. Its player stands still while rests says
// so.
func Register(s virtual.Setup, rests func() bool) (remove func(), err error) {
	st, err := NewScene(s, time.Now, virtual.Sleep, rests)
	if err != nil {
		return nil, err
	}
	var removes []func()
	remove = func() {
		for _, f := range removes {
			f()
		}
	}
	for i, view := range []virtual.Setup{s, OtherView(s)} {
		d, err := virtual.NewDevice(view, st.Camera(0.5*float64(i)))
		if err == nil {
			var one func()
			if one, err = virtual.Register(d); err == nil {
				removes = append(removes, one)
			}
		}
		if err != nil {
			remove()
			return nil, err
		}
	}
	return remove, nil
}

// BayOf is the bay of a virtual setup, measured to perfection.
func BayOf(s virtual.Setup) (bay.Bay, error) {
	if s.Camera.FaceOn {
		n := math.NaN()
		return bay.Bay{Name: Drawn, Distance: s.Camera.Distance, Field: s.Camera.HFOVDeg, Club: s.Club.Length, Grip: s.Club.Grip, Roll: s.Camera.RollDeg,
			Target: drills.Pixel{X: n, Y: n}, Width: s.Width, Height: s.Height, FaceOn: true, Set: true}, nil
	}
	// A small picture has the same target point, and is drawn at once.
	small := s
	small.Width, small.Height = 64, 64
	b, err := virtual.New(small)
	if err != nil {
		return bay.Bay{}, err
	}
	x, y := b.TargetPoint()
	w, h := float64(s.Width), float64(s.Height)
	x, y = w/2+(x-32)*w/64, h/2+(y-32)*w/64
	to := func(u float64) bay.Segment {
		// From the lower edge two thirds of the way to the target point.
		return bay.Segment{A: drills.Pixel{X: u, Y: 0.95 * h}, B: drills.Pixel{X: u + (x-u)*2/3, Y: 0.95*h + (y-0.95*h)*2/3}}
	}
	return bay.Bay{
		Name: Drawn, Distance: s.Camera.Distance, Field: s.Camera.HFOVDeg, Club: s.Club.Length, Grip: s.Club.Grip, Roll: s.Camera.RollDeg,
		Lines: []bay.Segment{to(0.3 * w), to(0.8 * w)}, Target: drills.Pixel{X: x, Y: y}, TargetSd: 1, Width: s.Width, Height: s.Height, Set: true,
	}, nil
}

// KnownOf gives a reading what a perfect set-up of a virtual bay knows.
func KnownOf(s virtual.Setup) (rep.Known, error) {
	b, err := BayOf(s)
	if err != nil {
		return rep.Known{}, err
	}
	return bay.Known(b, 0, 0, s.Width, s.Height)
}
