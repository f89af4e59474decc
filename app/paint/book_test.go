package paint

import (
	"errors"
	"fmt"
	"time"

	"drillbay/app"
	"drillbay/drills"
	"drillbay/drills/book"
	"drillbay/drills/runner"
)

// fullBook is a coach's book in which something is written everywhere.
type fullBook struct {
	app.NoBook
	crowd    int
	deleted  string // the name of one who was
	stations []string
}

func (b fullBook) Players() []book.PlayerLine {
	return []book.PlayerLine{
		{Player: runner.Player{ID: "marta", Name: "Marta"}, Line: "Rung 3: both hands, swing and catch. 12 of 20 in the last set.", Short: "7 sessions since 4 October", Consent: book.PlayerAgrees, ConsentAt: "agreed: the player, 4 October 2026"},
		{Player: runner.Player{ID: "iven", Name: "Iven", Hand: drills.Left}},
	}
}

func (b fullBook) Deleted() []book.PlayerLine {
	if b.deleted == "" {
		return nil
	}
	return []book.PlayerLine{{Player: runner.Player{ID: "gone", Name: b.deleted}}}
}

func (fullBook) Clips(string) []book.ClipLine {
	return []book.ClipLine{{File: "Marta-2026-11-08-18.02-rep-3.avi"}, {File: "Marta-2026-11-15-17.40-rep-9.avi"}, {File: "Marta-2026-11-15-17.40-rep-9.gif"}}
}

func (f fullBook) Kept() (out []book.ClipLine) {
	for i, c := range f.Clips("") {
		c.ID, c.Who, c.Level = string(rune('a'+i)), "Marta", 0.5+0.2*float64(i)
		c.At = time.Date(2026, 11, 8+7*((i+1)/2), 12, 0, 0, 0, time.UTC)
		out = append(out, c)
	}
	return append(out, book.ClipLine{ID: "z", Who: "Bartholomea-Wilhelmina", File: "the first one that was in line.mp4"})
}

func ladder() (out []book.RungLine) {
	for i, l := range []book.RungLine{
		{Drill: runner.Drill{Name: "Lead arm, swing and catch", MovingStart: true}, State: "kept, 9 of 9", Passed: true},
		{Drill: runner.Drill{Name: "Lead arm, catch, turn, chip", Kind: runner.CatchTurnStrike}, State: "passed, 17 of 20", Passed: true},
		{Drill: runner.Drill{Name: "Both hands, swing and catch", MovingStart: true}, State: "12 of 20", Here: true},
		{Drill: runner.Drill{Name: "Both hands, catch, turn, chip", Kind: runner.CatchTurnStrike}},
		{Drill: runner.Drill{Name: "Rolling start, no stop", Kind: runner.Ordinary, MovingStart: true}},
		{Drill: runner.Drill{Name: "Reverse strike", Kind: runner.Ordinary}},
		{Drill: runner.Drill{Name: "From address, with rhythm", Kind: runner.Ordinary}},
		{Drill: runner.Drill{Name: "Mixed, all passed rungs", Kind: runner.Ordinary}},
	} {
		l.Drill.ID, l.Drill.Rung, l.Drill.Rungs, l.Drill.Reps, l.Drill.Beat = fmt.Sprint(i), i+1, 8, 10, 60
		out = append(out, l)
	}
	return out
}

func (fullBook) Rungs(string) []book.RungLine { return ladder() }

func (fullBook) Progress(string) book.ProgressSheet {
	s := book.ProgressSheet{
		Headline: "Rung 3 of 8", Why: "12 of 20 in line and swung: one more set.", Rungs: ladder(),
		Causes: []book.CauseLine{{
			Name: "hands drawn inward", Evidence: "Readings lie inside: 11.4° on average, 7.9° to 14.9° in the long run (p < 0.001).",
			Else: "face opened early, turn alone without the arms", Feel: "the grip stays in front of the chest.", Rung: "Rung 3: Both hands, swing and catch",
		}},
		Asked: true, Face: "open",
		Next:  []string{"How does the face look at level? Mark it once on a lookback."},
		Trend: "More in line: + 1.5 reps a session (Z = 2.3).", Spread: "Spread: no trend shown. Day-later sets are kept apart.",
	}
	for _, l := range []book.SessionLine{
		{Date: "4 Oct", Low: 8, Middle: 17, High: 27, Counted: 5}, {Date: "11 Oct", Low: 4, Middle: 15, High: 26, Counted: 7},
		{Date: "18 Oct", Low: 2, Middle: 11, High: 21, Counted: 8}, {Date: "25 Oct", Low: 0, Middle: 12, High: 20, Counted: 8, Later: true},
		{Date: "1 Nov", Low: -3, Middle: 8, High: 18, Counted: 10}, {Date: "8 Nov", Low: -4, Middle: 6, High: 15, Counted: 13},
		{Date: "15 Nov", Low: -5, Middle: 7, High: 14, Counted: 12},
	} {
		l.Of, l.ShareLow, l.ShareHigh = 20, float64(l.Counted)/20-0.18, float64(l.Counted)/20+0.2
		s.Sessions = append(s.Sessions, l)
	}
	return s
}

