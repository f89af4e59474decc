package runner

import (
	"context"
	"time"

	"drillbay/camera/frame"
	"drillbay/camera/sight"
	"drillbay/drills"
)

// Take is one rep's pictures, handed to the full reading. The pictures are
// held until the reading returns; it must not keep them.
type Take struct {
	Number  int
	Drill   Drill
	Player  Player
	Frames  []*frame.Picture
	Span    sight.Span
	Strikes []float64 // s, capture clock: what the microphone heard, newest last
}

// Analysis is the result of the full reading of a take.
type Analysis struct {
	Rep     drills.Rep
	Overlay Overlay
	// Beside is drawn over the pictures of the other camera; nothing where there is
	// none. Its times are on the capture clock of the first.
	Beside Overlay
	// Void says that the pictures show no rep after all, a waggle say: it is
	// dropped without a word.
	Void bool
	// Further reads the rep by the other camera as well, once this reading is on
	// its way: nobody waits for it. What it gives replaces this; ok is false where
	// it has nothing to add. nil: there is no other.
	Further func() (more Analysis, ok bool)
}

// Dot is a point of the picture as seen, px, at a time (s, capture clock).
type Dot struct{ At, X, Y float64 }

// Overlay holds what is drawn over a rep's pictures, in pixels as seen. A point that was
// not found has NaN coordinates.
type Overlay struct {
	Trace       []Dot // the clubhead, equally spaced in time
	Hands, Head Dot   // at the level moment
	Target      Dot   // the target point; At has no meaning
	// Home and Here are the joints at address and where the rep is read, which
	// carry the body's readings; At has no meaning.
	Home, Here Joints
	// Again reads the body once more with joints where somebody put them: those that
	// are not where Home and Here have them. nil: where nothing was read.
	Again func(home, here Joints) drills.Body
}

// Joints are places of a body; one that was not seen has NaN coordinates, and
// the zero value has none.
type Joints struct {
	Crown, Neck, Hips    Dot // the middle of the hips
	LeadShoulder         Dot
	TrailElbow, TrailHip Dot
	Seen                 bool
}

// Done is a rep that was stored.
type Done struct {
	ID      string
	Set     int
	Rep     drills.Rep
	Overlay Overlay
	Beside  Overlay     // over the other camera's pictures
	Lost    drills.Loss // of what the drill watches of the body; none in a test on a later day
	// The coach's own marks, "" when not made.
	Coach string
	Note  string
	Kept  bool
}

// Record holds what the store is asked to keep of a rep. Saving a record whose ID is known
// replaces it.
type Record struct {
	ID      string
	Session string
	Set     int
	Player  Player
	Bay     string
	Drill   Drill
	Rep     drills.Rep
	At      time.Time // when the rep ended, wall clock
	Taken   bool      // taken back: kept on record, counts nowhere
	Coach   string
	Note    string
	Kept    bool
}

// Store keeps records. Save returns nil only once the record is on disk.
type Store interface {
	Save(ctx context.Context, r Record) error
}

// Speaker is told the moments of a session. Tell must return at once; it
// decides itself what is said or sounded, and when it must fall silent.
type Speaker interface {
	Tell(m Moment)
}

// MomentKind names a moment of the session.
type MomentKind uint8

const (
	Began         MomentKind = iota // a session; the cautions come before the first rep
	AddressTaken                    // the player stands still at the ball
	TurnedRound                     // the backward motion began
	CatchSeen                       // the club has been still for sight.StillFor
	RepDone                         // Rep is stored: its verdict may be told
	RepAgain                        // asked for again
	RepTaken                        // Rep was taken back
	SetDone                         // Counted of Of reps counted
	Paused                          // until GoneOn
	GoneOn                          //
	DrillChanged                    // Drill is the new one
	NoticeRaised                    // Notice has one line
	NoticeCleared                   //
	BeatChanged                     // Beat is the new one
	Ended                           // the session
)

// Moment is one thing that happened, at a time (s, capture clock).
type Moment struct {
	Kind        MomentKind
	At          float64
	Rep         Done
	Drill       Drill
	Player      Player
	Counted, Of int
	Notice      Notice
	Beat        Beat
}

// Notice is one line: what happened, and what to do.
type Notice struct {
	Key   string // one notice a key
	Text  string
	To    string // what to do
	Since float64
}

// NoPicture is the key of the one notice that says that no picture comes: in the
// session's words until the camera's own say why.
const NoPicture = "signal"

// Beat is the metronome as it is shown: a beat falls at Zero + k·60/Rate.
type Beat struct {
	On    bool
	Rate  float64 // beats a minute
	Zero  float64 // s, capture clock
	Whole bool    // whole swings: back in three parts, down in one
}
