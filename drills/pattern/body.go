package pattern

import (
	"fmt"
	"slices"
	"strings"

	"drillbay/drills"
)

// Lapse is a part of the body that is not kept as it should be, over many reps:
// which, to which side, with its numbers.
type Lapse struct {
	drills.Loss
	Evidence string
	Else     []string // what else it could be
	Feel     string
}

// body gathers the readings of the body.
func (e *Evidence) body(reps []Rep, bands map[drills.BodyPart]drills.Watch) {
	var values [drills.BodyParts][]float64
	for _, r := range reps {
		for p, x := range r.Body {
			if x.Known() {
				values[p] = append(values[p], x.Value)
				switch bandOf(drills.BodyPart(p), bands).Side(r.Body) {
				case -1:
					e.Slips[p][0]++
				case 1:
					e.Slips[p][1]++
				}
				if r.Coached[p].Known() {
					e.Coached[p]++
				}
			}
		}
	}
	for p, v := range values {
		e.Body[p] = drills.MeanOf(v)
	}
}

// BodyRead reports whether enough of the body was read to say something of it.
func (e Evidence) BodyRead() bool {
	return slices.ContainsFunc(e.Body[:], func(m drills.Mean) bool { return m.N >= Fewest })
}

// lapses are the parts whose mean lies beyond the band of common practice, or of
// the drills, for certain: 95 % of its interval.
func lapses(e Evidence, bands map[drills.BodyPart]drills.Watch) (out []Lapse) {
	for p := range drills.BodyPart(drills.BodyParts) {
		w, side := bandOf(p, bands), 0
		switch m := e.Body[p]; {
		case above(m, w.High) == yes:
			side = 1
		case below(m, w.Low) == yes:
			side = -1
		}
		if side == 0 {
			continue
		}
		l := Lapse{Loss: drills.Loss{Part: p, Side: side}, Evidence: e.partly(p) + " The band is " + w.String() + "."}
		l.Else, l.Feel = lapseWords(l.Loss)
		out = append(out, l)
	}
	return out
}

// bandOf is the band of the drills for a part, else that of common practice.
func bandOf(p drills.BodyPart, bands map[drills.BodyPart]drills.Watch) drills.Watch {
	if w, ok := bands[p]; ok {
		return w
	}
	return drills.UsualWatch(p)
}

// RepByRep says in how many reps which part was plainly out of its band, whatever it is
// on average; "" for none.
func (e Evidence) RepByRep() string {
	var said []string
	for p := range drills.BodyPart(drills.BodyParts) {
		for i, side := range []int{-1, 1} {
			if n := e.Slips[p][i]; n > 0 {
				said = append(said, fmt.Sprintf("%s (%d of %s)", drills.Loss{Part: p, Side: side}, n, drills.Count(e.Body[p].N, "rep")))
			}
		}
	}
	if len(said) == 0 {
		return ""
	}
	return "Rep by rep, plainly out of its band: " + strings.Join(said, ", ") + "."
}

// partly tells a part with its numbers; "" with too few.
func (e Evidence) partly(p drills.BodyPart) string {
	m := e.Body[p]
	if m.N < Fewest {
		return ""
	}
	say := func(v float64) string {
		var b drills.Body
		b[p] = drills.Reading{Value: v, Sigma: 1}
		return b.Say(p)
	}
	coach := ""
	if n := e.Coached[p]; n > 0 {
		coach = fmt.Sprintf(", %d of them with joints that the coach put right", n)
	}
	return fmt.Sprintf("On average %s (%d readings%s, %s).", say(m.Value), m.N, coach, between(p, m))
}

// lapseWords returns what else a lapse could be, and what to feel instead (common
// practice).
func lapseWords(l drills.Loss) (other []string, feel string) {
	low := l.Side < 0
	switch l.Part {
	case drills.HandsUnder:
		if low {
			return []string{"standing too close to the ball", "a turn that begins with the hips"}, "The hands hang under the lead shoulder all the way to level."
		}
		return []string{"standing too far from the ball", "a chest that hardly turns"}, "The upper lead arm stays on the chest as the chest turns."
	case drills.SpineTilt:
		if low {
			return []string{"hips that move toward the ball", "standing too close to the ball"}, "The belt buckle stays as far from the ball as it was at address; the chest turns over it."
		}
		return []string{"knees that bend more", "a head that drops to look at the ball"}, "The trail shoulder goes up and round, not the lead one down."
	case drills.HeadUp:
		if low {
			return []string{"knees that bend more", "a spine that bends over"}, "Somebody's hand rests lightly on the head, and stays there."
		}
		return []string{"a spine that stands up", "knees that straighten"}, "The chin keeps its height while the shoulders pass under it."
	case drills.HeadOut, drills.HipsOut:
		if low {
			return []string{"weight on the heels", "standing too close to the ball"}, "The weight stays in the middle of the feet."
		}
		return []string{"weight on the toes", "standing too far from the ball"}, "The weight stays in the middle of the feet."
	case drills.ArmBend:
		return []string{"arms that go on after the chest has stopped", "a grip that is held hard"}, "The lead arm is long, not stiff; where the chest stops, it stops."
	case drills.TrailElbow:
		return []string{"hands drawn inward", "a turn alone"}, "The trail elbow points to the ground in front of the trail hip."
	case drills.HeadBack, drills.HipsBack:
		if low {
			return []string{"a turn about the lead leg", "a ball too far forward"}, "The chest turns over the trail foot, about a head that stays."
		}
		return []string{"a trail knee that gives way", "a slide in place of a turn"}, "The trail hip turns back where it stands; the trail knee keeps its bend."
	case drills.HandsThigh, drills.ArmBack:
		if low {
			return []string{"a catch too early", "wrists that hinge before the arms swing"}, "The hands pass the trail thigh before the club is level."
		}
		return []string{"a catch too late", "wrists that hinge late"}, "The clubhead's weight hinges the wrists as the hands pass the trail thigh."
	}
	return []string{"another club than the one the ball was placed for"}, "The ball lies where the club comes by it at the lowest place of its arc."
}

// toward are the parts that belong to a cause: they are told with it.
func toward(c drills.Cause) []drills.BodyPart {
	switch c {
	case drills.DrawnInward, drills.TurnAlone, drills.RaisedAfter:
		return []drills.BodyPart{drills.HandsUnder, drills.TrailElbow, drills.SpineTilt}
	case drills.PushedAway, drills.HeldShut:
		return []drills.BodyPart{drills.HandsUnder, drills.HeadOut, drills.HipsOut}
	case drills.OpenedEarly:
		return []drills.BodyPart{drills.HandsUnder, drills.TrailElbow}
	}
	return nil
}
