package drills

import "fmt"

// Form says how a drill goes.
type Form uint8

const (
	FormCatch    Form = iota // swung back and caught
	FormStrike               // caught, looked at, turned and struck
	FormOrdinary             // without a stop, to a finish
	FormCheck                // a list to tick, no reps
	FormMixed                // reps of drills that are passed, in turn
)

var formNames = [...]string{"catch", "catch, turn and strike", "ordinary", "check", "mixed"}

func (f Form) String() string { return name(formNames[:], int(f)) }

// ParseForm is the inverse of String.
func ParseForm(s string) (Form, error) {
	i, err := parse("form", formNames[:], s)
	return Form(i), err
}

// Arms are the arms that hold the club.
type Arms uint8

const (
	BothArms Arms = iota
	LeadArm
)

var armsNames = [...]string{"both", "lead"}

func (a Arms) String() string { return name(armsNames[:], int(a)) }

// ParseArms is the inverse of String.
func ParseArms(s string) (Arms, error) {
	i, err := parse("arms", armsNames[:], s)
	return Arms(i), err
}

// Drill is one drill, as a file describes it.
type Drill struct {
	ID, Name    string
	Rung        int // place on the ladder, from 1; 0: not on it
	Form        Form
	Purpose     string
	Setup       []string
	Steps       []string
	Feel        []string
	Ball        bool
	MovingStart bool // the club swings forward first
	Arms        Arms
	Measured    []string // what is measured of a rep
	Watched     []Watch  // what is watched of the body beside the shaft line, MostWatched at most
	Script      string   // name of the cue script
	Cues        string   // a cue script of its own; "" uses Script
	Beat        float64  // beats a minute, 0: no metronome
	Reps        int      // in a set
	Feedback    string   // after which reps a verdict is told
	Passing     Passing
	WorksOn     []Cause
	Cautions    []string
}

// Passing says when a rung is passed, and kept: by the lower bound of the share that
// counts, with 95 % confidence. The numbers are a convention.
type Passing struct {
	Least int     // reps at least
	Reps  int     // how many of the last reps are looked at
	Pass  float64 // lower bound in practice
	Keep  float64 // lower bound on a later day, without feedback
	Back  float64 // a rung is left when the upper bound over BackReps is below
}

// BackReps is over how many of the last reps a rung must hold.
const BackReps = 10

// UsualPassing is the rule where a file gives none: 9 of 10 and 16 of 20
// pass; 9 of 9 and 19 of 20 keep.
func UsualPassing() Passing { return Passing{Least: 8, Reps: 20, Pass: 0.55, Keep: 0.70, Back: 0.55} }

// Check says what is wrong with a drill as a whole.
func (d Drill) Check() error {
	p := d.Passing
	switch {
	case d.Form != FormCheck && (d.Reps < 1 || d.Reps > 100):
		return fmt.Errorf("reps: %d in a set: 1 to 100 are possible", d.Reps)
	case d.Form != FormCheck && d.Script == "" && d.Cues == "":
		return fmt.Errorf("script: name a cue script, or write one under cues")
	case d.Rung < 0 || d.Rung > 100:
		return fmt.Errorf("rung: %d: 1 to 100, or none", d.Rung)
	case d.Beat != 0 && !(d.Beat >= 30 && d.Beat <= 160):
		return fmt.Errorf("beat: %g: 30 to 160 beats a minute", d.Beat)
	case p.Least < 1 || p.Reps < p.Least || p.Reps < BackReps:
		return fmt.Errorf("passing: reps must be at least %d and at least as many as least", BackReps)
	case !(p.Pass > 0 && p.Pass < 1 && p.Keep > 0 && p.Keep < 1 && p.Back >= 0 && p.Back < 1):
		return fmt.Errorf("passing: pass, keep and back are shares between 0 and 1")
	case len(d.Watched) > MostWatched:
		return fmt.Errorf("watched: %d things: %d at most, nobody can think of more at once", len(d.Watched), MostWatched)
	case d.MovingStart && d.Ball && d.Form == FormCatch:
		return fmt.Errorf("ball: no ball on a catch with a moving start: the club swings forward through its place")
	}
	return nil
}
