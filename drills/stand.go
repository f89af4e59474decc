package drills

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"
)

// Outcome is the result of a decision on the ladder.
type Outcome uint8

const (
	Stays Outcome = iota
	Passed
	SteppedBack
	Kept
	NotKept
	NoTest // a retention set that tests nothing: it came too early
)

var outcomeNames = [...]string{"stays", "passed", "one rung back", "kept", "not kept", "no test"}

func (o Outcome) String() string { return name(outcomeNames[:], int(o)) }

// Decision is one decision, with the reason in a sentence, and the figures that
// stand behind it, "" for none.
type Decision struct {
	At       time.Time
	Drill    string
	Outcome  Outcome
	Share    Share
	Sentence string
	Figures  string
}

// RungState holds a player's state on a rung with a club.
type RungState struct {
	Passed, Kept bool
	Last         Share     // the last practice set
	Practised    time.Time // zero: never
	window       []bool    // reps since the rung was begun anew
}

// Standing holds a player's place on a ladder with one club.
type Standing struct {
	Club      string
	Here      int // index of the rung to practise
	Rungs     []RungState
	Said      []Decision // every decision, oldest first
	Practised time.Time  // the last practice, any rung; zero: never
	Tested    time.Time  // the last retention set that counted
}

// Why is the last thing that was decided on a rung, "" when nothing was.
func (s Standing) Why(drill string) string {
	for _, d := range slices.Backward(s.Said) {
		if d.Drill == drill {
			return d.Sentence
		}
	}
	return ""
}

// Stand works out from all sets with a club how the player stands. The order
// of sets is that of their time. Sets of drills that are on no rung decide
// nothing.
func (l Ladder) Stand(sets []Set, club string) Standing {
	s := Standing{Club: club, Rungs: make([]RungState, len(l.Rungs))}
	sets = slices.Clone(sets)
	slices.SortStableFunc(sets, func(a, b Set) int { return a.Began.Compare(b.Began) })
	for _, set := range sets {
		if len(set.Reps) == 0 {
			continue
		}
		if set.Kind == Retention {
			if set.Club == club {
				s.test(l, set)
			}
			continue
		}
		// Practice with any club is practice.
		s.Practised = set.Ended
		if set.Club != club {
			continue
		}
		if i := l.Find(set.Drill); i >= 0 {
			s.practise(l, i, set)
		}
	}
	return s
}

// practise judges a rung after a practice set.
func (s *Standing) practise(l Ladder, i int, set Set) {
	d, r := l.Rungs[i], &s.Rungs[i]
	r.Last, r.Practised = set.Share(), set.Ended
	r.window = append(r.window, set.Reps...)
	tail := func(n int) Share { return Counted(r.window[max(0, len(r.window)-n):]) }
	all, last := tail(d.Passing.Reps), tail(BackReps)
	// A set may pass by itself: what was learned since shows there.
	if alone := set.Share(); alone.Of >= d.Passing.Least && alone.Low() >= d.Passing.Pass {
		all = alone
	}
	switch {
	case i > s.Here && !r.Passed && (all.Of < d.Passing.Least || all.Low() < d.Passing.Pass):
		// A rung above the one where the player stands, for a change or at the
		// end of a session: it decides nothing until it is passed.
	case last.Of >= BackReps && last.High() < d.Passing.Back:
		s.back(l, i, set, last)
	case r.Passed:
		// It holds: nothing is to be decided.
	case all.Of >= d.Passing.Least && all.Low() >= d.Passing.Pass:
		r.Passed = true
		s.goOn(i)
		s.say(set, d.ID, Passed, all, atLeast(all, d.Passing.Pass), "%s in line and swung: passed.", all)
	case all.Of < d.Passing.Least:
		s.say(set, d.ID, Stays, all, "", "%s in line and swung: too few to decide. That takes at least %d reps.", all, d.Passing.Least)
	default:
		s.say(set, d.ID, Stays, all, asLittle(all, d.Passing.Pass), "%s in line and swung: the same rung again. %s would pass it.", all, enough(d.Passing.Pass))
	}
}

