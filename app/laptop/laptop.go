// Package laptop tells whether a laptop can do the job: camera rate, analysis
// time, sound, disk and screen, each with its figure, a grade and what to do
// about it. Measuring is kept apart from judging; both work without a window.
package laptop

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

// Grade says how well something serves the job.
type Grade uint8

// The grades.
const (
	NotRun Grade = iota // could not be measured; Remedy says why
	Good
	Fair // works, with a limit that Remedy names
	Poor // the job suffers until Remedy is done
)

var gradeNames = [...]string{"not run", "good", "fair", "poor"}

func (g Grade) String() string {
	if int(g) < len(gradeNames) {
		return gradeNames[g]
	}
	return fmt.Sprintf("unknown (%d)", g)
}

// Finding is the result of one check, for people.
type Finding struct {
	Check  string // what was looked at
	Figure string // what was measured, with its unit; "" when nothing was
	Grade  Grade
	Remedy string // what to do; "" when there is nothing to do
}

// Worst is the worst grade among findings; a check that was not run counts as
// fair, for nothing is known of it.
func Worst(findings []Finding) Grade {
	worst := Good
	for _, f := range findings {
		g := f.Grade
		if g == NotRun {
			g = Fair
		}
		worst = max(worst, g)
	}
	return worst
}

// asFound says what the figures hold for.
const asFound = "The figures hold for what the laptop did meanwhile: close other programs, plug in the power, and ask again before you go by them."

// Print writes findings as a table, one line each and the remedy below it, and what they
// hold for.
func Print(w io.Writer, findings []Finding) error {
	check, figure := len("check"), len("figure")
	for _, f := range findings {
		check = max(check, utf8.RuneCountInString(f.Check))
		figure = max(figure, utf8.RuneCountInString(f.Figure))
	}
	var b strings.Builder
	line := func(a, c, d string) {
		fmt.Fprintf(&b, "%s  %s  %s\n", pad(a, check), pad(c, figure), d)
	}
	line("check", "figure", "grade")
	for _, f := range findings {
		line(f.Check, f.Figure, f.Grade.String())
		if f.Remedy != "" {
			fmt.Fprintf(&b, "%s  → %s\n", pad("", check), f.Remedy)
		}
	}
	b.WriteString(asFound + "\n")
	_, err := io.WriteString(w, b.String())
	return err
}

func pad(s string, n int) string {
	return s + strings.Repeat(" ", max(0, n-utf8.RuneCountInString(s)))
}
