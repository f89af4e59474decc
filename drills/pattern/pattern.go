// Package pattern turns sets of reps into what they have in common: the side
// of the misses, their spread, drift, manner, depth and rhythm, the likely
// causes, and how all this changes over the sessions.
package pattern

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"drillbay/drills"
)

// Fewest readings from which anything is concluded.
const Fewest = 8

// Rep is a rep with where it belongs and what the coach marked on it.
type Rep struct {
	drills.Rep
	Drill   string
	Form    drills.Form
	Session string
	Kind    drills.SetKind
	At      time.Time
	// Coach is the coach's own verdict, beside the reading; NoReading: none.
	Coach drills.Verdict
	Face  drills.Face // by the coach's marks
	// Shoulder is the distance of the hands from the vertical under the lead shoulder, cm,
	// + toward the player, by the coach's tap.
	Shoulder drills.Reading
	// Coached are those readings of Body that come from joints where the coach put
	// them.
	Coached drills.Body
}

// Rise is an answer to: when do the hands gain height?
type Rise uint8

const (
	NoAnswer  Rise = iota
	RisesSoon      // on the way to level
	RisesLate      // only after level
	NeverHigh      // they stay low, to the top
)

// Beside holds what is known in addition to the reps: limits, the reps of earlier sessions,
// and the coach's answers. The zero value knows nothing.
type Beside struct {
	Band    float64 // degrees each way, 0: drills.Band
	Deep    float64 // cm, 0: drills.Deep
	Earlier []Rep   // oldest first: for the player's own rhythm
	// FaceOn are reps of another session that was seen from the front: of them
	// only the body tells.
	FaceOn []Rep
	// Bands holds the bands of the parts of the body that the drills watch.
	Bands map[drills.BodyPart]drills.Watch
	Face  drills.Face // the answer to: how does the face look at level?
	Rise  Rise        // the answer to: when do the hands gain height? It counts where the reps do not show it
}

// The limits of common practice beside drills.Band and drills.Deep.
const (
	awayCm     = 4.0  // hands outside by more
	risenCm    = 60.0 // above address at the top: near shoulder height
	flatCm     = 45.0 // above address at the top: well under it
	late       = 0.55 // of the backswing's time
	soon       = 0.50 // of the backswing's time; usual is a little before half
	hasty      = 0.8  // of the own median backswing
	hastyRatio = 2.0
	oftenShare = 0.25 // of the reps at least, with 95 % confidence
)

// Pattern describes what reps have in common.
type Pattern struct {
	Evidence Evidence
	Causes   []Found  // those that the evidence names
	Possible []Found  // those that it leaves open
	Lapses   []Lapse  // what of the body is not kept
	Ask      []string // what would settle the open ones
	// Unnamed says why no cause is named, Feel what fits the misses nevertheless, that of
	// the first cause that is open; both "" where they say nothing.
	Unnamed, Feel string
	// HeightRead: the reps showed when the hands gain height, and nobody need answer that.
	HeightRead bool
}

// Of looks at reps, oldest first. Reps without a reading are counted, not
// used.
func Of(reps []Rep, a Beside) Pattern {
	if a.Band == 0 {
		a.Band = drills.Band
	}
	if a.Deep == 0 {
		a.Deep = drills.Deep
	}
	p := Pattern{Evidence: gather(reps, a)}
	s := signsOf(p.Evidence, a)
	p.HeightRead = s.heightRead()
	s = s.answered(a.Rise)
	for _, c := range drills.Causes() {
		row := table(c)
		switch row.when(s) {
		case yes:
			p.Causes = append(p.Causes, found(c, row, p.Evidence))
		case unknown:
			// Open only when the side or the manner is there already.
			if row.begins(s) == yes {
				p.Possible = append(p.Possible, found(c, row, p.Evidence))
			}
		}
	}
	p.Ask = questions(p.Possible, s)
	if len(p.Causes) == 0 {
		p.Unnamed = unnamed(p.Possible, p.Evidence, s)
		if len(p.Possible) > 0 {
			p.Feel = p.Possible[0].Feel
		}
	}
	p.Lapses = lapses(p.Evidence, a.Bands)
	return p
}

// unnamed says why no cause is named.
func unnamed(open []Found, e Evidence, s signs) string {
	switch {
	case len(open) > 0:
		var names []string
		for _, f := range open {
			names = append(names, f.Cause.String())
		}
		return "No cause is named yet. It may be: " + strings.Join(names, "; or ") + "."
	case e.Line.N < Fewest:
		return fmt.Sprintf("No cause is named yet: that takes a session with %d readings.", Fewest)
	case s.inside == yes || s.outside == yes:
		return "No cause is named: the readings show the signs of none."
	}
	return "No cause is named: the readings lean plainly to neither side."
}

// Found is a cause with what speaks for it.
type Found struct {
	Cause    drills.Cause
	Evidence []string // sentences with their numbers
	Else     []string // what else it could be
	Feel     string
}

func found(c drills.Cause, r row, e Evidence) Found {
	f := Found{Cause: c, Evidence: e.sentences(r.uses), Else: r.other, Feel: r.feel}
	for _, p := range toward(c) {
		if p != drills.HandsUnder || !slices.Contains(r.uses, useShoulder) { // that tells it already
			if s := e.partly(p); s != "" {
				f.Evidence = append(f.Evidence, s)
			}
		}
	}
	return f
}
