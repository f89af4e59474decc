package drills

// Cause names the likely origin of a pattern of misses, in plain words.
type Cause uint8

const (
	DrawnInward   Cause = iota // hands drawn inward
	OpenedEarly                // face opened early
	PushedAway                 // hands pushed away
	HeldShut                   // face held shut, head outside
	TurnAlone                  // turn alone, arms do not rise
	RaisedAfter                // arms raised after the turn
	StoppedPlaced              // stopped and placed
	Hurried
)

var causeNames = [...]string{"hands drawn inward", "face opened early", "hands pushed away", "face held shut, head outside",
	"turn alone, arms do not rise", "arms raised after the turn", "stopped and placed", "hurried"}

func (c Cause) String() string { return name(causeNames[:], int(c)) }

// ParseCause is the inverse of String.
func ParseCause(s string) (Cause, error) {
	i, err := parse("cause", causeNames[:], s)
	return Cause(i), err
}

// Causes are all causes.
func Causes() []Cause {
	out := make([]Cause, len(causeNames))
	for i := range out {
		out[i] = Cause(i)
	}
	return out
}
