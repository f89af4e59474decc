// Package clips keeps reps as clips and plays them again, and reads the reps of clips
// from elsewhere, a phone say.
package clips

import (
	"drillbay/camera/frame"
	"drillbay/drills"
	"drillbay/drills/runner"
)

// Job is a clip that is to be measured, with what is known of its bay:
// the distance from lens to hands, m, and the field of view, degrees. Rate is
// how many frames a second were taken, 0 for what the clip says.
type Job struct {
	Path            string
	Hand            drills.Hand
	Distance, Field float64
	Rate            float64
}

// Rep is a rep of a clip with its picture at the level moment, and its
// loop while there is memory for it.
type Rep struct {
	runner.Done
	Picture *frame.Picture
	Loop    Loop
}

// Loop are the pictures of a rep by their times, s.
type Loop interface {
	Times() []float64
	Frame(at float64) *frame.Picture // with a reference for the caller
	Release()                        // until it is asked again
}
