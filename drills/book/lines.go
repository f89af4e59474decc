package book

import (
	"slices"
	"strings"
	"time"

	"drillbay/drills"
	"drillbay/drills/runner"
)

// Consent says who agreed that clips of a player are kept.
type Consent uint8

const (
	NoConsent Consent = iota
	PlayerAgrees
	GuardianAgrees // the player is a minor
)

// Turns says when a turn of a clinic is over: after Reps, or after Minutes; the one that is
// 0 does not end it.
type Turns struct{ Reps, Minutes int }

// PlanLine is one part of a planned session. Drill has an ID in parts that are
// made of reps.
type PlanLine struct {
	Part  string // "the rung due", "rest"
	Drill runner.Drill
	Order []runner.Drill // the drills of a mixed set, rep by rep
	Rest  float64        // s
	Line  string         // "10 reps: both hands, swing and catch"
	Why   string         // the reason for it in a sentence, "" where that needs no saying
}

// Marks are the coach's marks on the picture of a rep, px as seen.
type Marks struct {
	Face     []drills.Pixel // heel, toe, hip, neck; none: not marked
	FaceWord string
	Lead     []drills.Pixel // the lead shoulder
	// Under is the distance of the hands from the vertical under the lead shoulder, cm, +
	// toward the player; NaN when the bay's lengths are not known.
	Under float64
	Frame float64 // s, the picture that was marked
	// Joints lists the joints that the coach put right, Body the readings that they changed.
	Joints []JointMark
	Body   drills.Body
}

// ClipLine is a clip that was kept.
type ClipLine struct {
	ID, Rep, Player string
	Who             string // the player's name
	File            string // "Marta-2026-11-28-10.15-rep-7.avi"
	At              time.Time
	Level           float64 // s of the clip, the level moment of its rep; 0: not known
}

// ClubLine is one club of a player's list, and how the player stands with it.
type ClubLine struct {
	Name    string
	Cm      float64
	Line    string // "rung 3 of 8, 12 of 20 in the last set"
	Used    bool
	Offered bool // a rung passed with the one in use offers it
}

// PlayerLine is one player in a list.
type PlayerLine struct {
	Player runner.Player
	Line   string // "Rung 3: both hands, swing and catch. 12 of 20 in the last set."
	Short  string // "7 sessions since 4 October"
	Consent
	ConsentAt string // "noted on 3 March 2026", "" when it is not
}

// RungLine is one rung of the ladder.
type RungLine struct {
	Drill  runner.Drill
	State  string // "kept, 9 of 9", "passed, 17 of 20", "12 of 20", ""
	Passed bool
	Here   bool           // the one to practise
	Order  []runner.Drill // of mixed practice: the drills, rep by rep
	How    string         // how it is done, one or two sentences
	Cause  string         // what it is for
	Feel   string         // what to feel in it, the first of it
}

// ProgressSheet holds the text and figures of the progress screen.
type ProgressSheet struct {
	Headline string // "Rung 3 of 8"
	Club     string // verdicts are kept per club
	Why      string // "12 of 20 in line and swung: one more set before moving on."
	Rungs    []RungLine
	Sessions []SessionLine // oldest first
	Causes   []CauseLine   // the likely one first
	Next     []string      // what else to work on, and what is asked: sentences
	Asked    bool          // answers would tell causes apart, or were given
	Face     string        // the coach's answers, as Answer takes them
	Rise     string
	// HeightRead: when the hands gain height was read, and is not asked.
	HeightRead bool
	// Unnamed says why no cause is named; Feel is then what fits the misses, the body or the rung.
	Unnamed, Feel string
	Own           bool // Feel fits the player's own misses or body
	Trend         string
	Spread        string
}

// CauseLine is a likely cause of the misses.
type CauseLine struct {
	Name     string
	Evidence string // the first sentence of it, with its numbers
	Else     string // what else it could be
	Feel     string
	Rung     string // "Rung 3: both hands", the one that works on it
}

// SessionLine is one session on the scale: degrees, + inside.
type SessionLine struct {
	Date              string
	Later             bool // a day later, without verdicts
	Low, Middle, High float64
	Counted, Of       int
	// ShareLow and ShareHigh bound the share that counts (95 %, Wilson).
	ShareLow, ShareHigh float64
}

// ClinicSheet is a group and whose turn it is.
type ClinicSheet struct {
	Group  string
	Up     string // name of who is up, "" for nobody
	UpID   string
	Over   bool   // the turn is over: the next is to be called
	Reps   int    // a turn has, 0: it goes by time
	UpLine string // "Rung 2"
	UpReps string // of the turn: "2 of 5 reps", or "2 reps"
	Then   string
	// Stations are empty where there is only the one with the camera.
	Stations []StationLine
	Players  []ClinicLine
}

// StationLine is one station of a clinic and who is there, "" for nobody.
type StationLine struct {
	Name, Who string
	Camera    bool
}

// ClinicLine is one player of a group.
type ClinicLine struct {
	Number      int
	Name        string
	Hand        drills.Hand
	Rung        int
	Reps        []drills.Rep // of this turn's set
	Counted, Of int
	Waits       string // "6 min", "mirror", "late", "left"
	Longest     bool   // nobody waits longer
	Up          bool
	Needs       string // why the player needs the coach, "" when not
}

// JointMark is the place that the coach gave a joint, at address or where the rep is read,
// px as seen in the picture of View: NoView is the camera that found the rep, else it is
// the second camera's.
type JointMark struct {
	Name    string // as jointNames has it
	View    drills.View
	Address bool
	At      drills.Pixel
}

// Is reports whether two marks are of one joint in one picture.
func (j JointMark) Is(k JointMark) bool {
	return j.Name == k.Name && j.View == k.View && j.Address == k.Address
}

// atAddress is how the ledger says that a mark is at address.
const atAddress = "at address"

// value is the joint and its picture, as the ledger keeps them: "neck, face-on, at address".
func (j JointMark) value() string {
	out := j.Name
	if j.View != drills.NoView {
		out += ", " + j.View.String()
	}
	if j.Address {
		out += ", " + atAddress
	}
	return out
}

// jointOf is the joint and the picture of a mark that the ledger kept.
func jointOf(value string) (j JointMark) {
	words := strings.Split(value, ", ")
	j.Name = words[0]
	j.Address = slices.Contains(words, atAddress)
	for _, v := range []drills.View{drills.DownTheLine, drills.FaceOn} {
		if slices.Contains(words, v.String()) {
			j.View = v
		}
	}
	return j
}

// On reports whether a drill is practised in this part.
func (l PlanLine) On(d runner.Drill) bool {
	if len(l.Order) > 0 {
		return d.Mixed == l.Drill.ID
	}
	return d.ID == l.Drill.ID && d.Mixed == ""
}