func (fullBook) Clubs(string) []book.ClubLine {
	return []book.ClubLine{
		{Name: "wedge", Cm: 89, Line: "rung 4 of 8, 8 of 10 in the last set", Used: true},
		{Name: "9-iron", Cm: 91.5, Line: "rung 3 of 8, 12 of 20 in the last set", Offered: true},
		{Name: "7-iron", Cm: 94, Line: "no set yet"},
	}
}

func (fullBook) Check() []string {
	return []string{
		"Grip: lead hand in the fingers, trail hand over its thumb; light enough for the wrists to move, firm enough to keep the club.",
		"Posture: bent from the hips, back long, arms hanging free under the shoulders.",
		"Aim: toes, knees, hips and shoulders parallel to the target line; lay a stick down to see it.",
		"Ball position: short irons in the middle of the stance, longer clubs a little toward the lead foot.",
	}
}

func (fullBook) Session(string, float64) []book.PlanLine {
	set := book.PlanLine{Part: "the rung due", Drill: ladder()[2].Drill, Line: "10 reps: both hands, swing and catch", Why: "12 of 20: one more set."}
	rest := book.PlanLine{Part: "rest", Rest: 60, Line: "rest: 1 min"}
	last := book.PlanLine{Part: "ordinary swings", Drill: ladder()[6].Drill, Line: "10 reps: from address, with rhythm"}
	last.Drill.Reps = 10
	return []book.PlanLine{{Part: "warm-up", Line: "warm-up: 6 min"}, {Part: "set-up check", Line: "set-up check: 1 min"}, set, rest, set, rest, set, last}
}

func (b fullBook) Clinic() (book.ClinicSheet, bool) {
	s := book.ClinicSheet{Group: "Saturday group", Up: "Iven", UpID: "iven", UpLine: "Rung 2", UpReps: "3 of 8 reps", Then: "Sana"}
	add := func(name string, rung, counted int, waits, needs string, lines ...float64) {
		l := book.ClinicLine{Number: len(s.Players) + 1, Name: name, Rung: rung, Counted: counted, Of: len(lines), Waits: waits, Needs: needs, Up: name == "Iven", Longest: name == "Sana"}
		for i, v := range lines {
			m := drills.Swung
			if needs == "placed 5 of 6" && i > 0 {
				m = drills.Placed
			}
			l.Reps = append(l.Reps, rep(i+1, v, m))
		}
		s.Players = append(s.Players, l)
	}
	add("Iven", 2, 2, "", "", 9, 4, -3)
	add("Sana", 3, 7, "9 min", "", 9, 7, 5, 4, 2, 0, -3, -5, -11, -13)
	add("Marta", 3, 3, "8 min", "", 13, 11, 9, 6, 4, -4, -12)
	add("Oluwaseun", 4, 1, "6 min", "inside 7 of 8", 21, 18, 16, 13, 12, 10, 9, 7)
	add("Teodor", 2, 5, "7 min", "", 4, 2, 0, -2, -6)
	add("Aroha", 5, 4, "5 min", "", 5, 3, 1, -1, -9)
	add("Berit", 1, 1, "4 min", "placed 5 of 6", 9, 6, 3, 1, 0, -2)
	add("Li", 1, 0, "late", "")
	for i := len(s.Players); i < b.crowd; i++ {
		add(fmt.Sprintf("Bartholomea-Wilhelmina %d", i), 1+i%8, 3, "12 min", "", 4, 2, 0, -2, -6)
	}
	for i, name := range b.stations {
		if i > 0 {
			s.Players[2*i].Waits = name
		}
		s.Stations = append(s.Stations, book.StationLine{Name: name, Who: s.Players[2*i].Name, Camera: i == 0})
	}
	if b.crowd > 0 {
		s.Up, s.Then = "Bartholomea-Wilhelmina 9", "Maximiliane-Charlotte"
	}
	return s, true
}

// brokenBook has a drill file that cannot be read, and players with long names.
type brokenBook struct{ fullBook }

func (brokenBook) Faults() []error {
	return []error{errors.New("/home/coach/.config/drillbay/drills/gate-drill.yaml:7: the cue script \"gait\" is not known: catch, later, ordinary or strike"), errors.New("another")}
}

func (brokenBook) Clubs(string) []book.ClubLine { return nil }

func (b brokenBook) Players() []book.PlayerLine {
	list := b.fullBook.Players()
	list[0].Player.Name, list[0].Consent, list[0].ConsentAt = "Bartholomea-Wilhelmina Constantinopoulou", book.NoConsent, ""
	return list
}
