package sight

import (
	"errors"
	"math"

	"drillbay/camera/eye"
	"drillbay/camera/lens"
)

// Front is what is read of a rep face-on, the camera before the player's chest
// and looking across the target line: lengths in m, + away from the target,
// angles in degrees. The view's target point is where lines square to the target
// line meet, and Setting.Distance is from the lens to the hands at address.
// Which way the shaft points to the lens or from it is not seen from there, so
// that there is no shaft line.
type Front struct {
	Times
	At, Arc []float64 // s and degrees: the shaft's angle from hanging straight down, + away from the target
	Held    bool      // it ends in a hold
	Frame   float64   // s, the usual time between two looks
	// Lift is the elevation of the shaft in the hold, as the picture shows it.
	Lift Measure
	// HeadBack and HipsBack are the ways of the crown and of the middle of the
	// hips since address.
	HeadBack, HipsBack Measure
	// HandsThigh is how far the hands are beyond the trail thigh.
	HandsThigh Measure
	// ArmBack is the lead arm's angle from hanging straight down, Bend how far it
	// is bent.
	ArmBack, Bend Measure
	// Ball is where the ball lies between the feet at address, in shares: 0 at
	// the trail ankle, 1 at the lead ankle.
	Ball Measure
	// Home and Here are where the points were seen, as in Body.
	Home, Here      [eye.Points]lens.Point
	Hidden, Unclear []string

	reader *frontReader // that read it, nil where nothing was read
}

// ErrNoBackswing says that the club did not swing back.
var ErrNoBackswing = errors.New("no backswing was seen")

// FaceOn reads a rep from its looks and what the live pass found.
func (s Setting) FaceOn(looks []Look, span Span) (Front, error) {
	none := noMeasure()
	nan := math.NaN()
	f := Front{Times: Times{Start: nan, Turn: nan, Level: nan, Catch: nan, Top: nan, Impact: nan, Ending: nan}, Held: !span.Whole,
		Lift: none, HeadBack: none, HipsBack: none, HandsThigh: none, ArmBack: none, Bend: none, Ball: none}
	var all []float64 // the shaft's angle in each look that shows it
	for i := range looks {
		if arc, ok := s.hangs(&looks[i]); ok {
			f.At, all = append(f.At, looks[i].At), append(all, arc)
		}
	}
	f.Arc = despiked(all)
	if len(f.At) < 8 {
		return f, ErrFewLooks
	}
	if !f.moments(s, looks, span) {
		return f, ErrNoBackswing
	}
	r := frontReader{s: s, f: &f}
	r.home = s.standing(looks, f.Start-addressLast, f.Start-addressGap)
	where := f.Level
	if f.Held {
		r.here = s.standing(looks, f.Catch+holdGap, f.Catch+holdLast)
		where = f.Catch
	} else if !math.IsNaN(where) {
		r.here = s.passing(looks, where, passes)
	}
	f.Home, f.Here = r.home.points(), r.here.points()
	if a, b := r.home[eye.Hands], r.here[eye.Hands]; f.Held && (!a.ok || !b.ok || (a.at.U-b.at.U)/s.perMetre(s.Distance) < leastBack) {
		return f, ErrNoBackswing // held, but not behind
	}
	if math.IsNaN(where) {
		f.Unclear = append(f.Unclear, "the club was not followed through level")
	} else {
		r.read()
		f.reader = &frontReader{s: s, home: r.home, here: r.here}
	}
	r.ball()
	return f, nil
}

// hangs is the shaft's angle from hanging straight down in a look, degrees, +
// away from the target.
func (s Setting) hangs(l *Look) (arc float64, ok bool) {
	hands := s.point(l, eye.Hands)
	end := s.point(l, eye.Head)
	if !end.ok {
		end = s.point(l, eye.ShaftEnd)
	}
	if !hands.ok || !end.ok || apart(hands.at, end.at) < 0.2*s.Reach*s.perMetre(s.Distance) {
		return 0, false
	}
	d := s.View.At(end.at, s.Distance).Sub(s.View.At(hands.at, s.Distance))
	return math.Atan2(d.Y, -d.Z) * 180 / math.Pi, true
}

// despiked are angles without single wrong ones, each the middle of three where
// it is far from both neighbours, and going on over ±180°.
func despiked(x []float64) []float64 {
	out := make([]float64, len(x))
	copy(out, x)
	for i := 1; i+1 < len(out); i++ {
		a, b := math.Remainder(out[i]-out[i-1], 360), math.Remainder(x[i+1]-out[i], 360)
		if math.Abs(a) > 25 && math.Abs(b) > 25 && a*b < 0 {
			out[i] = out[i-1] + math.Remainder(x[i+1]-out[i-1], 360)/2
		}
	}
	for i := 1; i < len(out); i++ {
		out[i] = out[i-1] + math.Remainder(out[i]-out[i-1], 360)
	}
	return out
}
