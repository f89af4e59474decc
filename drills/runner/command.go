package runner

// Do names a command.
type Do uint8

const (
	Begin     Do = iota // a session: Player, Bay, Drill; reps count from Ready on
	Ready               // the cautions were seen
	Enough              // reps count no more until Ready: the turn is over
	Finish              // the session
	Pause               // or go on
	Change              // to Drill: a new set
	NewSet              // of the same drill
	Say                 // the last verdict again
	TakeBack            // the last rep
	LookBack            // show the last rep again
	LookOn              // end the lookback
	Stay                // keep the lookback until LookOn
	Tempo               // metronome on or off; Number sets the rate when above 0
	BeatStart           // Number is the time of a beat, s: what is heard leads what is shown
	Mark                // the coach's marks on rep ID: Coach, Note, Kept
)

// Command is one order to the runner.
type Command struct {
	Do     Do
	Player Player
	Bay    string
	Drill  Drill
	Order  []Drill // Begin, Change: the drill of each rep of a mixed set, the first is Drill
	Number float64
	ID     string
	Coach  string
	Note   string
	Kept   bool
}
