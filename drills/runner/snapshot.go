package runner

import (
	"drillbay/camera/lookback"
	"drillbay/camera/sight"
)

// Snapshot is the session at one instant. It never changes once published;
// what it points at is either immutable or, as a loop, safe to ask at any
// time.
type Snapshot struct {
	At      float64 // s, capture clock
	Session string  // "" while none runs
	Player  Player
	Bay     string
	Drill   Drill
	Ready   bool // the cautions were seen: reps count
	Paused  bool
	Phase   sight.Phase
	Since   float64 // s, when the phase began
	Cue     string  // what to do now, at most 18 letters
	Set     int     // from 1
	Reps    []Done  // of this set, oldest first, without those taken back
	Waiting int     // reps seen that are not read or not stored yet
	SetFull bool    // all reps of the set were caught; it waits for the last readings
	SetDone bool
	// All are the reps of the session, oldest first.
	All      []Done
	Lookback Lookback
	Against  []Compare // other reps that can be seen beside this one
	Notices  []Notice
	Beat     Beat
	Counters Counters
}

// Last is the rep told last, if there is one.
func (s *Snapshot) Last() (Done, bool) {
	if len(s.All) == 0 {
		return Done{}, false
	}
	return s.All[len(s.All)-1], true
}

// Lookback is the loop that is to be shown.
type Lookback struct {
	On     bool
	ID     string // of the rep
	Number int
	Loop   *lookback.Loop
	Beside *lookback.Loop // the other camera's pictures, nil: there are none
	Later  float64        // s, by which Beside shows the same moment later
	Player lookback.Player
	Known  bool // Rep is stored and may be shown
	Rep    Done
	Stays  bool // until a key ends it
}

// Compare is another rep to look at.
type Compare struct {
	Label string // "last", "best"
	Rep   Done
	Loop  *lookback.Loop
}

// Counters count since the runner began.
type Counters struct {
	Frames  int // pictures taken in
	Dropped int // pictures that came while the runner was behind
	Refused int // pictures the ring had no use for
	Reps    int // reps seen
	Stored  int // records stored
	Retries int // times a record was tried again
}
