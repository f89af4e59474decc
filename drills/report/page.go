// Package report writes a player's progress as one HTML file that needs
// nothing else: charts are SVG, pictures lie in it, and it opens no network
// connection. It prints on A4 and Letter and reads on a phone.
package report

import (
	"time"

	"drillbay/drills"
)

// Page holds the contents of a report. All words are plain text; a drawing is an SVG
// picture of the program's own.
type Page struct {
	ID           string // of the player in the ledger
	Player       string
	Coach, Place string // "" for nothing
	// The first page: what got better, what to work on and how it feels, a sentence
	// each; the drill that works on it, moving, and its moments for paper.
	Better, Work, Feel     string
	Drill, Moving, Moments string

	Hand     drills.Hand
	Club     string // the one practised last, "" when not known
	Made     time.Time
	Band     float64 // degrees each way
	Headline string  // ordinary swings on a later day
	Rungs    []Rung
	Why      string    // where the player stands, and why
	Practice []Session // oldest first
	Later    []Session
	Trends   []string
	Last     []string // what the reps of the last session have in common
	Causes   []Cause
	Body     []Lapse  // what of the body is not kept
	BodyRead bool     // readings of the body are in it
	RepByRep string   // in how many reps a part of it was out of its band, "" for none
	Front    string   // what reps from the front do not tell, "" without such
	Ask      []string // what the coach is asked
	Next     []string // what to work on
	Homework []string
	History  []Decision // oldest first
	Pictures []Picture
}

// Rung is one rung of the ladder.
type Rung struct {
	Number int
	Name   string
	State  string // "passed, 9 of 10"
	Here   bool
}

// Session is the practice of a session, or its later-day test.
type Session struct {
	Date              time.Time
	Share             drills.Share // in line and swung
	Low, Middle, High float64      // degrees, + inside: one reading in ten is lower, half are, nine in ten; NaN without readings
	Spread            float64      // degrees
	Ratio             float64      // tempo, NaN without ordinary swings
}

// Cause is a likely cause of the misses.
type Cause struct {
	Name     string
	Evidence []string
	Else     []string
	Feel     string
	Rung     string // the one that works on it
}

// Lapse is a part of the body that is not kept as it should be.
type Lapse struct {
	Name     string // "spine stood up"
	Evidence string
	Else     []string
	Feel     string
}

// Decision is a decision of the ladder.
type Decision struct {
	Date     time.Time
	Rung     string
	Sentence string
}

// Picture is a picture of a level moment: JPEG or PNG, or a drawing of its reading.
type Picture struct {
	Word    string // "Best"
	Caption string
	Data    []byte // nil: Drawn
	Drawn   string
}
