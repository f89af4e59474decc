package drills

import (
	"fmt"
	"math"
	"strings"
)

// BodyPart is one thing that is read of the body beside the shaft line, where the
// shaft is level or caught, against address.
type BodyPart uint8

// The first are read down the line, those from HeadBack on face-on; the lead
// arm's bend from where it can be seen.
const (
	HandsUnder BodyPart = iota // hands from the vertical under the lead shoulder, cm, + toward the ball
	SpineTilt                  // how much more the spine is bent than at address, degrees
	HeadUp                     // way of the head up, cm
	HeadOut                    // way of the head toward the ball, cm
	HipsOut                    // way of the hips toward the ball, cm
	ArmBend                    // bend of the lead arm, degrees, 0 straight
	TrailElbow                 // trail elbow behind the trail hip, cm, − before it
	HeadBack                   // way of the head away from the target, cm
	HipsBack                   // way of the hips away from the target, cm
	HandsThigh                 // hands beyond the trail thigh, away from the target, cm
	ArmBack                    // lead arm from hanging straight down, degrees, + away from the target
	BallPlace                  // where the ball lies between the feet, %, 0 at the trail foot, 100 at the lead foot

	BodyParts = iota // how many there are
)

// part describes a part of the body: its names, unit and band (common practice).
type part struct {
	name, key, unit string
	low, high       float64 // what counts as kept until a coach changes it
	below, above    string  // what is said of a rep beyond either end
}

func parts() [BodyParts]part {
	open := math.Inf(1)
	return [BodyParts]part{
		HandsUnder: {"hands under the lead shoulder", "hands_under", "cm", -UnderShoulder, UnderShoulder, "hands pulled in", "hands out from the body"},
		SpineTilt:  {"spine tilt", "spine_tilt", "°", -5, 5, "spine stood up", "spine bent over"},
		HeadUp:     {"head height", "head_up", "cm", -5, 5, "head dropped", "head came up"},
		HeadOut:    {"head to the ball", "head_out", "cm", -5, 5, "head away from the ball", "head toward the ball"},
		HipsOut:    {"hips to the ball", "hips_out", "cm", -5, 5, "hips away from the ball", "hips toward the ball"},
		ArmBend:    {"bend of the lead arm", "lead_arm", "°", -open, 25, "lead arm straight", "lead arm bent"},
		TrailElbow: {"trail elbow", "trail_elbow", "cm", -open, 0, "elbow far in front", "elbow behind the body"},
		HeadBack:   {"head along the target line", "head_back", "cm", -5, 8, "head toward the target", "head off the ball"},
		HipsBack:   {"hips along the target line", "hips_back", "cm", -5, 5, "hips slid forward", "hips slid back"},
		HandsThigh: {"hands at the trail thigh", "hands_thigh", "cm", -10, 20, "hands short of the thigh", "hands past the thigh"},
		ArmBack:    {"swing of the lead arm", "arm_back", "°", 25, 60, "lead arm hung back", "lead arm too far"},
		BallPlace:  {"ball between the feet", "ball_place", "%", 30, 95, "ball too far back", "ball too far forward"},
	}
}

func (p BodyPart) String() string {
	if int(p) >= BodyParts {
		return "unknown"
	}
	return parts()[p].name
}

// Key names the part in the ledger and in tables.
func (p BodyPart) Key() string { return parts()[p].key }

// Unit is "cm", "°" or "%".
func (p BodyPart) Unit() string { return parts()[p].unit }

// FaceOn reports whether the part is read from the front, and down the line not
// or hardly ever.
func (p BodyPart) FaceOn() bool { return p >= HeadBack || p == ArmBend }

// ParseBodyPart is the inverse of String.
func ParseBodyPart(s string) (BodyPart, error) {
	var names []string
	for _, p := range parts() {
		names = append(names, p.name)
	}
	i, err := parse("part", names, s)
	return BodyPart(i), err
}

// Body are the readings of the body in a rep; one that was not made is not
// Known. The zero value has none.
type Body [BodyParts]Reading

// With is b with those readings of another that are Known in place of its own.
func (b Body) With(other Body) Body {
	for p, r := range other {
		if r.Known() {
			b[p] = r
		}
	}
	return b
}

// Watch is a part that a drill watches beside the shaft line, and the band of
// values that count as kept: an end that is infinite is open.
type Watch struct {
	Part      BodyPart
	Low, High float64
}

// MostWatched is the number of parts that a drill watches at most: attention wants one
// focus (Wulf 2013, Int Rev Sport Exerc Psychol 6:77; common practice in teaching).
const MostWatched = 2

