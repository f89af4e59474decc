package app

import (
	"errors"
	"math"

	"drillbay/drills"
	"drillbay/drills/runner"
)

// Book is the coach's book as the screens read it. Its methods are called
// while drawing: they answer from memory.
type Book interface {
	// Players are all that are known, the last one to practise first.
	Players() []PlayerLine
	// Deleted are the players who were deleted in this session, in that order.
	// They can be brought back until it ends.
	Deleted() []PlayerLine
	// AddPlayer keeps a new player, or says why not.
	AddPlayer(name string, hand drills.Hand, clubCm float64) (PlayerLine, error)
	// Rungs is the ladder with where a player stands on it.
	Rungs(playerID string) []RungLine
	// Progress is a player's way across the weeks.
	Progress(playerID string) ProgressSheet
	// Clinic is the group, ok is false without one.
	Clinic() (ClinicSheet, bool)
	// Rename gives a player another name.
	Rename(playerID, name string) error
	// ClinicBegin begins a clinic with a list of names, one a line, and the
	// names of its stations, the first with the camera; told is what the coach
	// should know of the list, "" for nothing.
	ClinicBegin(list string, t Turns, stations []string) (told string, err error)
	// ClinicJoin lets those on a list come late.
	ClinicJoin(list string) error
	ClinicEnd() error
	// ClinicDo carries out NextPlayer, Number (out of turn), More (arrive) or
	// Less (leave) on a player's number.
	ClinicDo(d Do, number int) error
	// Consent notes who agreed that clips of a player are kept.
	Consent(playerID string, c Consent) error
	// Clips are those that were kept of a player, the oldest first.
	Clips(playerID string) []ClipLine
	// Kept are those of all players, the newest first.
	Kept() []ClipLine
	// Check is the list that is ticked before the first rung of a session.
	Check() []string
	// Session is the plan of a session of so many minutes.
	Session(playerID string, minutes float64) []PlanLine
	// Set are the reps of a set of a player's session that are on the disk, without
	// those taken back, in the order of their numbers; ok is false where nothing is
	// stored.
	Set(playerID, session string, set int) (reps []drills.Rep, ok bool)
	// Marks are the coach's on a rep; KeepMarks stores what changed of them.
	Marks(repID string) Marks
	KeepMarks(playerID, repID string, m Marks) error
	// Clubs are a player's, the shortest first. A set is practised with the one
	// that UseClub chose last.
	Clubs(playerID string) []ClubLine
	AddClub(playerID, name string, cm float64) error
	UseClub(playerID, name string) error
	// Answer keeps the coach's answers for a player's last session: how the
	// face looks at level ("open", "neutral", "shut"), when the hands gain
	// height ("soon", "late", "never"); "" where it is not known.
	Answer(playerID, face, rise string) error
	// Watched are the things that a drill watches of the body; Watch chooses
	// others, drills.MostWatched at most.
	Watched(drillID string) []drills.Watch
	Watch(drillID string, list []drills.Watch) error
	// Faults are what could not be read, drill files say: a sentence each.
	Faults() []error
}

// Consent says who agreed that clips of a player are kept.
type Consent uint8

const (
	NoConsent Consent = iota
	PlayerAgrees
	GuardianAgrees // the player is a minor
)

// Turns is when a turn of a clinic is over: after Reps, or after Minutes; the
// one that is 0 does not end it.
type Turns struct{ Reps, Minutes int }

// PlanLine is one part of a planned session. Drill has an ID in parts that are
// made of reps.
type PlanLine struct {
	Part  string // "the rung due", "rest"
	Drill runner.Drill
	Order []runner.Drill // the drills of a mixed set, rep by rep
	Rest  float64        // s
	Line  string         // "10 reps: both hands, swing and catch"
	Why   string
}

