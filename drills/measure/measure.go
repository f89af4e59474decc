// Package measure is the whole way from frames to reps, without a session:
// the live pass finds a rep, the full pass follows the club, and the rep is
// made of it. It serves clips, the live analysis, the doctor and tests.
package measure

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"drillbay/camera/frame"
	"drillbay/camera/lens"
	"drillbay/camera/sight"
	"drillbay/drills"
	"drillbay/drills/rep"
)

// Drill says which kind of rep is looked for.
type Drill string

// Any decides rep by rep.
const (
	Any      Drill = ""
	Catch    Drill = "catch"
	Ordinary Drill = "ordinary"
)

// Bay is what is known of camera, club and player.
type Bay struct {
	Width, Height int
	Field         float64     // horizontal field of view, degrees; 0 unknown
	Distance      float64     // m, lens to hands at address along the target line; 0 unknown
	Target        *lens.Point // px as seen; nil: the picture's centre
	TargetSigma   float64     // px; 0: by whether Target is given
	Roll          float64     // degrees, clockwise seen by the camera
	Club          float64     // m
	Grip          float64     // m, butt to the middle of the lead hand
	Hand          drills.Hand
	Band          float64 // degrees each way; 0: drills.Band
	Ground        *Ground // a known length on the ground; nil: none
}

// Limits of what is believed.
const (
	ShortestClub, LongestClub = 0.4572, 1.2192 // Equipment Rules, Part 2 §1c
	DefaultClub               = 0.94
	DefaultGrip               = 0.09
	leastDistance             = 1.0 // m
	mostDistance              = 10.0
	leastField, mostField     = 20.0, 140.0 // degrees
	usualField                = 68.0        // degrees, of a webcam, when neither is known
	usualDistance             = 3.0
)

// ErrBay is wrapped by errors about impossible bays.
var ErrBay = errors.New("the bay cannot be as given")

// Known checks b and works out what the passes need.
func (b Bay) Known() (rep.Known, error) {
	var k rep.Known
	bad := func(format string, args ...any) (rep.Known, error) {
		return k, fmt.Errorf("%w: %s", ErrBay, fmt.Sprintf(format, args...))
	}
	club, grip := or(b.Club, DefaultClub), or(b.Grip, DefaultGrip)
	switch {
	case !(club >= ShortestClub && club <= LongestClub):
		return bad("a club of %.4g m; clubs are %.4g to %.4g m long", club, ShortestClub, LongestClub)
	case !(grip >= 0 && grip <= 0.3):
		return bad("a grip of %.3g m from the butt; 0 to 0.3 is possible", grip)
	case b.Distance != 0 && !(b.Distance >= leastDistance && b.Distance <= mostDistance):
		return bad("a distance of %.3g m; 2 to 4 m are right, %g to %g are taken", b.Distance, leastDistance, mostDistance)
	case b.Field != 0 && !(b.Field >= leastField && b.Field <= mostField):
		return bad("a field of view of %.3g°; %g° to %g° are taken", b.Field, leastField, mostField)
	case b.Band != 0 && !(b.Band > 0 && b.Band <= 45):
		return bad("a band of %.3g°; up to 45° each way", b.Band)
	}
	target := lens.Point{U: float64(b.Width) / 2, V: float64(b.Height) / 2}
	if b.Target != nil {
		target = *b.Target
	}
	k.Target = b.TargetSigma
	if k.Target == 0 {
		k.Target = 0.002 * float64(b.Width)
		if b.Target == nil {
			k.Target = 0.004 * float64(b.Width)
		}
	}
	k.Roll, k.Reach, k.Forward = 0.3, 0.008, 0.06
	told, err := b.onGround(target, k.Target, k.Roll)
	if err != nil {
		return k, fmt.Errorf("%w: %w", ErrBay, err)
	}
	b.Field, b.Distance = told.field, told.distance
	k.Scale = b.Field != 0 || b.Distance != 0
	field, distance := or(b.Field, usualField), or(b.Distance, usualDistance)
	view, err := lens.NewView(lens.Camera{
		Width: b.Width, Height: b.Height, Focal: lens.FocalFromField(b.Width, field),
		Target: target, Roll: b.Roll, Left: b.Hand == drills.Left,
	})
	if err != nil {
		return k, fmt.Errorf("%w: %v", ErrBay, err)
	}
	k.Setting = sight.Setting{View: view, Distance: distance, Reach: club - grip, Grip: grip}
	k.Band = or(b.Band, drills.Band)
	k.Distance, k.Focal = 0.02*distance, 0.01
	if b.Field == 0 || b.Distance == 0 {
		k.Distance, k.Focal = 0.06*distance, 0.06
	}
	k.Distance, k.Focal = or(told.distanceSigma, k.Distance), or(told.focalSigma, k.Focal)
	return k, nil
}

