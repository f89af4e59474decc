package app

import (
	"errors"
	"math"

	"drillbay/drills"
	"drillbay/drills/book"
	"drillbay/drills/runner"
)

// Book is the coach's book as the screens ask it. Its methods are called while
// drawing: they answer from memory.
type Book interface {
	PlayerBook
	LadderBook
	ClubBook
	ClinicBook
	MarkBook
	ClipBook
	WatchBook
}

// PlayerBook is asked by the start screen, and where players are added, renamed,
// deleted and give their consent.
type PlayerBook interface {
	// Players are all that are known, the last one to practise first.
	Players() []book.PlayerLine
	// Deleted are the players who were deleted in this session, in that order.
	// They can be brought back until it ends.
	Deleted() []book.PlayerLine
	// AddPlayer keeps a new player, or says why not.
	AddPlayer(name string, hand drills.Hand, clubCm float64) (book.PlayerLine, error)
	// Rename gives a player another name.
	Rename(playerID, name string) error
	// Consent notes who agreed that clips of a player are kept.
	Consent(playerID string, c book.Consent) error
}

// LadderBook is asked by the start, practice, drills and progress screens: where a
// player stands, and what to practise.
type LadderBook interface {
	// Rungs is the ladder with where a player stands on it.
	Rungs(playerID string) []book.RungLine
	// Progress is a player's way across the weeks.
	Progress(playerID string) book.ProgressSheet
	// Answer keeps the coach's answers for a player's last session: how the
	// face looks at level ("open", "neutral", "shut"), when the hands gain
	// height ("soon", "late", "never"); "" where it is not known.
	Answer(playerID, face, rise string) error
	// Session is the plan of a session of so many minutes.
	Session(playerID string, minutes float64) []book.PlanLine
	// Set are the reps of a set of a player's session that are on the disk, without
	// those taken back, in the order of their numbers; ok is false where nothing is
	// stored.
	Set(playerID, session string, set int) (reps []drills.Rep, ok bool)
	// Check is the list that is ticked before the first rung of a session.
	Check() []string
	// Faults lists what could not be read, such as a drill file, a sentence each.
	Faults() []error
}

// ClubBook is asked by the screen of a player's clubs.
type ClubBook interface {
	// Clubs are a player's, the shortest first. A set is practised with the one
	// that UseClub chose last.
	Clubs(playerID string) []book.ClubLine
	AddClub(playerID, name string, cm float64) error
	UseClub(playerID, name string) error
}

// ClinicBook is asked by a clinic's board and list, and while a group practises.
type ClinicBook interface {
	// Clinic is the group, ok is false without one.
	Clinic() (book.ClinicSheet, bool)
	// ClinicBegin begins a clinic with a list of names, one a line, and the
	// names of its stations, the first with the camera; told is what the coach
	// should know of the list, "" for nothing.
	ClinicBegin(list string, t book.Turns, stations []string) (told string, err error)
	// ClinicJoin lets those on a list come late.
	ClinicJoin(list string) error
	ClinicEnd() error
	// ClinicDo changes who is up, or who is there, by a player's number.
	ClinicDo(s book.ClinicStep, number int) error
}

// MarkBook is asked where a coach marks a rep in the lookback.
type MarkBook interface {
	// Marks returns the coach's marks on a rep; KeepMarks stores those that changed.
	Marks(repID string) book.Marks
	KeepMarks(playerID, repID string, m book.Marks) error
}

// ClipBook is asked by the screen of the clips that were kept.
type ClipBook interface {
	// Clips lists the clips that were kept of a player, the oldest first.
	Clips(playerID string) []book.ClipLine
	// Kept lists the clips of all players, the newest first.
	Kept() []book.ClipLine
}

// WatchBook is asked by the screen where a coach chooses what a drill watches.
type WatchBook interface {
	// Watched are the things that a drill watches of the body; Watch chooses
	// others, drills.MostWatched at most.
	Watched(drillID string) []drills.Watch
	Watch(drillID string, list []drills.Watch) error
}

// NoBook is a book in which nothing is written yet.
type NoBook struct{}

// Players implements Book.
func (NoBook) Players() []book.PlayerLine { return nil }

// Deleted implements Book.
func (NoBook) Deleted() []book.PlayerLine { return nil }

// AddPlayer implements Book; the player lives until the program ends.
func (NoBook) AddPlayer(name string, hand drills.Hand, clubCm float64) (book.PlayerLine, error) {
	return book.PlayerLine{Player: runner.Player{ID: name, Name: name, Hand: hand}}, nil
}

// Rungs implements Book.
func (NoBook) Rungs(string) []book.RungLine {
	return []book.RungLine{{Here: true, Drill: runner.Drill{
		ID: "both-catch", Name: "Both hands, swing and catch", Rung: 1, Rungs: 1, MovingStart: true, Reps: 10, Beat: 60,
	}}}
}

// Progress implements Book.
func (NoBook) Progress(string) book.ProgressSheet { return book.ProgressSheet{} }

// Clinic implements Book.
func (NoBook) Clinic() (book.ClinicSheet, bool) { return book.ClinicSheet{}, false }

// ClinicBegin implements Book.
func (NoBook) ClinicBegin(string, book.Turns, []string) (string, error) { return "", errNoBook }

// ClinicJoin implements Book.
func (NoBook) ClinicJoin(string) error { return errNoBook }

// ClinicEnd implements Book.
func (NoBook) ClinicEnd() error { return nil }

// ClinicDo implements Book.
func (NoBook) ClinicDo(book.ClinicStep, int) error { return errNoBook }

// Consent implements Book.
func (NoBook) Consent(string, book.Consent) error { return errNoBook }

// Rename implements Book.
func (NoBook) Rename(string, string) error { return errNoBook }

// Clips implements Book.
func (NoBook) Clips(string) []book.ClipLine { return nil }

// Kept implements Book.
func (NoBook) Kept() []book.ClipLine { return nil }

// Check implements Book.
func (NoBook) Check() []string { return nil }

// Session implements Book.
func (NoBook) Session(string, float64) []book.PlanLine { return nil }

// Set implements Book.
func (NoBook) Set(string, string, int) ([]drills.Rep, bool) { return nil, false }

// Marks implements Book.
func (NoBook) Marks(string) book.Marks { return book.Marks{Under: math.NaN()} }

// Clubs implements Book.
func (NoBook) Clubs(string) []book.ClubLine { return nil }

// AddClub implements Book.
func (NoBook) AddClub(string, string, float64) error { return errNoBook }

// UseClub implements Book.
func (NoBook) UseClub(string, string) error { return errNoBook }

// KeepMarks implements Book.
func (NoBook) KeepMarks(string, string, book.Marks) error { return errNoBook }

// Answer implements Book.
func (NoBook) Answer(string, string, string) error { return errNoBook }

// Watched implements Book.
func (NoBook) Watched(string) []drills.Watch { return nil }

// Watch implements Book.
func (NoBook) Watch(string, []drills.Watch) error { return errNoBook }

// Faults implements Book.
func (NoBook) Faults() []error { return nil }

var errNoBook = errors.New("there is no ledger to write it in")
