package drills

import (
	"fmt"
	"math"
	"strings"
)

// Between says between which amounts a part lies, the lesser first, as its reading is
// worded: "17 cm and 20 cm"; only where 0 lies between them the sides are said. Two
// that are written alike are one.
func (p BodyPart) Between(low, high float64) string {
	low, high = math.Round(low), math.Round(high)
	plus, minus := sides(p)
	say := func(v float64) string { return strings.Replace(p.Amount(v), "-", "−", 1) }
	switch {
	case plus == "":
	case low < 0 && high > 0:
		return say(-low) + " " + minus + " and " + say(high) + " " + plus
	default:
		low, high = min(math.Abs(low), math.Abs(high)), max(math.Abs(low), math.Abs(high))
	}
	if low == high {
		return say(low)
	}
	return say(low) + " and " + say(high)
}

// NoAdvice stands wherever readings of the body are shown.
const NoAdvice = "None of this is medical advice; pain ends the session."

// Amount is a number of the part's unit: "5 cm", "3°".
func (p BodyPart) Amount(v float64) string {
	if p.Unit() == "°" {
		return fmt.Sprintf("%.0f°", v)
	}
	return fmt.Sprintf("%.0f %s", v, p.Unit())
}

// Say is a reading of a part in words: "head 3 cm up"; "" when
// it is not Known.
func (b Body) Say(p BodyPart) string {
	r := b[p]
	if !r.Known() {
		return ""
	}
	v := math.Round(r.Value)
	if none := unmoved(p); v == 0 && none != "" {
		return none
	}
	cm := func(what string) string {
		plus, minus := sides(p)
		if v < 0 {
			return fmt.Sprintf("%s %.0f cm %s", what, -v, minus)
		}
		return fmt.Sprintf("%s %.0f cm %s", what, v, plus)
	}
	switch p {
	case HandsUnder, HandsThigh:
		return cm("hands")
	case SpineTilt:
		plus, minus := sides(p)
		if v < 0 {
			plus = minus
		}
		return fmt.Sprintf("spine %.0f° %s", math.Abs(v), plus)
	case HeadUp, HeadOut, HeadBack:
		return cm("head")
	case HipsOut, HipsBack:
		return cm("hips")
	case ArmBend:
		return fmt.Sprintf("lead arm bent %.0f°", math.Abs(v))
	case TrailElbow:
		return cm("trail elbow")
	case ArmBack:
		return fmt.Sprintf("lead arm %.0f° from hanging straight down", v)
	}
	return fmt.Sprintf("ball at %.0f %% from the trail foot to the lead foot", v)
}

// sides are the words for more and for less than 0 of a part, "" where a number has no side.
func sides(p BodyPart) (plus, minus string) {
	switch p {
	case HandsUnder:
		return "outside the lead shoulder", "inside the lead shoulder"
	case SpineTilt:
		return "more bent", "more upright"
	case HeadUp:
		return "up", "down"
	case HeadOut, HipsOut:
		return "toward the ball", "away from the ball"
	case TrailElbow:
		return "behind the trail hip", "in front of the trail hip"
	case HeadBack, HipsBack:
		return "away from the target", "toward the target"
	case HandsThigh:
		return "past the trail thigh", "before the trail thigh"
	}
	return "", ""
}

// unmoved is a reading of 0 in words, "" where the number says it.
func unmoved(p BodyPart) string {
	switch p {
	case HandsUnder:
		return "hands under the lead shoulder"
	case SpineTilt:
		return "spine as at address"
	case HeadUp:
		return "head at the same height"
	case HeadOut:
		return "head as far from the ball"
	case HipsOut:
		return "hips as far from the ball"
	case TrailElbow:
		return "trail elbow level with the trail hip"
	case HeadBack:
		return "head where it was"
	case HipsBack:
		return "hips where they were"
	case HandsThigh:
		return "hands at the trail thigh"
	}
	return ""
}
