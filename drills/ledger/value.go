package ledger

import (
	"math"
	"time"

	"drillbay/drills"
)

// SetKind keeps practice and retention apart.
type SetKind = drills.SetKind

// The kinds of set.
const (
	Practice  = drills.Practice
	Mixed     = drills.Mixed
	Retention = drills.Retention
)

// Who may agree that clips are kept; other words are taken as they are.
const (
	ByPlayer   = "the player"
	ByGuardian = "a guardian" // asked for where the player is a minor
)

// Player describes a player. Stature is metres, 0 when not known. Consent says who agreed
// that clips are kept, "" when nobody did.
type Player struct {
	ID, Name  string
	Hand      drills.Hand
	Stature   float64
	Minor     bool
	Consent   string
	ConsentAt time.Time
	Created   time.Time
}

// Club is a player's club, its length in metres.
type Club struct {
	ID, Player, Name string
	Length           float64
}

// Bay is a camera set-up: distance in metres from lens to hands, focal length
// and target point in pixels of a picture of Width × Height, field of view
// and roll in degrees. NaN or 0 × 0 where not known.
type Bay struct {
	ID, Name, Camera     string
	Distance, Focal, FOV float64
	Width, Height        int
	TargetX, TargetY     float64
	TargetSigma          float64
	Roll                 float64
	Flipped              bool
	View                 string // DownTheLine, also when it is "", or FaceOn
	Made                 time.Time
}

// From where a bay's camera looks.
const (
	DownTheLine = "down the line"
	FaceOn      = "face-on"
)

// Record is one rep with all that it belongs to. Session and set are made
// when they are new, and so is a player who is not known. A player without
// an id is nobody in particular.
type Record struct {
	ID       string
	Session  string
	Set      int // from 1
	Player   Player
	Bay      string // its name
	Drill    string
	Rung     int
	Kind     SetKind // "" is practice
	Club     string  // its name
	ClubLong float64 // m, 0 when not known
	Band     float64 // degrees each way
	Rep      drills.Rep
	At       time.Time // when the rep ended
	Taken    bool      // taken back: counts nowhere
	Kept     bool      // its clip is to be kept
	Coach    string    // the coach's own verdict, "" for none
	Note     string
	// Coached are the readings of the body with the joints where the coach put them.
	// They are kept as marks: Save does not store them.
	Coached drills.Body
}

// Counts reports whether the rep counts.
func (r Record) Counts() bool { return !r.Taken && r.Rep.Counts() }

// The kinds of mark.
const (
	FaceMark     = "face"     // the leading edge, and the spine line
	ShoulderMark = "shoulder" // the lead shoulder
	JointMark    = "joint"    // where a joint really is; its name is the value
	// ReadingMark is a reading of the body with the joints where the coach put them,
	// beside what was read: its part's key is the value, its first point value and
	// 1-sigma uncertainty in the part's unit, NaN once it was taken back.
	ReadingMark = "reading"
	LineMark    = "line" // not the coach's: hands, head and target point as read at level; its frame is in the time of the kept clip
	// The coach's answers for the session of a rep, without points: how the
	// face looks ("open", "neutral", "shut"), and when the hands gain height
	// ("soon", "late", "never").
	FaceAnswer = "face answer"
	RiseAnswer = "rise answer"
)

// Mark is a mark that the coach made on a rep's picture: points in pixels as seen but for a
// ReadingMark, NaN where a mark has fewer; frame is the time of the picture, seconds of the
// capture clock.
type Mark struct {
	ID, Rep, Kind string
	Value         string // "open", "neutral", "shut"; "" where the points say all
	Frame         float64
	Points        [4][2]float64
	At            time.Time
}

// Clip is a clip that was kept.
type Clip struct {
	ID, Rep string
	File    string // in the ledger's clip folder
	Bytes   int64
	At      time.Time
	Missing bool // listed, but not there: it came from another laptop, say
}

// or returns the value that a column stores for a number: nil for NaN and for an infinity.
func or(v float64) any {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nil
	}
	return v
}

// known is the value of a reading that has an uncertainty.
func known(r drills.Reading) any {
	if !r.Known() {
		return nil
	}
	return or(r.Value)
}

func orZero(v float64) any {
	if v == 0 {
		return nil
	}
	return or(v)
}

func orWhole(n int) any {
	if n == 0 {
		return nil
	}
	return int64(n)
}

func orText(s string) any {
	if s == "" {
		return nil
	}
	return s
}

func orClock(t time.Time) any {
	if t.IsZero() {
		return nil
	}
	return millis(t)
}

func float(v any) float64 {
	if f, ok := v.(float64); ok {
		return f
	}
	return math.NaN()
}

func floatOrZero(v any) float64 { f, _ := v.(float64); return f }

func word(v any) string { s, _ := v.(string); return s }
