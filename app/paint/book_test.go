package paint

import (
	"fmt"

	"drillbay/app"
	"drillbay/drills"
	"drillbay/drills/runner"
)

// fullBook is a coach's book in which something is written everywhere.
type fullBook struct {
	app.NoBook
	crowd int
}

func (b fullBook) Players() []app.PlayerLine {
	return []app.PlayerLine{
		{Player: runner.Player{ID: "marta", Name: "Marta"}, ClubCm: 94, Rung: 3, Line: "Rung 3: both hands, swing and catch. 12 of 20 last time.", Short: "7 sessions since 4 October"},
		{Player: runner.Player{ID: "iven", Name: "Iven", Hand: drills.Left}, Rung: 2},
	}
}

func ladder() (out []app.RungLine) {
	for i, l := range []app.RungLine{
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

func (fullBook) Rungs(string) []app.RungLine { return ladder() }

func (fullBook) Progress(string) app.ProgressSheet {
	s := app.ProgressSheet{
		Headline: "Rung 3 of 8", Why: "12 of 20 in line and swung: one more set.", Rungs: ladder(),
		Next:  []string{"Misses go inside, 7 of 8, hands 9 cm deep. Likely: hands drawn inward. It could be the face opened early: mark it once on a lookback."},
		Feel:  "the grip stays in front of the chest.",
		Trend: "More in line: + 1.5 reps a session (Z = 2.3).", Spread: "Spread: no trend shown. Day-later sets are kept apart.",
	}
	for _, l := range []app.SessionLine{
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

func (b fullBook) Clinic() (app.ClinicSheet, bool) {
	s := app.ClinicSheet{Group: "Saturday group", Turn: 31, Bays: 1, Up: "Iven", UpLine: "Rung 2", UpReps: "5 reps", Then: "Sana"}
	add := func(name string, rung, counted int, waits, needs string, lines ...float64) {
		l := app.ClinicLine{Number: len(s.Players) + 1, Name: name, Rung: rung, Counted: counted, Of: len(lines), Waits: waits, Needs: needs, Up: name == "Iven"}
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
	if b.crowd > 0 {
		s.Up, s.Then = "Bartholomea-Wilhelmina 9", "Maximiliane-Charlotte"
	}
	return s, true
}
