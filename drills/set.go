package drills

import "time"

// SetKind keeps practice and retention apart.
type SetKind string

const (
	Practice  SetKind = "practice"
	Mixed     SetKind = "mixed"     // practice in which the drill changes from rep to rep
	Retention SetKind = "retention" // a day or more later, without feedback
)

// Set is a set as the ladder judges it. Reps that were taken back are left
// out. A mixed set stands for several: its reps of each drill, which are
// evidence for that drill's rung, and all of them in their order, evidence for
// the rung of mixed practice.
type Set struct {
	Drill string
	Club  string // verdicts are kept per club
	Kind  SetKind
	Began time.Time
	Ended time.Time
	Reps  []bool // by rep: did it count
}

// Share returns how many of the reps count, out of how many.
func (s Set) Share() Share { return Counted(s.Reps) }

// LaterDay is the time from practice to a retention set, which tests what was learned
// (Kantak & Winstein 2012: the end of practice does not).
const LaterDay = 24 * time.Hour
