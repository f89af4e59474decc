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

// Share is how many of the reps count.
func (s Set) Share() Share { return Counted(s.Reps) }

// LaterDay is how long after practice a retention set tests what was learned
// (Kantak & Winstein 2012: the end of practice does not).
const LaterDay = 24 * time.Hour
