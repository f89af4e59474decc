package measure

import (
	"math"
	"slices"
	"sync"

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
	Span  sight.Span
}

// Reader reads the reps of one player in one bay, one after the other. What
// it has read tells a rep from the same rep seen again. It is used by one
// goroutine at a time.
type Reader struct {
	Known rep.Known
	Drill Drill

	eyes  []*eye.Eye
	start float64 // s, of the last rep
}

// readers is how many eyes look at a rep's pictures at once.
const readers = 2

const (
	sameStart = 0.35 // s within which two starts are one
	// Hands farther in or out than this are not at the end of a backswing:
	// the player bends down to the ball, say. cm
	farthest = 25.0
	// A club caught lower or higher than this, or this far beside the target
	// line, is not caught in a backswing, degrees.
	lowest, highest, aside = -28.0, 50.0, 38.0
)

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
	shots := choose(a.fitting(pics), span)
	if len(shots) < 8 {
		return Result{}, false
	}
	looks, err := a.look(shots)
	if err != nil {
		return Result{}, false
	}
	return a.Fit(looks, span)
}

// Fit makes a rep of looks. ok is false when they show none.
func (a *Reader) Fit(looks []sight.Look, span sight.Span) (Result, bool) {
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
		return Result{Rep: r, Track: m, Span: span}, true
	}
	return Result{}, false
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

// shot is a picture to be looked at, with the one before it.
type shot struct {
	now, before *frame.Picture
	rests       bool // the club rests, or should
}

// How densely pictures are looked at, s: where the club rests, where it moves,
// and shortly before it is caught or strikes.
const (
	restingStep, movingStep, stoppingStep = 1 / 16.0, 1 / 64.0, 1 / 128.0
	aheadOfCatch                          = 0.3
	heldFor                               = 0.9 // s of a hold that are looked at
	motionStep                            = 1 / 45.0
)

// choose picks the pictures of a span that are worth a look.
func choose(pics []*frame.Picture, span sight.Span) (out []shot) {
	last := math.Inf(-1)
	for i, p := range pics {
		t := p.Seconds()
		step := movingStep
		switch {
		case t < span.From-1e-6 || !span.Whole && t > span.Catch+heldFor:
			continue
		case t < span.Start-0.15 || !span.Whole && t > span.Catch+0.12:
			step = restingStep
		case !span.Whole && t > span.Catch-aheadOfCatch, span.Whole && t > span.Start+0.5:
			step = stoppingStep
		}
		if t-last < step-1e-4 {
			continue
		}
		last = t
		s := shot{now: p, rests: step == restingStep}
		for j := i - 1; j >= 0 && s.before == nil; j-- {
			if t-pics[j].Seconds() > motionStep-1e-4 {
				s.before = pics[j]
			}
		}
		out = append(out, s)
	}
	return out
}

// look looks at the shots, some at once.
func (a *Reader) look(shots []shot) ([]sight.Look, error) {
	if a.eyes == nil {
		net, err := eye.Taught()
		if err != nil {
			return nil, err
		}
		for range readers {
			a.eyes = append(a.eyes, net.NewEye())
		}
	}
	left := a.Known.Setting.View.Left
	looks := make([]sight.Look, len(shots))
	var wg sync.WaitGroup
	for k, e := range a.eyes {
		wg.Go(func() {
			var f eye.Finder
			part := len(shots) / len(a.eyes)
			from, to := k*part, (k+1)*part
			if k == len(a.eyes)-1 {
				to = len(shots)
			}
			for i := from; i < to; i++ {
				s, ok := f.Follow(e, shots[i].now, shots[i].before, nil, left)
				looks[i].At = shots[i].now.Seconds()
				if !ok {
					continue
				}
				looks[i].Places = s.Places
				if w := s.Close; shots[i].rests && w.Side > 0 {
					closely := e.Twice(w, shots[i].now, shots[i].before, nil, left)
					copy(looks[i].Places[:eye.Head+1], closely.Places[:eye.Head+1])
				}
			}
		})
	}
	wg.Wait()
	return looks, nil
}
