package drills

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// View is the side from which a camera looks.
type View uint8

const (
	NoView      View = iota // not noted: there was one camera
	DownTheLine             // along the target line, from behind the hands
	FaceOn                  // across it, from before the player's chest
)

var viewNames = [...]string{"", "down the line", "face-on"}

func (v View) String() string { return name(viewNames[:], int(v)) }

// ViewOf is the view of a camera that stands before the chest, or does not.
func ViewOf(faceOn bool) View {
	if faceOn {
		return FaceOn
	}
	return DownTheLine
}

// Views says, of a rep that two cameras saw, from which of them each reading is.
// The zero value is of a rep that one camera saw.
type Views struct {
	Line View // shaft line, depth, verdict and moments
	Body [BodyParts]View
}

// Two reports whether two cameras saw the rep.
func (v Views) Two() bool { return v.Line != NoView }

// lineKey is the key of the readings that Views.Line is about.
const lineKey = "line"

// String names the readings by their keys under each view: "down the line: line,
// hands_under; face-on: head_back". It is "" for one camera.
func (v Views) String() string {
	if !v.Two() {
		return ""
	}
	var out []string
	for _, from := range []View{DownTheLine, FaceOn} {
		var keys []string
		if v.Line == from {
			keys = append(keys, lineKey)
		}
		for p, w := range v.Body {
			if w == from {
				keys = append(keys, BodyPart(p).Key())
			}
		}
		if len(keys) > 0 {
			out = append(out, from.String()+": "+strings.Join(keys, ", "))
		}
	}
	return strings.Join(out, "; ")
}

// ParseViews is the inverse of Views.String.
func ParseViews(s string) (v Views, err error) {
	if s == "" {
		return v, nil
	}
	for _, group := range strings.Split(s, "; ") {
		from, keys, _ := strings.Cut(group, ": ")
		view := slices.Index(viewNames[:], from)
		if view <= int(NoView) {
			return Views{}, fmt.Errorf("a view %q is not one of %q", from, viewNames[1:])
		}
		for _, key := range strings.Split(keys, ", ") {
			i := slices.IndexFunc(allParts(), func(p BodyPart) bool { return p.Key() == key })
			switch {
			case key == lineKey:
				v.Line = View(view)
			case i >= 0:
				v.Body[i] = View(view)
			default:
				return Views{}, fmt.Errorf("no reading is called %q", key)
			}
		}
	}
	if !v.Two() {
		return Views{}, fmt.Errorf("the views %q do not say from where the shaft line is", s)
	}
	return v, nil
}

func allParts() (out []BodyPart) {
	for p := range BodyPart(BodyParts) {
		out = append(out, p)
	}
	return out
}

// Earlier are the moments on a clock that shows them so many seconds earlier.
func (m Moments) Earlier(by float64) Moments {
	return Moments{m.Start - by, m.BackStart - by, m.Level - by, m.Catch - by, m.Top - by, m.Impact - by, m.End - by}
}

// Together makes one rep of two readings of it, one down the line and one face-on,
// in either order. Shaft line, depth and verdict are those down the line; what
// both tell is taken from the one that is surer of it, and what one could not tell
// from the other: whether it was swung, a club stopped short, top and impact. The
// second's clock shows the same moment later, s; the moments are on the first's.
// Two readings from one side are not put together: the first is returned.
func Together(first, second Rep, later float64) Rep {
	if first.FaceOn() == second.FaceOn() {
		return first
	}
	second.Moments = second.Moments.Earlier(later)
	line, front := first, second
	if first.FaceOn() {
		line, front = second, first
	}
	out := line
	out.Number = first.Number
	out.Views.Line = DownTheLine
	for p := range out.Body {
		a, b := line.Body[p], front.Body[p]
		switch {
		case b.Known() && (!a.Known() || b.Sigma < a.Sigma):
			out.Body[p], out.Views.Body[p] = b, FaceOn
		case a.Known():
			out.Views.Body[p] = DownTheLine
		}
	}
	var why []string
	for _, x := range []struct {
		from View
		say  string
	}{{DownTheLine, line.BodyWhy}, {FaceOn, front.BodyWhy}} {
		if x.say != "" {
			why = append(why, x.from.String()+": "+x.say)
		}
	}
	out.BodyWhy = strings.Join(why, "; ")
	if line.Manner == Unsure {
		out.Manner = front.Manner
		if math.IsNaN(out.Smoothness) {
			out.Smoothness = front.Smoothness
		}
	}
	if line.Verdict == NoReading && front.Verdict == Short {
		out.Verdict, out.Just, out.Elevation = Short, front.Just, front.Elevation
		out.Why, _, _ = strings.Cut(front.Why, "; ")
	}
	if !out.Elevation.OK() {
		out.Elevation = front.Elevation
	}
	for _, x := range []struct{ to, from *float64 }{{&out.Moments.Top, &front.Moments.Top}, {&out.Moments.Impact, &front.Moments.Impact}, {&out.Moments.End, &front.Moments.End}} {
		if math.IsNaN(*x.to) {
			*x.to = *x.from
		}
	}
	if !(out.Tempo > 0) {
		out.Tempo, out.TempoLow, out.TempoHigh = front.Tempo, front.TempoLow, front.TempoHigh
	}
	return out
}
