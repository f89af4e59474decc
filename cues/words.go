package cues

import (
	"math"
	"strconv"
	"strings"

	"drillbay/drills"
)

// Phrase is the name of a spoken phrase (assets.Phrase).
type Phrase string

// highest is the largest number that is spoken.
const highest = 999

// Number is a number in words, each a phrase: "twenty", "eight". Numbers
// below 0 are said without their sign, those above 999 as 999.
func Number(n int) []Phrase {
	n = min(max(n, -max(n, -highest)), highest)
	var out []Phrase
	if n >= 100 {
		out = append(out, digits(n/100))
		if n%100 == 0 {
			return append(out, "hundred")
		}
		out = append(out, "hundred-and")
		n %= 100
	}
	if n > 20 && n%10 != 0 {
		out = append(out, digits(n-n%10))
		n %= 10
	}
	return append(out, digits(n))
}

func digits(n int) Phrase { return Phrase(strconv.Itoa(n)) }

// Gap is the silence between two phrases, seconds: none within a number, a
// short one between words.
func Gap(a, b Phrase) float64 {
	number := func(p Phrase) bool {
		_, err := strconv.Atoi(string(p))
		return err == nil || p == "hundred" || p == "hundred-and"
	}
	if number(a) && number(b) {
		return 0
	}
	return 0.07
}

// VerdictWords says a rep: the side, then the manner. Sides away from the
// line come with their degrees.
func VerdictWords(r drills.Rep) []Phrase {
	if r.FaceOn() && r.Verdict == drills.NoReading {
		// No shaft line from there: how it was swung is all that is said.
		return []Phrase{map[drills.Manner]Phrase{drills.Swung: "swung", drills.Placed: "and-placed", drills.Unsure: "swung-or-placed"}[r.Manner]}
	}
	side := map[drills.Verdict]Phrase{drills.InLine: "in-line", drills.Inside: "inside", drills.Outside: "outside", drills.Short: "short"}[r.Verdict]
	if side == "" {
		return []Phrase{"no-reading"}
	}
	if r.Just && r.Verdict != drills.Short {
		side += "-just"
	}
	out := []Phrase{side}
	if (r.Verdict == drills.Inside || r.Verdict == drills.Outside) && r.ShaftLine.OK() {
		out = append(out, Number(int(math.Round(math.Abs(r.ShaftLine.Value))))...)
	}
	switch {
	case r.Manner == drills.Unsure:
		return append(out, "swung-or-placed")
	case r.Manner == drills.Placed && r.Verdict == drills.InLine:
		return append(out, "but-placed", "go-again")
	case r.Manner == drills.Placed:
		return append(out, "and-placed")
	case r.Verdict == drills.InLine:
		return append(out, "swung")
	}
	return out
}

// LossWords say what a rep lost of the body, in one short sentence after its
// verdict.
func LossWords(l drills.Loss) []Phrase {
	side := map[int]string{-1: "-low", 1: "-high"}[l.Side]
	if side == "" {
		return nil
	}
	return []Phrase{Phrase(strings.ReplaceAll(l.Part.Key(), "_", "-") + side)}
}

// SummaryWords says a set: how many counted of how many.
func SummaryWords(counted, of int) []Phrase {
	out := []Phrase{"set-done"}
	if of == 0 {
		return out // nothing that could count: seen face-on
	}
	if counted == 0 {
		out = append(out, "none")
	} else {
		out = append(out, Number(counted)...)
	}
	out = append(append(out, "of"), Number(of)...)
	return append(out, "in-line-and-swung")
}

// CautionWords are the cautions before the first rep of a session.
func CautionWords() []Phrase {
	return []Phrase{"caution-room", "caution-people", "caution-net", "caution-camera", "caution-ball", "caution-hold", "caution-body", "caution-children"}
}
