package measure

import (
	"math"
	"slices"

	"drillbay/camera/eye"
	"drillbay/camera/frame"
	"drillbay/camera/sight"
	"drillbay/drills"
	"drillbay/drills/rep"
)

// Result is one rep with what was seen of it.
type Result struct {
	Rep   drills.Rep
	Track sight.Motion
	Body  sight.Body // how the body stood
	// Front is what was read of a rep that was seen FaceOn, in place of Track and
	// Body.
	Front  sight.Front
	FaceOn bool
	Span   sight.Span
}

// Frame is the usual time between two looks at the moving club, s.
func (r *Result) Frame() float64 {
	if r.FaceOn {
		return r.Front.Frame
	}
	return r.Track.Frame()
}

// Reader reads the reps of one player in one bay, one after the other. What
// it has read tells a rep from the same rep seen again. It is used by one
// goroutine at a time.
type Reader struct {
	Known rep.Known
	Drill Drill
	// Thorough has the whole player looked at in each picture, where nobody
	// waits for the reading: it takes twice as long, and sees a little better.
	Thorough bool
	Seen     *Recall // what the live pass saw of the pictures; nil: nothing
	Eyes     int     // how many look at once; 0: as is usual where somebody waits
	Wait     func()  // comes before each look, where others go first; nil: nobody does

	eyes  []*eye.Eye
	start float64 // s, of the last rep
}

// Analyse reads one rep from its frames. ok is false when they show none, or
// the rep that was read last again.
func (a *Reader) Analyse(pics []*frame.Picture, span sight.Span) (Result, bool) {
	r, ok := a.read(pics, span)
	if !ok || a.start > 0 && math.Abs(r.Rep.Moments.Start-a.start) < sameStart {
		return Result{}, false
	}
	a.start = r.Rep.Moments.Start
	return r, true
}

// Analyse reads one rep from its frames without knowing of others.
func Analyse(pics []*frame.Picture, span sight.Span, k rep.Known, d Drill) (Result, bool) {
	return (&Reader{Known: k, Drill: d}).Analyse(pics, span)
}

func (a *Reader) read(pics []*frame.Picture, span sight.Span) (Result, bool) {
	looks := a.Looks(pics, span)
	if looks == nil {
		return Result{}, false
	}
	return a.Fit(looks, span)
}

// Looks looks at the pictures of a rep, more densely where the club moves; nil
// where they are too few.
func (a *Reader) Looks(pics []*frame.Picture, span sight.Span) []sight.Look {
	shots := choose(a.fitting(pics), span)
	if len(shots) < 8 {
		return nil
	}
	looks, err := a.look(shots)
	if err != nil {
		return nil
	}
	return looks
}

// Fit makes a rep of looks. ok is false when they show none.
func (a *Reader) Fit(looks []sight.Look, span sight.Span) (Result, bool) {
	if a.Known.FaceOn {
		return a.front(looks, span)
	}
	kinds := []bool{false}
	switch {
	case a.Drill == Ordinary:
		kinds = []bool{true}
	case a.Drill != Catch && span.Whole:
		kinds = []bool{true, false}
	}
	for _, whole := range kinds {
		m, err := a.Known.Setting.Follow(looks, a.Known.Doubt(), whole)
		if err != nil {
			continue
		}
		r, ok := rep.Of(&m, a.Known)
		if !ok || !whole && !caught(&m, r) {
			continue
		}
		r.Moments.End = span.End
		out := Result{Rep: r, Track: m, Span: span}
		out.Body = m.Body(looks)
		rep.Stand(&out.Rep, out.Body, a.Known)
		return out, true
	}
	return Result{}, false
}

// front makes a rep of looks from the front.
func (a *Reader) front(looks []sight.Look, span sight.Span) (Result, bool) {
	if a.Drill == Catch && span.Whole || a.Drill == Ordinary && !span.Whole {
		return Result{}, false
	}
	f, err := a.Known.Setting.FaceOn(looks, span)
	if err != nil {
		return Result{}, false
	}
	r, ok := rep.OfFront(&f, a.Known)
	if !ok {
		return Result{}, false
	}
	r.Moments.End = span.End
	return Result{Rep: r, Front: f, FaceOn: true, Span: span}, true
}

// caught reports whether a club that rests was caught in a backswing.
func caught(m *sight.Motion, r drills.Rep) bool {
	held := m.Held()
	return held.Lift.Value > lowest && held.Lift.Value < highest && math.Abs(held.Line.Value) < aside && math.Abs(100*held.Inside.Value) < farthest
}

// fitting are the pictures of the size that is known: a camera may change it.
func (a *Reader) fitting(pics []*frame.Picture) []*frame.Picture {
	v := a.Known.Setting.View
	return slices.DeleteFunc(slices.Clone(pics), func(p *frame.Picture) bool { return p.Width != v.Width || p.Height != v.Height })
}