// Watched are the things that are watched at once; a Watch without a band is none.
type Watched [MostWatched]Watch

// WatchedOf are the first of a list.
func WatchedOf(list []Watch) (w Watched) {
	copy(w[:], list)
	return w
}

// All returns the parts that are watched.
func (w Watched) All() (out []Watch) {
	for _, x := range w {
		if x.Low < x.High {
			out = append(out, x)
		}
	}
	return out
}

// Loss is the first thing watched that a rep lost.
func (w Watched) Loss(b Body) Loss {
	for _, x := range w.All() {
		if side := x.Side(b); side != 0 {
			return Loss{x.Part, side}
		}
	}
	return Loss{}
}

// UsualWatch is a part with the band of common practice.
func UsualWatch(p BodyPart) Watch { return Watch{p, parts()[p].low, parts()[p].high} }

// Side is −1 or 1 where a reading lies plainly below or above the band, else 0:
// 95 % of the interval (one-sided) must lie there.
func (w Watch) Side(b Body) int {
	const z95 = 1.6448536269514722
	switch r := b[w.Part]; {
	case !r.Known():
		return 0
	case r.Value+z95*r.Sigma < w.Low:
		return -1
	case r.Value-z95*r.Sigma > w.High:
		return 1
	}
	return 0
}

// Loss is a part that lies plainly below (Side −1) or above (1) its band; the
// zero value is none.
type Loss struct {
	Part BodyPart
	Side int
}

// String says it in a few words, that can be read from the mat; the voice says a
// sentence. It is "" for none.
func (l Loss) String() string {
	switch p := parts()[l.Part]; l.Side {
	case -1:
		return p.below
	case 1:
		return p.above
	}
	return ""
}

// String is the watch in words: "head height within 5 cm".
func (w Watch) String() string {
	unit := w.Part.Unit()
	if unit != "°" {
		unit = " " + unit
	}
	if w.Low == -w.High {
		return fmt.Sprintf("%s within %g%s", w.Part, w.High, unit)
	}
	plus, minus := sides(w.Part)
	if plus == "" { // a number that has no side
		switch {
		case math.IsInf(w.Low, 0):
			return fmt.Sprintf("%s at most %g%s", w.Part, w.High, unit)
		case math.IsInf(w.High, 0):
			return fmt.Sprintf("%s at least %g%s", w.Part, w.Low, unit)
		}
		return fmt.Sprintf("%s from %g to %g%s", w.Part, w.Low, w.High, unit)
	}
	to := func(v float64) string {
		if v < 0 {
			return fmt.Sprintf("%g%s %s", -v, unit, minus)
		}
		return fmt.Sprintf("%g%s %s", v, unit, plus)
	}
	// An end without another: 3 cm behind at most, 3 cm in front at least.
	only := func(end float64, most bool) string {
		beyond := plus
		if !most {
			beyond = minus
		}
		switch {
		case end == 0:
			return fmt.Sprintf("%s not %s", w.Part, beyond)
		case (end > 0) == most:
			return fmt.Sprintf("%s at most %s", w.Part, to(end))
		}
		return fmt.Sprintf("%s at least %s", w.Part, to(end))
	}
	switch {
	case math.IsInf(w.Low, 0):
		return only(w.High, true)
	case math.IsInf(w.High, 0):
		return only(w.Low, false)
	}
	for _, thing := range []string{"the target", "the trail thigh", "the ball", "the lead shoulder"} {
		if strings.Contains(w.Part.String(), thing) { // said already
			plus, minus = strings.Replace(plus, thing, "it", 1), strings.Replace(minus, thing, "it", 1)
		}
	}
	return fmt.Sprintf("%s from %s to %s", w.Part, to(w.Low), to(w.High))
}

// Check says what is wrong with a watch.
func (w Watch) Check() error {
	most := map[string]float64{"cm": 60, "°": 120, "%": 200}[w.Part.Unit()]
	switch {
	case math.IsNaN(w.Low) || math.IsNaN(w.High) || !(w.Low < w.High):
		return fmt.Errorf("%s: a band goes from less to more", w.Part)
	case math.IsInf(w.Low, 0) && math.IsInf(w.High, 0):
		return fmt.Errorf("%s: a band has an end", w.Part)
	case w.Low < -most && !math.IsInf(w.Low, 0), w.High > most && !math.IsInf(w.High, 0):
		return fmt.Errorf("%s: a band goes to %g at most", w.Part, most)
	}
	return nil
}
