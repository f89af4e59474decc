package app

import (
	"fmt"
	"math"
	"strings"

	"drillbay/camera/sight"
	"drillbay/drills"
)

// Point is a place in the picture, px as seen.
type Point struct{ X, Y float64 }

// Segment is a line on the ground along the target line, as drawn in the
// picture, px as seen. Sd is the 1-sigma uncertainty of its ends across it,
// px, when it was found in the picture; 0: it was put there by hand.
type Segment struct {
	A, B Point
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
	Target   Point // NaN: not found
	TargetSd float64
	Width    int // of the picture that the points are in, px
	Height   int
	Set      bool   // the lens was set once
	Flipped  bool   // the camera mirrors: a right-hander stands on the right
	Second   string `json:",omitempty"` // the camera that shows the other view, "" for none
	FaceOn   bool   // it stands before the player's chest and looks across the target line
	// Scenery is what stood still when the lens was set, to notice later that
	// the camera was moved; nil: the lines are newer than it.
	Scenery *sight.Scenery `json:",omitempty"`
}

// Target is where lines meet.
type Target struct {
	Point
	Sd float64 // 1 sigma across, px
}

// Offset is what the camera must move by so that the hands sit on the target
// point, and what it does to the reading. Up is + raise, Near is + nearer the
// ball, both cm, each to ± Cm (1 sigma); Angle is the whole of it at the lens,
// degrees, 0 when it is not known. The other sigmas are degrees of shaft line,
// NaN when they are not known.
type Offset struct {
	UpCm, NearCm, Cm     float64
	Angle                float64
	SigmaNow, SigmaThere float64
}

// LensWork is the geometry that the lens screen needs.
type LensWork struct {
	// Meet is the target point of two or more lines in a picture of a size.
	Meet func(lines []Segment, width, height int) (Target, error)
	// Find offers lines found in the newest pictures, none when it is not
	// sure of any. It answers at once and looks meanwhile: ask again.
	Find func() []Segment
	// Offset is how the camera must move, with the hands at a place.
	Offset func(b Bay, hands Point, hand drills.Hand) (Offset, error)
	// Face is how a camera before the player's chest must move, by what was seen
	// of a player at address; nil: not known.
	Face func(b Bay, s Seen, hand drills.Hand) (FaceOffset, error)
	// Under is how far the hands are from under a place of the body in the
	// picture of the level moment, cm, + toward the player; nil: not known.
	Under func(b Bay, hands, body Point, hand drills.Hand) (cm float64, err error)
	// Mark says that the lines fit the picture as it is now; Shifted reports
	// whether it has shifted since. Either may be nil.
	Mark    func()
	Shifted func() bool
	// Roll measures the roll from a club that hangs by its grip, degrees, with
	// its 1-sigma uncertainty, or says why there is none. It answers at once
	// and looks meanwhile: ask again.
	Roll func(b Bay) (roll, sigma float64, err error)
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

// words says how to move the lens, upward and across: each a word and a
// length, "" where it is good enough.
func (o Offset) words(u units) (up, upCm, near, nearCm string) {
	if math.Abs(o.UpCm) >= goodEnough {
		up, upCm = "raise", u.short(math.Abs(o.UpCm))
		if o.UpCm < 0 {
			up = "lower"
		}
	}
	if math.Abs(o.NearCm) >= goodEnough {
		near, nearCm = "nearer ball", u.short(math.Abs(o.NearCm))
		if o.NearCm < 0 {
			near = "nearer you"
		}
	}
	return up, upCm, near, nearCm
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

// found reports whether the bay has a target point: face-on it needs none.
func (b Bay) found() bool {
	return !b.FaceOn && b.Width > 0 && !math.IsNaN(b.Target.X) && !math.IsNaN(b.Target.Y)
}

// rolled is the roll in words, with its uncertainty when it was measured.
func (b Bay) rolled() string {
	side, sd := " right", ""
	if b.Roll < 0 {
		side = " left"
	}
	if b.RollSd > 0 {
		sd = fmt.Sprintf(" ± %.1f°", b.RollSd)
	}
	return fmt.Sprintf("roll %.1f°", math.Abs(b.Roll)) + sd + side
}

// spoken says how to move the lens in one sentence.
func (o Offset) spoken() string {
	up, upCm, near, nearCm := o.words(metric)
	side := map[string]string{"nearer ball": "nearer the ball", "nearer you": "nearer to you"}[near]
	words := func(cm string) string { return strings.Replace(cm, " cm", " centimetres", 1) }
	switch {
	case o.Good():
		return "Good. Leave the camera there."
	case near == "":
		return capital(up) + " the camera " + words(upCm) + "."
	case up == "":
		return "Move the camera " + words(nearCm) + " " + side + "."
	}
	return capital(up) + " the camera " + words(upCm) + ", and move it " + words(nearCm) + " " + side + "."
}

func capital(s string) string {
	if s == "" {
		return s
	}
	r := []rune(s)
	return strings.ToUpper(string(r[:1])) + string(r[1:])
}
