package report

import (
	"bytes"
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"slices"
	"time"

	"drillbay/drills"
)

// Group is a clinic on one page, for the coach. All words are plain text.
type Group struct {
	Coach, Place string // "" for nothing
	Began, Made  time.Time
	Band         float64  // degrees each way
	Members      []Member // in the order of the roster
}

// Member is a player of a clinic.
type Member struct {
	ID, Name string
	Hand     drills.Hand
	Rung     int
	Share    drills.Share // of the reps since the clinic began
	Middle   float64      // degrees, + inside: half the readings are lower; NaN without readings
	Placed   drills.Share // of the reps whose manner is known
	Work     string       // what to work on, "" when not known
	Feel     string       // and how it feels
	Body     bool         // Work is of the body
	Needs    string       // why the player needs the coach, "" when not
}

// BodyRead reports whether readings of the body stand on the page.
func (g Group) BodyRead() bool {
	return slices.ContainsFunc(g.Members, func(m Member) bool { return m.Body })
}

//go:embed group.html
var groupText string

// WriteGroup writes a clinic's page.
func WriteGroup(w io.Writer, g Group) error {
	t, err := template.New("group").Funcs(template.FuncMap{
		"day": func(t time.Time) string { return t.Format("2 January 2006") }, "side": side, "figure": figure,
		"noAdvice": func() string { return drills.NoAdvice },
	}).Parse(groupText)
	if err != nil {
		return fmt.Errorf("the group's page: %w", err)
	}
	var out bytes.Buffer
	if err := t.Execute(&out, g); err != nil {
		return fmt.Errorf("the group's page cannot be written: %w", err)
	}
	_, err = out.WriteTo(w)
	return err
}

// Number is a member's on the roster.
func (Member) Number(i int) int { return i + 1 }

// Size returns the size of the letters, pt, at which the group fits on one page.
func (g Group) Size() float64 {
	switch n := len(g.Members); {
	case n > 30:
		return 7
	case n > 8:
		return 8.5
	}
	return 10
}

// Room reports whether there is room for how it feels.
func (g Group) Room() bool { return len(g.Members) <= 14 }

// Total are the reps of all.
func (g Group) Total() (s drills.Share) {
	for _, m := range g.Members {
		s = s.Add(m.Share)
	}
	return s
}

// Needing counts the players who need the coach; the page's template calls it.
func (g Group) Needing() (n int) {
	for _, m := range g.Members {
		if m.Needs != "" {
			n++
		}
	}
	return n
}