// Marks are the coach's marks on the picture of a rep, px as seen.
type Marks struct {
	Face     []Point // heel, toe, hip, neck; none: not marked
	FaceWord string
	Lead     []Point // the lead shoulder
	// Under is how far the hands are from under the lead shoulder, cm, +
	// toward the player; NaN when the bay's lengths are not known.
	Under float64
	Frame float64 // s, the picture that was marked
	// Joints are those that the coach put right.
	Joints []JointMark
}

// ClipLine is a clip that was kept.
type ClipLine struct {
	ID, Rep, Player string
	Who             string // the player's name
	File            string // "Marta-2026-11-28-10.15-rep-7.avi"
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
	ClubCm float64
	Rung   int    // 0: not begun
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
}

// ProgressSheet is what the progress screen shows.
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
	Feel     string // of the rung, where no cause is named
	Trend    string
	Spread   string
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
	UpReps string // "5 reps"
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

// NoBook is a book in which nothing is written yet.
type NoBook struct{}

// Players implements Book.
func (NoBook) Players() []PlayerLine { return nil }

// Deleted implements Book.
func (NoBook) Deleted() []PlayerLine { return nil }

// AddPlayer implements Book; the player lives until the program ends.
func (NoBook) AddPlayer(name string, hand drills.Hand, clubCm float64) (PlayerLine, error) {
	return PlayerLine{Player: runner.Player{ID: name, Name: name, Hand: hand}, ClubCm: clubCm}, nil
}

// Rungs implements Book.
func (NoBook) Rungs(string) []RungLine {
	return []RungLine{{Here: true, Drill: runner.Drill{
		ID: "both-catch", Name: "Both hands, swing and catch", Rung: 1, Rungs: 1, MovingStart: true, Reps: 10, Beat: 60,
	}}}
}

// Progress implements Book.
func (NoBook) Progress(string) ProgressSheet { return ProgressSheet{} }

// Clinic implements Book.
func (NoBook) Clinic() (ClinicSheet, bool) { return ClinicSheet{}, false }

// ClinicBegin implements Book.
func (NoBook) ClinicBegin(string, Turns, []string) (string, error) { return "", errNoBook }

// ClinicJoin implements Book.
func (NoBook) ClinicJoin(string) error { return errNoBook }

// ClinicEnd implements Book.
func (NoBook) ClinicEnd() error { return nil }

// ClinicDo implements Book.
func (NoBook) ClinicDo(Do, int) error { return errNoBook }

// Consent implements Book.
func (NoBook) Consent(string, Consent) error { return errNoBook }

// Rename implements Book.
func (NoBook) Rename(string, string) error { return errNoBook }

// Clips implements Book.
func (NoBook) Clips(string) []ClipLine { return nil }

// Kept implements Book.
func (NoBook) Kept() []ClipLine { return nil }

// Check implements Book.
func (NoBook) Check() []string { return nil }

// Session implements Book.
func (NoBook) Session(string, float64) []PlanLine { return nil }

// Set implements Book.
func (NoBook) Set(string, string, int) ([]drills.Rep, bool) { return nil, false }

// Marks implements Book.
func (NoBook) Marks(string) Marks { return Marks{Under: math.NaN()} }

// Clubs implements Book.
func (NoBook) Clubs(string) []ClubLine { return nil }

// AddClub implements Book.
func (NoBook) AddClub(string, string, float64) error { return errNoBook }

// UseClub implements Book.
func (NoBook) UseClub(string, string) error { return errNoBook }

// KeepMarks implements Book.
func (NoBook) KeepMarks(string, string, Marks) error { return errNoBook }

// Answer implements Book.
func (NoBook) Answer(string, string, string) error { return errNoBook }

// Watched implements Book.
func (NoBook) Watched(string) []drills.Watch { return nil }

// Watch implements Book.
func (NoBook) Watch(string, []drills.Watch) error { return errNoBook }

// Faults implements Book.
func (NoBook) Faults() []error { return nil }

var errNoBook = errors.New("there is no ledger to write it in")