// goOn goes on from the rung where the player stands, over those that are
// passed already; a rung above it that is passed waits for those below.
func (s *Standing) goOn(passed int) {
	if passed != s.Here {
		return
	}
	for s.Here < len(s.Rungs)-1 && s.Rungs[s.Here].Passed {
		s.Here++
	}
}

// back steps back from a rung that does not hold.
func (s *Standing) back(l Ladder, i int, set Set, last Share) {
	d := l.Rungs[i]
	to := i
	if !s.Rungs[i].Passed && i > 0 {
		to = i - 1
	}
	held := s.Rungs[i].Passed
	for _, k := range []int{i, to} {
		s.Rungs[k].Passed, s.Rungs[k].Kept, s.Rungs[k].window = false, false, nil
	}
	most := fmt.Sprintf("In the long run that is at most %s (95 %% sure), under %s.", percent(last.High()), percent(d.Passing.Back))
	switch {
	case to < i:
		s.Here = to
		s.say(set, d.ID, SteppedBack, last, most, "%s in line and swung: one rung back, to: %s.", last, l.Rungs[to].Name)
	case held && i > s.Here:
		s.say(set, d.ID, SteppedBack, last, most, "%s in line and swung: this rung was passed but does not hold. Pass it again.", last)
	case held:
		s.Here = min(s.Here, i)
		s.say(set, d.ID, SteppedBack, last, most, "%s in line and swung: this rung was passed but does not hold. Back to it.", last)
	default:
		s.say(set, d.ID, Stays, last, most, "%s in line and swung. There is no easier rung: swing slower, and not so far back.", last)
	}
}

// test judges a retention set.
func (s *Standing) test(l Ladder, set Set) {
	i := l.Find(set.Drill)
	share := set.Share()
	keep := UsualPassing()
	if i >= 0 {
		keep = l.Rungs[i].Passing
	}
	gap := set.Began.Sub(s.Practised)
	if !s.Practised.IsZero() && gap < LaterDay {
		s.say(set, set.Drill, NoTest, share, "", "%s, but only %.0f hours after practice: too soon to test anything. Wait 24 hours.", share, math.Floor(gap.Hours()))
		return
	}
	s.Tested = set.Ended
	when := fmt.Sprintf("%.0f hours after practice, without feedback", math.Floor(gap.Hours()))
	if s.Practised.IsZero() {
		when = "before any practice"
	}
	switch {
	case share.Of >= keep.Least && share.Low() >= keep.Keep:
		if i >= 0 {
			s.Rungs[i].Kept = true
		}
		s.say(set, set.Drill, Kept, share, atLeast(share, keep.Keep), "%s in line and swung, %s: kept.", share, when)
	default:
		if i >= 0 {
			s.Rungs[i].Kept = false
		}
		s.say(set, set.Drill, NotKept, share, asLittle(share, keep.Keep), "%s in line and swung, %s: not kept yet. %s would keep it.", share, when, enough(keep.Keep))
	}
}

func (s *Standing) say(set Set, drill string, o Outcome, share Share, figures, format string, args ...any) {
	s.Said = append(s.Said, Decision{At: set.Ended, Drill: drill, Outcome: o, Share: share, Sentence: fmt.Sprintf(format, args...), Figures: figures})
}

// atLeast and asLittle are the figures behind a share that is enough, and behind
// one that is not.
func atLeast(s Share, asked float64) string {
	return fmt.Sprintf("In the long run that is at least %s (95 %% sure); %s is asked for.", percent(s.Low()), percent(asked))
}

func asLittle(s Share, asked float64) string {
	return fmt.Sprintf("In the long run that may be as little as %s; %s is asked for.", percent(s.Low()), percent(asked))
}

// percent is a share in whole per cent.
func percent(share float64) string { return fmt.Sprintf("%.0f %%", share*100) }

// enough says how many of 10 and of 20 have a lower bound above low: "9 of 10 or 16 of 20".
func enough(low float64) string {
	var parts []string
	for _, n := range []int{10, 20} {
		for k := range n + 1 {
			if s := (Share{k, n}); s.Low() >= low {
				parts = append(parts, s.String())
				break
			}
		}
	}
	return strings.Join(parts, " or ")
}
