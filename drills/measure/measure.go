// Package measure is the whole way from frames to reps, without a session:
// the live pass finds a rep, its pictures are looked at, a track is laid
// through what was seen, and the rep is made of it. It serves clips, the live analysis, `drillbay laptop` and tests.
package measure

import (
	"errors"
	"fmt"
	"math"

	"drillbay/camera/lens"
	"drillbay/camera/sight"
	"drillbay/drills"
	"drillbay/drills/rep"
)

// Drill says which kind of rep is looked for.
type Drill string

// Any decides rep by rep.
const (
	Any      Drill = ""
	Catch    Drill = "catch"
	Ordinary Drill = "ordinary"
)

// Bay is what is known of camera, club and player.
type Bay struct {
	Width, Height int
	Field         float64     // horizontal field of view, degrees; 0 unknown
	Distance      float64     // m, lens to hands at address along the target line; 0 unknown
	Target        *lens.Point // px as seen; nil: the picture's centre
	TargetSigma   float64     // px; 0: by whether Target is given
	Roll          float64     // degrees, clockwise seen by the camera
	Club          float64     // m
	Grip          float64     // m, butt to the middle of the lead hand
	Hand          drills.Hand
	Band          float64 // degrees each way; 0: drills.Band
	FaceOn        bool    // the camera is before the player's chest, and Distance and Target are of that: see sight.Front
	Ground        *Ground // a known length on the ground; nil: none
}

// Limits of what is believed.
const (
	ShortestClub, LongestClub = 0.4572, 1.2192 // Equipment Rules, Part 2 §1c
	DefaultClub               = 0.94
	DefaultGrip               = 0.09
)

// ErrBay is wrapped by errors about impossible bays.
var ErrBay = errors.New("the bay cannot be as given")

// Known checks b and works out what the passes need.
func (b Bay) Known() (rep.Known, error) {
	var k rep.Known
	bad := func(format string, args ...any) (rep.Known, error) {
		return k, fmt.Errorf("%w: %s", ErrBay, fmt.Sprintf(format, args...))
	}
	club, grip := or(b.Club, DefaultClub), or(b.Grip, DefaultGrip)
	switch {
	case !(club >= ShortestClub && club <= LongestClub):
		return bad("a club of %.4g m; clubs are %.4g to %.4g m long", club, ShortestClub, LongestClub)
	case !(grip >= 0 && grip <= 0.3):
		return bad("a grip of %.3g m from the butt; 0 to 0.3 is possible", grip)
	case b.Distance != 0 && !(b.Distance >= leastDistance && b.Distance <= mostDistance):
		return bad("a distance of %.3g m; 2 to 4 m are right, %g to %g are taken", b.Distance, leastDistance, mostDistance)
	case b.Field != 0 && !(b.Field >= leastField && b.Field <= mostField):
		return bad("a field of view of %.3g°; %g° to %g° are taken", b.Field, leastField, mostField)
	case b.Band != 0 && !(b.Band > 0 && b.Band <= 45):
		return bad("a band of %.3g°; up to 45° each way", b.Band)
	}
	target := lens.Point{U: float64(b.Width) / 2, V: float64(b.Height) / 2}
	if b.Target != nil {
		target = *b.Target
	}
	k.Target = b.TargetSigma
	if k.Target == 0 {
		k.Target = 0.002 * float64(b.Width)
		if b.Target == nil {
			k.Target = 0.004 * float64(b.Width)
		}
	}
	k.Roll, k.Reach, k.Forward, k.Passing = 0.3, 0.008, 0.06, passing
	told, err := b.onGround(target, k.Target, k.Roll)
	if err != nil {
		return k, fmt.Errorf("%w: %w", ErrBay, err)
	}
	b.Field, b.Distance = told.field, told.distance
	k.FaceOn = b.FaceOn
	k.Scale = b.Field != 0 || b.Distance != 0
	field, distance := or(b.Field, usualField), or(b.Distance, usualDistance)
	view, err := lens.NewView(lens.Camera{
		Width: b.Width, Height: b.Height, Focal: lens.FocalFromField(b.Width, field),
		Target: target, Roll: b.Roll, Left: b.Hand == drills.Left,
	})
	if err != nil {
		return k, fmt.Errorf("%w: %v", ErrBay, err)
	}
	k.Setting = sight.Setting{View: view, Distance: distance, Reach: club - grip, Grip: grip, Front: b.FaceOn}
	k.Band = or(b.Band, drills.Band)
	k.Distance, k.Focal = 0.02*distance, 0.01
	if b.Field == 0 || b.Distance == 0 {
		k.Distance, k.Focal = 0.06*distance, 0.06
	}
	k.Distance, k.Focal = or(told.distanceSigma, k.Distance), or(told.focalSigma, k.Focal)
	return k, nil
}

func or(x, fallback float64) float64 {
	if x == 0 || math.IsNaN(x) {
		return fallback
	}
	return x
}
