package app

import "unicode"

// Do is a named action. Keys, clicker and pointer all become these, and
// nothing else asks for keys.
type Do uint8

const (
	Nothing Do = iota
	Go         // go on, take what is offered
	Back       // one step back
	Hold       // pause, or hold the lookback
	Keys
	FullScreen
	PageOn   // clicker: go on
	PageBack // clicker: look back
	NewPlayer
	Clinic
	Progress
	Drills
	Settings
	Lens
	LookBack
	LookUp
	Voice
	Tempo
	SayAgain
	Lines
	Distance
	Club
	Field
	Against
	Pencil
	Overlay
	Keep
	TakeBack
	NextPlayer
	More // arrive, or more of a value
	Less // leave, or less of a value
	Report
	Export
	Agree    // consent to clips
	Join     // players who come late
	EndGroup // of players
	Left
	Right
	Up
	Down
	Quarter
	Half
	Full
	Number // N: a clinic player, a row
	Choose // N: a row
	Next   // the next field
	Erase
	EraseOn
	Home
	End
	Tell // N: the sentence of a lasting condition
	Second
	dos
)

// caps are the words on the key caps, in the order of Do.
var caps = [dos]string{
	"", "Enter", "Esc", "Space", "?", "F11", "Page down", "Page up", "N", "C", "P", "D", "S", "L", "B", "M", "V", "T", "Y",
	"H", "E", "U", "F", "A", "I", "O", "K", "Z", "G", "+", "−", "R", "X", "W", "J", "Q", "←", "→", "↑", "↓", "", "", "",
	"", "", "Tab", "", "Del", "", "", "", "F9",
}

// Cap is the word on the key of an action, "" when it has none.
func (d Do) Cap() string {
	if int(d) < len(caps) {
		return caps[d]
	}
	return ""
}

func (d Do) String() string {
	if c := d.Cap(); c != "" {
		return c
	}
	return map[Do]string{Nothing: "none", Number: "number", Choose: "choose", Erase: "erase", EraseOn: "erase on", Home: "home", End: "end", Quarter: "quarter", Half: "half", Full: "full"}[d]
}

// doOf is the action of a typed letter, Nothing when it has none.
func doOf(r rune) (d Do, n int) {
	switch {
	case r == ' ':
		return Hold, 0
	case r == '-' || r == '−' || r == '_':
		return Less, 0
	case r == '=':
		return More, 0
	case r >= '0' && r <= '9':
		return Number, int(r - '0')
	}
	up := string(unicode.ToUpper(r))
	for d := Go; d < dos; d++ {
		if d.Cap() == up {
			return d, 0
		}
	}
	return Nothing, 0
}

// Kind says what an Action is.
type Kind uint8

const (
	Key    Kind = iota // Do, with N
	Typed              // Text, letters as the keyboard gives them
	Pasted             // Text, from elsewhere: only fields take it
	Press              // the pointer went down at X, Y
	Move               // it moved to X, Y
	Let                // it went up at X, Y
	Roll               // the wheel turned by N rows
	Size               // the window is X by Y px; the screen's diagonal is N px
	Close              // the window is to be closed
)

// Action is one raw input.
type Action struct {
	Kind Kind
	Do   Do
	N    int
	Text string
	X, Y float64
}
