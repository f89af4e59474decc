// Package sight makes sense of what the eye saw over time. The live pass
// (Lookout) tells address, motion and hold apart and finds reps; the track
// (Setting.Follow) fits hands and club to all looks at a rep. Beside them it
// finds lines on the ground, a club that hangs, and a camera that was moved.
package sight

import "math"

// Phase is what the live pass takes the player to be doing.
type Phase uint8

const (
	Away     Phase = iota // no player with a club at address is seen
	Settling              // somebody is there, not still yet: waggle, teeing, walking in
	Address               // still, club at the ball: ready for a rep
	Forward               // moving start: club ahead of the ball
	Back                  // backward motion
	Hold                  // the club has been still for StillFor after a backward motion
	Finish                // downswing and after, on drills with a strike
)

var phaseNames = [...]string{"away", "settling", "address", "forward", "back", "hold", "finish"}

func (p Phase) String() string {
	if int(p) < len(phaseNames) {
		return phaseNames[p]
	}
	return "unknown"
}

// StillFor is how long the club must be still for a catch, s.
const StillFor = 0.2

// Span is one rep as the live pass found it. Times are seconds of the capture
// clock; a moment that is not there is NaN. From and To bound the frames that
// the full pass wants (address before, hold or finish after).
type Span struct {
	From, To                     float64
	Start, BackStart, Catch, End float64
	Address                      float64 // when the address before it began
	// Whole says that something moved above the shoulders: a whole swing.
	Whole bool
}

func noSpan() Span {
	n := math.NaN()
	return Span{From: n, To: n, Start: n, BackStart: n, Catch: n, End: n, Address: n}
}

// Glance is what the live pass says of one look.
type Glance struct {
	At     float64 // s, capture clock
	Phase  Phase
	Since  float64 // s, when this phase began (may lie before it was known)
	Motion float64 // 0..1, how fast hands or head move, as a share of 3 m/s
	// HandsX, HandsY are the hands in pixels as seen, at address; NaN when
	// not seen.
	HandsX, HandsY float64
	// Caught is set on the one glance in which a catch becomes known (the club
	// has been still for StillFor), Ended where the rep's end becomes known.
	// Span then says what is known of the rep so far.
	Caught, Ended bool
	Span          Span
	// Bumped is set while the still background no longer fits the one at
	// address: the camera was moved.
	Bumped bool
}
