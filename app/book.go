package app

import (
	"drillbay/drills"
	"drillbay/drills/runner"
)

// Book is the coach's book as the screens read it. Its methods are called
// while drawing: they answer from memory.
type Book interface {
	// Players are all that are known, the last one to practise first.
	Players() []PlayerLine
	// AddPlayer keeps a new player, or says why not.
	AddPlayer(name string, hand drills.Hand, clubCm float64) (PlayerLine, error)
	// Rungs is the ladder with where a player stands on it.
	Rungs(playerID string) []RungLine
	// Progress is a player's way across the weeks.
	Progress(playerID string) ProgressSheet
	// Clinic is the group, ok is false without one.
	Clinic() (ClinicSheet, bool)
	// ClinicDo carries out NextPlayer, More (arrive) or Less (leave) on a
	// player's number.
	ClinicDo(d Do, number int)
}

// PlayerLine is one player in a list.
type PlayerLine struct {
	Player runner.Player
	ClubCm float64
	Rung   int    // 0: not begun
	Line   string // "Rung 3: both hands, swing and catch. 12 of 20 last time."
	Short  string // "7 sessions since 4 October"
	Group  bool   // in the clinic
}

// RungLine is one rung of the ladder.
type RungLine struct {
	Drill  runner.Drill
	State  string // "kept, 9 of 9", "passed, 17 of 20", "12 of 20", ""
	Passed bool
	Here   bool   // the one to practise
	How    string // how it is done, one or two sentences
	Cause  string // what it is for
}

// ProgressSheet is what the progress screen shows.
type ProgressSheet struct {
	Headline string // "Rung 3 of 8"
	Why      string // "12 of 20 in line and swung: one more set before moving on."
	Rungs    []RungLine
	Sessions []SessionLine // oldest first
	Next     []string      // what to work on: sentences
	Feel     string
	Trend    string
	Spread   string
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
	Group   string
	Turn    int
	Bays    int
	Up      string // the number of the player is in Players
	UpLine  string // "Rung 2"
	UpReps  string // "5 reps"
	Then    string
	Players []ClinicLine
}

// ClinicLine is one player of a group.
type ClinicLine struct {
	Number      int
	Name        string
	Hand        drills.Hand
	Rung        int
	Reps        []drills.Rep // of this turn's set
	Counted, Of int
	Waits       string // "6 min", "late", "left"
	Up          bool
	Needs       string // why the player needs the coach, "" when not
}

// NoBook is a book in which nothing is written yet.
type NoBook struct{}

// Players implements Book.
func (NoBook) Players() []PlayerLine { return nil }

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

// ClinicDo implements Book.
func (NoBook) ClinicDo(Do, int) {}
