package app

import (
	"slices"
	"strings"

	"drillbay/camera/sight"
	"drillbay/drills"
	"drillbay/drills/book"
	"drillbay/drills/runner"
)

// turns holds the turns of a clinic while its players practise.
type turns struct {
	seen    bool            // the cautions, by the group
	checked map[string]bool // players who ticked their set-up
	looked  float64         // s, when it was last seen whether a turn is over
	closed  bool            // the turn is over, its last rep is still looked at: no more reps count
	list    *checkScreen    // what the one who is up ticked so far
}

// unchecked reports whether the set-up of who practises is still to be looked
// at: before a player's first rep in a clinic.
func (a *App) unchecked(player string) bool {
	if len(a.d.Book.Check()) == 0 || (a.group != nil && a.group.checked[player]) {
		return false
	}
	if a.group == nil {
		return true
	}
	sheet, _ := a.d.Book.Clinic()
	for _, p := range sheet.Players {
		if p.Up && p.Of > 0 {
			return false // before the laptop was started again, say
		}
	}
	return true
}

// lookEvery is the time between two looks whether a turn is over, s.
const lookEvery = 0.1

// stepIn begins the turn of who is up. The cautions are for the group: they
// are shown before its first rep, and again after the practice was left.
func (a *App) stepIn() {
	sheet, ok := a.d.Book.Clinic()
	if !ok || sheet.UpID == "" {
		a.tell("clinic", "Nobody is up.", "Press + when the chosen player has come, or J to let others join.")
		return
	}
	p, ok := a.player(sheet.UpID)
	if !ok {
		return
	}
	r := here(a.d.Book.Rungs(p.Player.ID))
	d, mix := r.Drill, slices.Clone(r.Order)
	if sheet.Reps > 0 {
		d.Reps = sheet.Reps // a turn is a set
		for i := range mix {
			mix[i].Reps = sheet.Reps
		}
	}
	a.plan = nil
	if a.group == nil {
		a.group = &turns{checked: map[string]bool{}}
		a.practise(p, d, mix)
		return
	}
	if !a.group.seen {
		return
	}
	snap, closed := a.d.Snapshot(), a.group.closed
	a.group.closed = false
	a.stack = slices.DeleteFunc(a.stack, func(s screen) bool {
		_, check := s.(*checkScreen)
		return check // it was for the one before
	})
	switch {
	case snap.Session != "" && snap.Player.ID == p.Player.ID && snap.Drill == d:
		a.d.Order(runner.Command{Do: runner.NewSet})
	case snap.Session != "" && snap.Player.ID == p.Player.ID:
		a.d.Order(begins(runner.Change, d, mix))
	default:
		a.d.Order(a.beginning(p, d, mix))
		if a.unchecked(p.Player.ID) {
			if board, ok := a.top().(*clinicScreen); !ok || !board.ending { // a question is not covered
				a.openCheck(p.Player)
			}
			return
		}
		closed = true
	}
	if closed {
		a.d.Order(runner.Command{Do: runner.Ready})
	}
}

// openCheck opens the list that is ticked before the first rep, in a group with what
// the player had ticked when the board was looked at.
func (a *App) openCheck(p runner.Player) {
	if a.group == nil {
		a.open(&checkScreen{player: p})
		return
	}
	if a.group.list == nil || a.group.list.player.ID != p.ID {
		a.group.list = &checkScreen{player: p}
	}
	a.open(a.group.list)
}

// openBoard goes to the clinic's board, from under which a player's list may have been
// opened.
func (a *App) openBoard() {
	if _, check := a.top().(*checkScreen); check {
		a.back()
	}
	if _, board := a.top().(*clinicScreen); !board {
		a.open(&clinicScreen{})
	}
}

// clinicSteps are the actions that change who is up in a clinic, or who is there.
var clinicSteps = map[Do]book.ClinicStep{NextPlayer: book.NextUp, Number: book.CallUp, More: book.Arrives, Less: book.Leaves}

// clinicDo changes whose turn it is, and has the one who is up step in where
// turns are practised.
func (a *App) clinicDo(d Do, number int) {
	var before book.ClinicSheet
	a.store(func() error {
		before, _ = a.d.Book.Clinic()
		return a.d.Book.ClinicDo(clinicSteps[d], number)
	}, func(err error) {
		if err != nil {
			a.tell("clinic", drills.Sentence(err.Error()), "")
			return
		}
		after, _ := a.d.Book.Clinic()
		if a.group != nil && a.group.seen && (after.UpID != before.UpID || d == NextPlayer) {
			a.moved(after)
			a.stepIn()
		}
	})
}

// moved tells who goes where: to the stations beside the camera, and who waits.
func (a *App) moved(sheet book.ClinicSheet) {
	var to, waits []string
	there := map[string]bool{sheet.Up: true}
	for _, s := range sheet.Stations {
		if there[s.Who] = true; !s.Camera && s.Who != "" {
			to = append(to, s.Name+": "+s.Who+".")
		}
	}
	for _, p := range sheet.Players {
		if !there[p.Name] && p.Waits != "late" && p.Waits != "left" {
			waits = append(waits, p.Name)
		}
	}
	switch {
	case len(to) == 0:
		return
	case len(waits) == 0:
		to = append([]string{"All move on."}, to...)
	default:
		to = append(to, "Waiting: "+strings.Join(waits, ", ")+".")
	}
	a.tell("clinic", strings.Join(to, " "), "")
}

// turn calls the next player when a turn is over: between reps, once the last one was
// read, told and looked at, also while the board is shown.
func (a *App) turn() {
	if a.group == nil || !a.group.seen || (a.now-a.group.looked < lookEvery && a.now >= a.group.looked) {
		return
	}
	a.group.looked = a.now
	p, ok := a.turning()
	if !ok || a.waits() {
		return
	}
	snap := a.d.Snapshot()
	sheet, ok := a.d.Book.Clinic()
	if !ok || snap.Player.ID != sheet.UpID || !sheet.Over && !a.group.closed {
		return
	}
	switch {
	case a.group.closed && p.look.on: // it is looked at
	case a.group.closed && !sheet.Over: // its last rep was taken back
		a.stepIn()
	case a.group.closed:
		a.clinicDo(NextPlayer, 0)
	case !between(snap):
	case p.look.on:
		a.group.closed = true
		a.d.Order(runner.Command{Do: runner.Enough})
	default:
		a.clinicDo(NextPlayer, 0)
	}
}

// turning is the practice screen while turns end by themselves: on top, or under the board.
func (a *App) turning() (*practiceScreen, bool) {
	at := len(a.stack) - 1
	if board, ok := a.top().(*clinicScreen); ok && !board.ending && at > 0 {
		at--
	}
	p, ok := a.stack[at].(*practiceScreen)
	return p, ok
}

// turnCue says who is next while the last rep of a turn is looked at, "" at any other time.
func (a *App) turnCue() string {
	if a.group == nil || !a.group.closed {
		return ""
	}
	if sheet, _ := a.d.Book.Clinic(); sheet.Then != "" {
		return "Next: " + sheet.Then
	}
	return "Turn over"
}

// between reports whether no rep is under way or waits to be told.
func between(s *runner.Snapshot) bool {
	switch s.Phase {
	case sight.Away, sight.Address:
		return s.Ready && !s.Paused && s.Waiting == 0 && !s.Lookback.On
	}
	return false
}
