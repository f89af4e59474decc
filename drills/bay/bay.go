// Package bay is a camera set-up: where the camera stands, what its lens sees, the
// target point in its picture, and how the camera must be moved so that the hands
// sit on it.
package bay

import (
	"math"

	"drillbay/camera/sight"
	"drillbay/drills"
)

// Segment is a line on the ground along the target line, as drawn in the
// picture, px as seen. Sd is the 1-sigma uncertainty of its ends across it,
// px, when it was found in the picture; 0: it was put there by hand.
type Segment struct {
	A, B drills.Pixel
	Sd   float64 `json:",omitempty"`
}

// Bay is one camera set-up.
type Bay struct {
	Name     string
	Distance float64 // m, lens to hands at address; 0: not given
	Field    float64 // degrees across; 0: not given
	Club     float64 // m
	Grip     float64 // m, lead hand to butt
	Roll     float64 // degrees, clockwise seen by the camera
	RollSd   float64 // degrees, 1 sigma of it; 0: it was not measured
	Lines    []Segment
	Target   drills.Pixel // NaN: not found
	TargetSd float64
	Width    int // of the picture that the points are in, px
	Height   int
	Set      bool   // the lens was set once
	Flipped  bool   // the camera mirrors: a right-hander stands on the right
	Second   string `json:",omitempty"` // the camera that shows the other view, "" for none
	FaceOn   bool   // it stands before the player's chest and looks across the target line
	// Scenery holds pieces of the still background from when the lens was set, to notice
	// later that the camera was moved; nil: the lines are newer than it.
	Scenery *sight.Scenery `json:",omitempty"`
}

// Target is the point at which lines meet.
type Target struct {
	drills.Pixel
	Sd float64 // 1 sigma across, px
}

// Level is the roll of a camera that looks across the target line, degrees clockwise
// as it sees, to ± Sd (1 sigma), by lines on the ground that run across its picture.
type Level struct {
	Lines    []Segment
	Roll, Sd float64
}

// Offset says how far to move the camera so that the hands sit on the target point, and
// what that does to the reading. Up is + raise, Near is + nearer the ball, both cm, each to
// ± Cm (1 sigma); Angle is the whole of it at the lens, degrees, 0 when it is not known.
// The other sigmas are degrees of shaft line, NaN when they are not known.
type Offset struct {
	UpCm, NearCm, Cm     float64
	Angle                float64
	SigmaNow, SigmaThere float64
}

// goodEnough is the offset in cm under which the camera need not move: the
// reading stays true anyway, relative to the target point.
const goodEnough = 3.0

// goodAngle is the offset in degrees under which the camera stands well.
const goodAngle = 2.0

// Good reports whether the camera stands well: it may stay, though a smaller
// offset makes readings surer still.
func (o Offset) Good() bool {
	up, near := o.Moves()
	return up == 0 && near == 0 || o.Angle > 0 && o.Angle < goodAngle
}

// Moves are the corrections that are worth making, cm, 0 where it is good
// enough: + up, + nearer the ball.
func (o Offset) Moves() (up, near float64) {
	if math.Abs(o.UpCm) >= goodEnough {
		up = o.UpCm
	}
	if math.Abs(o.NearCm) >= goodEnough {
		near = o.NearCm
	}
	return up, near
}

// Side is the hand that the picture shows: in a flipped one a right-hander
// stands where left-handers do.
func (b Bay) Side(h drills.Hand) drills.Hand {
	if b.Flipped {
		return drills.Left - h
	}
	return h
}

// HasTarget reports whether the bay has a target point: face-on it needs none.
func (b Bay) HasTarget() bool {
	return !b.FaceOn && b.Width > 0 && !math.IsNaN(b.Target.X) && !math.IsNaN(b.Target.Y)
}

// FaceOffset says how to move a camera before the player's chest: AlongCm along the target
// line, + toward the target, to ± Cm; BackCm farther away from the player, − where there is
// room to spare.
type FaceOffset struct{ AlongCm, Cm, BackCm float64 }

// Under these the camera stands well, cm.
const (
	alongGood = 15.0
	backGood  = 5.0
)

// Good reports whether the camera stands well.
func (o FaceOffset) Good() bool { return math.Abs(o.AlongCm) < alongGood && o.BackCm < backGood }

// Moves are the corrections that are worth making, cm, 0 where it is good enough:
// away from the player, and along the target line, + toward the target.
func (o FaceOffset) Moves() (back, along float64) {
	if o.BackCm >= backGood {
		back = o.BackCm
	}
	if math.Abs(o.AlongCm) >= alongGood {
		along = o.AlongCm
	}
	return back, along
}

// TargetIn is the bay's target point in a picture of a size, NaN when it is not
// found.
func (b Bay) TargetIn(width, height int) drills.Pixel {
	if !b.HasTarget() || b.Height == 0 {
		return drills.Pixel{X: math.NaN(), Y: math.NaN()}
	}
	return drills.Pixel{X: b.Target.X * float64(width) / float64(b.Width), Y: b.Target.Y * float64(height) / float64(b.Height)}
}
