package app

import (
	"fmt"
	"math"
	"strings"

	"drillbay/drills"
	"drillbay/drills/bay"
	"drillbay/drills/watch"
)

// LensWork is the geometry that the lens screen needs.
type LensWork struct {
	// Meet is the target point of two or more lines in a picture of a size.
	Meet func(lines []bay.Segment, width, height int) (bay.Target, error)
	// Find offers lines found in the newest pictures, none when it is not
	// sure of any. It answers at once and looks meanwhile: ask again.
	Find func() []bay.Segment
	// Level offers the roll of a camera before the player's chest by lines found on
	// the ground, as Find does; ok is false while it is not sure of any.
	Level func() (l bay.Level, ok bool)
	// Offset says how to move the camera, from where the hands are in the picture.
	Offset func(b bay.Bay, hands drills.Pixel, hand drills.Hand) (bay.Offset, error)
	// Face says how to move a camera that stands before the player's chest, from what was
	// seen of a player at address; nil: not known.
	Face func(b bay.Bay, s watch.Seen, hand drills.Hand) (bay.FaceOffset, error)
	// Under measures how far the hands are from the vertical under a point of the body in
	// the picture of the level moment, cm, + toward the player; nil: not known.
	Under func(b bay.Bay, hands, body drills.Pixel, hand drills.Hand) (cm float64, err error)
	// Mark says that the lines fit the picture as it is now; Shifted reports
	// whether it has shifted since. Either may be nil.
	Mark    func()
	Shifted func() bool
	// Roll measures the roll from a club that hangs by its grip, degrees, with
	// its 1-sigma uncertainty, or says why there is none. It answers at once
	// and looks meanwhile: ask again.
	Roll func(b bay.Bay) (roll, sigma float64, err error)
}

// rollWords is a bay's roll in words, to whole degrees.
func rollWords(b bay.Bay) string {
	switch roll := math.Round(b.Roll); {
	case roll > 0:
		return fmt.Sprintf("tilted %.0f° right", roll)
	case roll < 0:
		return fmt.Sprintf("tilted %.0f° left", -roll)
	}
	return "level"
}

// rollTold says how a bay's camera is tilted, and how surely where that was measured.
func rollTold(b bay.Bay) string {
	out := "the camera is " + rollWords(b)
	if b.RollSd > 0 {
		out += ", true to about " + wholeDegrees(b.RollSd)
	}
	return out
}

// spokenMove says how to move the lens in one sentence.
func spokenMove(o bay.Offset) string {
	up, upCm, near, nearCm := moveWords(o, metric)
	side := map[string]string{"nearer ball": "nearer the ball", "nearer you": "nearer to you"}[near]
	words := func(cm string) string { return strings.Replace(cm, " cm", " centimetres", 1) }
	switch {
	case o.Good():
		return "Good. Leave the camera there."
	case near == "":
		return drills.UpperFirst(up) + " the camera " + words(upCm) + "."
	case up == "":
		return "Move the camera " + words(nearCm) + " " + side + "."
	}
	return drills.UpperFirst(up) + " the camera " + words(upCm) + ", and move it " + words(nearCm) + " " + side + "."
}
