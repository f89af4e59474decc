package pattern

import (
	"slices"

	"drillbay/drills"
)

// answer says whether the evidence shows a sign.
type answer int8

const (
	no answer = iota - 1
	unknown
	yes
)

func not(a answer) answer { return -a }

// all is yes when all are, no when one is not.
func all(list ...answer) answer { return slices.Min(append(list, yes)) }

// signs are the columns of the table of causes.
type signs struct {
	inside, outside answer
	deep, away      answer
	open, neutral   answer
	shut            answer
	placed          answer
	late, rises     answer // level moment late; hands high at the top
	hurried         answer
}

// above says whether a mean is above a limit: yes or no when its interval
// does not hold the limit.
func above(m drills.Mean, limit float64) answer {
	switch {
	case m.N < Fewest:
		return unknown
	case m.Low > limit:
		return yes
	case m.High < limit:
		return no
	}
	return unknown
}

// either is yes when the first says so and no when the second does: between
// their limits nothing is known.
func either(is, isNot answer) answer {
	switch {
	case is == yes:
		return yes
	case isNot == yes:
		return no
	}
	return unknown
}

func below(m drills.Mean, limit float64) answer { return not(above(m, limit)) }

// often says whether something happens in a share of the reps that matters.
func often(s drills.Share) answer {
	switch low, high := s.Bounds(); {
	case s.Of < Fewest:
		return unknown
	case low > oftenShare:
		return yes
	case high < oftenShare:
		return no
	}
	return unknown
}

// signsOf reads the signs. A side is meant when the misses lean to it by more
// than half the band.
func signsOf(e Evidence, a Beside) signs {
	s := signs{
		inside: above(e.Line, a.Band/2), outside: below(e.Line, -a.Band/2),
		deep: above(e.Depth, a.Deep), away: below(e.Depth, -awayCm),
		open: faceIs(e, a, drills.Open), neutral: faceIs(e, a, drills.Neutral), shut: faceIs(e, a, drills.Shut),
		placed: often(e.Placed),
		late:   either(above(e.LevelAt, late), below(e.LevelAt, soon)), rises: either(above(e.Top, risenCm), below(e.Top, flatCm)),
		hurried: often(e.Hasty),
	}
	if e.Placed.Of < Fewest && e.Free >= Fewest {
		s.placed = no
	}
	return s
}

// heightRead reports whether the reps showed when the hands gain height; where they are not
// late it does not matter how high they come.
func (s signs) heightRead() bool { return s.late == no || s.late == yes && s.rises != unknown }

// answered is s with the coach's answer in place of what the reps did not show.
func (s signs) answered(r Rise) signs {
	late, rises := unknown, unknown
	switch r {
	case RisesSoon:
		late = no
	case RisesLate:
		late, rises = yes, yes
	case NeverHigh:
		late, rises = yes, no
	}
	if s.late == unknown {
		s.late = late
	}
	if s.rises == unknown {
		s.rises = rises
	}
	return s
}

// faceIs says whether the face is the one asked for: by the coach's answer,
// or when most marks say so (lower bound over a half: 4 of 4, 7 of 8).
func faceIs(e Evidence, a Beside, f drills.Face) answer {
	if a.Face != drills.Unmarked {
		if a.Face == f {
			return yes
		}
		return no
	}
	share := drills.Share{Good: e.Faces[f], Of: e.Faces[drills.Open] + e.Faces[drills.Neutral] + e.Faces[drills.Shut]}
	switch low, high := share.Bounds(); {
	case low > 0.5:
		return yes
	case high < 0.5:
		return no
	}
	return unknown
}
