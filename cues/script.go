package cues

import (
	"embed"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"drillbay/assets"
)

// Kind is a moment of a session that may be heard.
type Kind uint8

const (
	Began         Kind = iota // a session
	AddressTaken              // the player stands still at the ball
	TurnedRound               // the backward motion began
	CatchSeen                 // the club has been still for a moment
	RepDone                   // a rep is stored: its verdict may be told
	RepAgain                  // asked for again
	RepTaken                  // taken back
	SetDone                   // so many counted of so many
	Paused                    //
	GoneOn                    //
	DrillChanged              //
	NoticeRaised              // something needs the player
	NoticeCleared             //
	BeatChanged               // the metronome: on or off, its rate
	Ended                     // the session
	Moving                    // the club moves: nothing is said
	Still                     // it is still again
)

var kindNames = [...]string{"began", "address", "turned", "caught", "rep", "again", "taken back", "set done", "paused", "going on",
	"drill changed", "trouble", "trouble over", "beat", "ended", "moving", "still"}

func (k Kind) String() string {
	if int(k) < len(kindNames) {
		return kindNames[k]
	}
	return fmt.Sprintf("unknown (%d)", uint8(k))
}

// doing says what one cue does.
type doing uint8

const (
	sound    doing = iota // a tone
	say                   // phrases
	verdict               // the rep's, when feedback is due
	reminder              // the verdict, due or not
	count                 // the rep's number
	summary               // of the set
	cautions
)

// Cue is one thing that is heard.
type Cue struct {
	do      doing
	tone    Tone
	phrases []Phrase
}

// Script says what is heard in a rung: cues by moment, when verdicts are told, and the
// pattern of the metronome.
type Script struct {
	Feedback Feedback
	Lead     Lead
	// GoesOn says that a rep goes on after its verdict, to a strike: what else
	// is to be heard waits until it is over.
	GoesOn bool
	// CountIn is the number of beats that are counted before the metronome's first round;
	// Ratio is back : down where it leads whole swings.
	CountIn int
	Ratio   float64
	cues    [len(kindNames)][]Cue
}

// Lead is the pattern of the metronome.
type Lead uint8

const (
	LeadCatch Lead = iota // forward, back, catch, hold
	LeadSwing             // takeaway, top, impact
	LeadPlain             // one sound a beat
	LeadNone
)

var leadNames = [...]string{"swing and catch", "whole swing", "plain", "none"}

//go:embed scripts/*.txt
var scripts embed.FS

// ScriptNamed is one of the built-in scripts: "catch", "strike", "ordinary",
// "later".
func ScriptNamed(name string) (Script, error) {
	b, err := scripts.ReadFile("scripts/" + name + ".txt")
	if err != nil {
		return Script{}, fmt.Errorf("there is no cue script %q", name)
	}
	return ParseScript(name, string(b))
}

// ParseScript reads a script. A line is a moment and what is heard then, in
// order:
//
//	rep: tone seen, verdict
//	set done: tone set done, summary, say rest
//
// or a setting (feedback, lead, count in, ratio, goes on). # begins a remark. Errors name the
// file and the line.
func ParseScript(file, text string) (Script, error) {
	s := Script{Ratio: UsualRatio}
	seen := map[string]bool{}
	known := assets.Phrases()
	for n, line := range strings.Split(text, "\n") {
		line, _, _ = strings.Cut(line, "#")
		if line = strings.TrimSpace(line); line == "" {
			continue
		}
		wrong := func(format string, args ...any) error {
			return fmt.Errorf("%s: line %d: %s", file, n+1, fmt.Sprintf(format, args...))
		}
		key, value, ok := strings.Cut(line, ":")
		key, value = strings.TrimSpace(key), strings.TrimSpace(value)
		if !ok {
			return Script{}, wrong("%q has no colon: write a moment, a colon and what is heard", line)
		}
		if seen[key] {
			return Script{}, wrong("%q stands there twice", key)
		}
		seen[key] = true
		var err error
		switch key {
		case "feedback":
			s.Feedback, err = ParseFeedback(value)
		case "lead":
			s.Lead, err = parseLead(value)
		case "goes on":
			if s.GoesOn = value == "yes"; !s.GoesOn && value != "no" {
				err = fmt.Errorf("%q is neither yes nor no", value)
			}
		case "count in":
			if s.CountIn, err = strconv.Atoi(value); err != nil || s.CountIn < 0 || s.CountIn > longestCount {
				err = fmt.Errorf("%q is no count-in: 0 to %d beats", value, longestCount)
			}
		case "ratio":
			if s.Ratio, err = strconv.ParseFloat(value, 64); err == nil {
				err = CheckSwing(longTime, s.Ratio)
			}
		default:
			i := slices.Index(kindNames[:], key)
			if i < 0 {
				return Script{}, wrong("%q is no moment: one of %q", key, kindNames)
			}
			s.cues[i], err = parseCues(value, known)
		}
		if err != nil {
			return Script{}, wrong("%v", err)
		}
	}
	return s, nil
}

// Saying is the script with phrases said after what else is heard at a moment.
func (s Script) Saying(k Kind, phrases ...Phrase) Script {
	s.cues[k] = append(slices.Clone(s.cues[k]), Cue{do: say, phrases: phrases})
	return s
}

func parseCues(text string, known []string) ([]Cue, error) {
	var out []Cue
	for _, part := range strings.Split(text, ",") {
		part = strings.TrimSpace(part)
		verb, rest, _ := strings.Cut(part, " ")
		c := Cue{}
		switch {
		case part == "":
			continue
		case verb == "tone":
			t, ok := ToneNamed(strings.TrimSpace(rest))
			if !ok {
				return nil, fmt.Errorf("there is no tone %q", rest)
			}
			c = Cue{do: sound, tone: t}
		case verb == "say" && rest != "":
			c.do = say
			for _, p := range strings.Fields(rest) {
				if !slices.Contains(known, p) {
					return nil, fmt.Errorf("there is no spoken phrase %q", p)
				}
				c.phrases = append(c.phrases, Phrase(p))
			}
		default:
			do, ok := map[string]doing{"verdict": verdict, "reminder": reminder, "count": count, "summary": summary, "cautions": cautions}[part]
			if !ok {
				return nil, fmt.Errorf("%q cannot be heard: write tone, say, verdict, reminder, count, summary or cautions", part)
			}
			c.do = do
		}
		out = append(out, c)
	}
	return out, nil
}

func parseLead(s string) (Lead, error) {
	i := slices.Index(leadNames[:], s)
	if i < 0 {
		return 0, fmt.Errorf("lead %q is not one of %q", s, leadNames)
	}
	return Lead(i), nil
}