func or(x, fallback float64) float64 {
	if x == 0 || math.IsNaN(x) {
		return fallback
	}
	return x
}

// Result is one rep with what was seen of it.
type Result struct {
	Rep   drills.Rep
	Track sight.Track
	Span  sight.Span
	Rest  float64 // s, when the rep came to rest
}

// Teach tells a live pass what its span came to; ok is that of Analyse.
func (r Result) Teach(w *sight.Watcher, ok bool) {
	switch {
	case !ok:
		w.Learn(math.NaN(), math.NaN())
	case r.Rep.ShaftLine.OK() || r.Track.Stance.Score >= sureScore:
		w.Learn(r.Span.Start-0.15, r.Rest)
	}
}

// Reader reads the reps of one player in one bay, one after the other. What
// it has read tells the next address from a hold, and a rep from the same rep
// seen again. It is used by one goroutine at a time.
type Reader struct {
	Known rep.Known
	Drill Drill

	stance *sight.Stance // of the last rep
	start  float64       // s, of the last rep
	missed int           // stances since that were elsewhere
}

// Analyse reads one rep from its frames. ok is false when they show none, or
// the rep that was read last again.
func (a *Reader) Analyse(pics []*frame.Picture, span sight.Span) (Result, bool) {
	r, ok := a.read(pics, span)
	if !ok || a.again(r) {
		return Result{}, false
	}
	a.took(r)
	return r, true
}

// again reports whether r is the rep that was read last.
func (a *Reader) again(r Result) bool {
	return a.start > 0 && math.Abs(r.Rep.Moments.Start-a.start) < sameStart
}

func (a *Reader) took(r Result) {
	a.start = r.Rep.Moments.Start
	if r.Rep.ShaftLine.OK() {
		st := r.Track.Stance
		a.stance, a.missed = &st, 0
	}
}

const (
	sameStart = 0.35 // s within which two starts are one
	// A stop lower than this is on the way, not a catch, degrees.
	lowest = -30.0
	// An address that is not the picture of the one before must at least
	// have hands and head within this of it, m.
	nearStance = 0.07
	// Hands farther in or out than this are not at the end of a backswing:
	// the player bends down to the ball, say. cm
	farthest = 18.0
	// A club at an address that is not known yet is seen at least so well.
	leastScore = 4.6
	// A rep without a reading teaches what address looks like only when its
	// club is seen at least so well there.
	sureScore = 6.0
	// So many reps from elsewhere, and the player has moved.
	patience = 8
)

func (a *Reader) read(pics []*frame.Picture, span sight.Span) (Result, bool) {
	pics = a.fitting(pics)
	if len(pics) < 8 {
		return Result{}, false
	}
	var kinds []bool
	switch {
	case a.Drill == Catch:
		kinds = []bool{false}
	case a.Drill == Ordinary:
		kinds = []bool{true}
	case span.Whole:
		kinds = []bool{true, false}
	default:
		kinds = []bool{false}
	}
	runs := addresses(span, pics[0].Seconds())
	if len(runs) == 0 || !runs[0].AtBall {
		if run, ok := a.Known.Setting.Search(pics, span.Catch); ok && !overlaps(run, runs) {
			runs = append(runs, run)
		}
	}
	for _, whole := range kinds {
		// Of the addresses that are not known yet, that whose club is seen best.
		var best Result
		found := false
		for _, run := range runs {
			r, ok := a.try(pics, span, run, whole)
			if ok && (!found || r.Track.Stance.Score > best.Track.Stance.Score) {
				best, found = r, true
			}
			if found && run.AtBall {
				break
			}
		}
		if found {
			return best, true
		}
	}
	return Result{}, false
}

