// Package drills has the plain values of practice: verdict, manner, rep,
// drill, rung and set, and the rules over them. No input or output.
package drills

import "fmt"

// Verdict is the side of the shaft line at the level moment, and only that.
type Verdict uint8

const (
	NoReading Verdict = iota // not measured; Rep.Why says why
	InLine
	Inside  // the clubhead on the player's side of the band
	Outside // the clubhead beyond the band on the other side
	Short   // stopped more than 12° before level
)

var verdictNames = [...]string{"no reading", "in line", "inside", "outside", "short"}

func (v Verdict) String() string { return name(verdictNames[:], int(v)) }

// ParseVerdict is the inverse of String.
func ParseVerdict(s string) (Verdict, error) {
	i, err := parse("verdict", verdictNames[:], s)
	return Verdict(i), err
}

// Manner says whether the club was swung into the catch or placed there. It
// is never part of the verdict; a placed rep never counts.
type Manner uint8

const (
	Unsure Manner = iota
	Swung
	Placed
)

var mannerNames = [...]string{"unsure", "swung", "placed"}

func (m Manner) String() string { return name(mannerNames[:], int(m)) }

// ParseManner is the inverse of String.
func ParseManner(s string) (Manner, error) {
	i, err := parse("manner", mannerNames[:], s)
	return Manner(i), err
}

// Hand is the player's: a right-hander stands on the left of the picture.
type Hand uint8

const (
	Right Hand = iota
	Left
)

var handNames = [...]string{"right", "left"}

func (h Hand) String() string { return name(handNames[:], int(h)) }

// ParseHand is the inverse of String.
func ParseHand(s string) (Hand, error) {
	i, err := parse("hand", handNames[:], s)
	return Hand(i), err
}

func name(names []string, i int) string {
	if i < len(names) {
		return names[i]
	}
	return fmt.Sprintf("unknown (%d)", i)
}

func parse(what string, names []string, s string) (int, error) {
	for i, n := range names {
		if n == s {
			return i, nil
		}
	}
	return 0, fmt.Errorf("%s %q is not one of %q", what, s, names)
}
