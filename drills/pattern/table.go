package pattern

import "drillbay/drills"

// row is a row of the table of causes.
type row struct {
	when   func(signs) answer // all its signs
	begins func(signs) answer // the sign without which it is not worth a question
	uses   []use
	other  []string
	feel   string
}

// table returns the signs by which the trade knows a cause (common practice). Where two
// rows share their side and depth, the one with more signs is meant when these are there.
func table(c drills.Cause) row {
	inside := func(s signs) answer { return s.inside }
	outside := func(s signs) answer { return s.outside }
	switch c {
	case drills.DrawnInward:
		return row{
			when: func(s signs) answer {
				return all(s.inside, s.deep, not(turnAlone(s)), not(raisedAfter(s)))
			},
			begins: func(s signs) answer { return all(s.inside, s.deep) },
			uses:   []use{useLine, useDepth, useShoulder, useHeight, useTop, useFace},
			other:  []string{"standing too close to the ball", "a turn that begins with the hips", "a lens that is not on the hands: look at its offset"},
			feel:   "The hands stay in front of the chest and pass over the trail foot; the clubhead is the last to go inside.",
		}
	case drills.OpenedEarly:
		return row{
			when:   func(s signs) answer { return all(s.inside, not(s.deep), not(s.away), s.open, not(s.placed)) },
			begins: inside,
			uses:   []use{useLine, useDepth, useFace},
			other:  []string{"a grip turned too far from the target", "hands that are drawn inward a little", "aim to the inside of the target line"},
			feel:   "The back of the lead hand keeps looking at the ball a little longer; the toe follows the spine, it does not lead.",
		}
	case drills.PushedAway:
		return row{
			when:   func(s signs) answer { return all(s.outside, s.away, not(s.shut)) },
			begins: outside,
			uses:   []use{useLine, useDepth, useShoulder, useFace},
			other:  []string{"standing too far from the ball", "weight on the toes", "aim to the outside of the target line"},
			feel:   "The upper lead arm stays on the chest as the chest turns; the club leaves with the body, not before it.",
		}
	case drills.HeldShut:
		return row{
			when:   func(s signs) answer { return all(s.outside, not(s.away), s.shut) },
			begins: outside,
			uses:   []use{useLine, useDepth, useFace},
			other:  []string{"a grip turned too far toward the target's other side", "a bowed lead wrist", "the trail arm pushing the club back"},
			feel:   "Let the clubhead's weight turn the forearms; at level the leading edge lies along the spine.",
		}
	case drills.TurnAlone:
		return row{
			when:   turnAlone,
			begins: func(s signs) answer { return all(s.inside, s.deep) },
			uses:   []use{useLine, useDepth, useHeight, useTop, useFace},
			other:  []string{"hands drawn inward", "a stiff lead wrist", "too flat a posture"},
			feel:   "The arms swing up while the chest turns; at level the hands have come as high as the hips.",
		}
	case drills.RaisedAfter:
		return row{
			when:   raisedAfter,
			begins: func(s signs) answer { return s.deep },
			uses:   []use{useLine, useDepth, useHeight, useTop},
			other:  []string{"turn alone, with a lift at the end by the shoulders", "hands drawn inward"},
			feel:   "Turn and lift are one motion, done together and finished together.",
		}
	case drills.StoppedPlaced:
		return row{
			when:   func(s signs) answer { return s.placed },
			begins: func(s signs) answer { return s.placed },
			uses:   []use{useManner},
			other:  []string{"fear of missing the grip with the trail hand", "looking for the place where the club should be", "a beat that is too slow for the player"},
			feel:   "The club is on its way and the trail hand happens to be there. A swing off the line teaches more than a place on it.",
		}
	}
	return row{
		when:   func(s signs) answer { return s.hurried },
		begins: func(s signs) answer { return s.hurried },
		uses:   []use{useRhythm},
		other:  []string{"tiredness", "trying to hit farther", "somebody waiting"},
		feel:   "The same time back as in the slow swings; only the through goes by itself.",
	}
}

func turnAlone(s signs) answer { return all(s.inside, s.deep, s.neutral, s.late, not(s.rises)) }

func raisedAfter(s signs) answer { return all(not(s.outside), s.deep, s.late, s.rises) }

// questions returns the questions whose answers would settle what is open.
func questions(open []Found, s signs) []string {
	var face, height bool
	for _, f := range open {
		switch f.Cause {
		case drills.OpenedEarly, drills.PushedAway, drills.HeldShut:
			face = face || s.open == unknown || s.neutral == unknown || s.shut == unknown
		case drills.TurnAlone:
			face, height = face || s.neutral == unknown, height || s.late == unknown || s.rises == unknown
		case drills.DrawnInward, drills.RaisedAfter:
			height = height || s.late == unknown || s.rises == unknown
		}
	}
	var out []string
	if face {
		out = append(out, "How does the face look at level: open, neutral or shut? Mark it on four lookback pictures, or answer once.")
	}
	if height {
		out = append(out, "When do the hands gain height: on the way to level, only after it, or never? Watch two ordinary swings, and answer once.")
	}
	return out
}