// overlaps reports whether a run ends with one of others.
func overlaps(r sight.Run, others []sight.Run) bool {
	return slices.ContainsFunc(others, func(o sight.Run) bool { return math.Abs(o.To-r.To) < 0.15 })
}

// fitting are the pictures of the size that is known: a camera may change it.
func (a *Reader) fitting(pics []*frame.Picture) []*frame.Picture {
	v := a.Known.Setting.View
	for i, p := range pics {
		if p.Width == v.Width && p.Height == v.Height {
			continue
		}
		out := append([]*frame.Picture(nil), pics[:i]...)
		for _, q := range pics[i:] {
			if q.Width == v.Width && q.Height == v.Height {
				out = append(out, q)
			}
		}
		return out
	}
	return pics
}

// try reads a rep that begins at the end of a stillness.
func (a *Reader) try(pics []*frame.Picture, span sight.Span, run sight.Run, whole bool) (Result, bool) {
	s := span
	s.Address, s.Start = run.From, run.To
	if whole {
		s.Catch = math.NaN()
	}
	t, err := a.Known.Setting.Read(pics, s)
	if err != nil {
		return Result{}, false
	}
	r, ok := rep.From(t, a.Known)
	if !ok || whole && math.IsNaN(r.Moments.Impact) {
		return Result{}, false
	}
	if t.Held != nil && t.Held.Lift < lowest {
		return Result{}, false
	}
	if t.Held != nil && math.Abs(r.Depth.Value) > farthest {
		return Result{}, false
	}
	if t.Held != nil && r.Manner == drills.Unsure && !r.ShaftLine.OK() {
		return Result{}, false // neither how nor where: no evidence of a rep
	}
	if !run.AtBall && t.Stance.Score < leastScore {
		return Result{}, false
	}
	if !run.AtBall && a.stance != nil && a.missed < patience && !a.near(t.Stance) {
		a.missed++
		return Result{}, false
	}
	if whole {
		r.Moments.End = span.End
	}
	return Result{Rep: r, Track: t, Span: s, Rest: span.Catch}, true
}

// near reports whether a stance is where that of the last rep was.
func (a *Reader) near(st sight.Stance) bool {
	m := a.Known.Setting.View.Focal / a.Known.Setting.Distance * nearStance
	return math.Hypot(st.Hands.U-a.stance.Hands.U, st.Hands.V-a.stance.Hands.V) < m &&
		math.Hypot(st.Head.U-a.stance.Head.U, st.Head.V-a.stance.Head.V) < m
}

// Analyse reads one rep from its frames without knowing of others.
func Analyse(pics []*frame.Picture, span sight.Span, k rep.Known, d Drill) (Result, bool) {
	return (&Reader{Known: k, Drill: d}).Analyse(pics, span)
}

// addresses are the times of stillness that may be the address of a span,
// the likeliest first: those whose picture was that of address before, newest
// first, then the others.
func addresses(s sight.Span, first float64) []sight.Run {
	var out []sight.Run
	for pass := range 2 {
		for i := len(s.Runs) - 1; i >= 0; i-- {
			r := s.Runs[i]
			if r.To == 0 || r.AtBall != (pass == 0) || r.To-r.From < 0.3 || r.To < first+0.25 || s.Catch-r.To > 4.2 {
				continue
			}
			out = append(out, r)
		}
	}
	if len(out) > 0 && out[0].AtBall {
		return slices.DeleteFunc(out, func(r sight.Run) bool { return !r.AtBall })
	}
	if len(out) > 3 {
		out = out[:3]
	}
	return out
}
