package read

import (
	"fmt"
	"math"
	"sync"
	"sync/atomic"

	"drillbay/camera/frame"
	"drillbay/camera/lookback"
	"drillbay/camera/sight"
	"drillbay/drills"
	"drillbay/drills/measure"
	"drillbay/drills/rep"
	"drillbay/drills/runner"
)

// SecondView reads the reps that the first camera found by the pictures of the
// second, and knows by how much these come later.
type SecondView struct {
	ring *lookback.Ring
	tied atomic.Pointer[tied]
	wait func() // before each look that nobody waits for; nil: for nothing
	// Await waits until the second camera's picture of a time, s of its own clock, has
	// come, or for a little; nil: all that is needed is there.
	Await func(until float64)

	mu sync.Mutex // of what reads
	Camera
	tie measure.Tie
}

// tied holds by how much the second camera's pictures come later, s.
type tied struct {
	lag, sigma float64
	reps       int
}

// A lag that turns out to be another by so much, s, has the rep read anew.
const lagNews = 0.012

// A catch is told by its hold: so much of it, s, must be in the second camera's
// pictures too, which come later; by so much, s, until that is known.
const (
	holdNeeded = 0.3
	lateAtMost = 0.12
)

// NewSecondView reads from a ring that holds the second camera's pictures; known
// and seen are as for NewCamera. wait is called before each look that nobody waits
// for, nil: nothing is.
func NewSecondView(ring *lookback.Ring, known func(width, height int) rep.Known, seen *measure.Recall, wait func()) *SecondView {
	return &SecondView{ring: ring, Camera: *NewCamera(known, seen), wait: wait}
}

// Alone reads a rep that the second camera found, while it led.
func (v *SecondView) Alone(t runner.Take) runner.Analysis {
	v.mu.Lock()
	defer v.mu.Unlock()
	v.reader.Eyes, v.reader.Wait = 0, nil
	_, told := v.Camera.Read(t)
	return told
}

// Lag tells how much later its pictures show the same moment as the first's, s, with
// its 1-sigma uncertainty, by so many reps; 0 until a rep was read.
func (v *SecondView) Lag() (seconds, sigma float64, reps int) {
	if t := v.tied.Load(); t != nil {
		return t.lag, t.sigma, t.reps
	}
	return 0, math.NaN(), 0
}

// Tied says in a sentence by how much its pictures come later.
func (v *SecondView) Tied() string {
	lag, sigma, reps := v.Lag()
	sure := max(1, math.Round(1000*sigma))
	many := fmt.Sprintf("%d reps", reps)
	if reps == 1 {
		many = "one rep"
	}
	switch ms := math.Round(1000 * lag); {
	case reps == 0:
		return "How much later its pictures come is found from the first reps."
	case math.Abs(ms) < 1:
		return fmt.Sprintf("Its pictures come as soon as the first camera's, true to about %.0f ms, from %s.", sure, many)
	case ms < 0:
		return fmt.Sprintf("Its pictures come %.0f ms sooner than the first camera's, true to about %.0f ms, from %s.", -ms, sure, many)
	default:
		return fmt.Sprintf("Its pictures come %.0f ms later than the first camera's, true to about %.0f ms, from %s.", ms, sure, many)
	}
}

// Loop holds its pictures of a time of the first camera's, s, and says how much
// later they show the same.
func (v *SecondView) Loop(from, to float64) (*lookback.Loop, float64) {
	lag, _, _ := v.Lag()
	return v.ring.Cut(from+lag, to+lag), lag
}

// Together reads a rep by the second camera as well: at once where that may change
// what is told of it, else once the first reading is on its way.
func (v *SecondView) Together(t runner.Take, first measure.Result, told runner.Analysis) runner.Analysis {
	if !decides(t.Drill, first.Rep) {
		// One eye looks: the first camera's goes on meanwhile.
		told.Further = func() (runner.Analysis, bool) { return v.readAs(t.Drill, t.Span, first, told, 1) }
		return told
	}
	if more, ok := v.readAs(t.Drill, t.Span, first, told, 0); ok {
		return more
	}
	return told
}

// decides reports whether the second camera may change what is told of a rep: its
// verdict, whether it was swung, or what its drill watches. Of a rep that the first
// saw face-on it gives the shaft line, also where the club stopped short.
func decides(d runner.Drill, r drills.Rep) bool {
	if r.Verdict == drills.NoReading || r.Manner == drills.Unsure || r.FaceOn() {
		return true
	}
	for _, w := range d.Watched.All() {
		if w.Part.FaceOn() != r.FaceOn() {
			return true
		}
	}
	return false
}

// readAs reads the second camera's pictures of a rep, and puts both readings
// together. So many eyes look, 0: as many as where somebody waits. ok is false where
// they show no rep.
func (v *SecondView) readAs(d runner.Drill, span sight.Span, first measure.Result, told runner.Analysis, eyes int) (out runner.Analysis, ok bool) {
	v.mu.Lock()
	defer v.mu.Unlock()
	lag, _, reps := v.Lag()
	at := shifted(span, lag)
	if v.Await != nil {
		late := lag
		if reps == 0 {
			late = lateAtMost
		}
		v.Await(drills.FirstOf(span.Catch, span.End) + late + holdNeeded)
	}
	pics := v.ring.Frames(drills.FirstOf(at.From, at.Start, 0)-0.1, math.Inf(1))
	defer frame.ReleaseAll(pics)
	if len(pics) == 0 {
		return out, false
	}
	k := v.known(pics[0].Width, pics[0].Height)
	k.Band = d.Width()
	v.reader.Known, v.reader.Drill, v.reader.Eyes, v.reader.Wait = k, drillOf(d.Kind), eyes, nil
	if eyes == 1 {
		v.reader.Wait = v.wait
	}
	looks := v.reader.Looks(pics, at)
	if looks == nil {
		return out, false
	}
	second, ok := v.reader.Fit(looks, at)
	if !ok {
		return out, false
	}
	if found, _, err := measure.Lag(first.Swing(), second.Swing()); err == nil {
		v.tie.Add(found)
		now := tied{}
		now.lag, now.sigma, now.reps = v.tie.Lag()
		v.tied.Store(&now)
		if math.Abs(now.lag-lag) > lagNews {
			if again, ok := v.reader.Fit(looks, shifted(span, now.lag)); ok {
				second = again
			}
		}
		lag = now.lag
	}
	if a, b := ends(first.Rep), ends(second.Rep); math.Abs(b-lag-a) > measure.MostLag {
		return out, false // another motion
	}
	out = told
	out.Further = nil
	out.Rep = drills.Together(told.Rep, second.Rep, lag)
	out.Beside = Earlier(Overlay(second, k.Setting.View), lag)
	out.Beside.Again = again(second, k, out.Beside)
	return out, true
}

// ends returns the time at which the motion of a rep ends, s: its catch, or the strike.
func ends(r drills.Rep) float64 {
	return drills.FirstOf(r.Moments.Catch, r.Moments.Impact, r.Moments.Level, 0)
}

// shifted is a span on a clock that shows it later, s.
func shifted(s sight.Span, by float64) sight.Span {
	for _, t := range []*float64{&s.From, &s.Start, &s.BackStart, &s.Catch, &s.End} {
		*t += by
	}
	return s
}

// Earlier is an overlay on a clock that shows it earlier, s.
func Earlier(o runner.Overlay, by float64) runner.Overlay {
	for i := range o.Trace {
		o.Trace[i].At -= by
	}
	o.Hands.At -= by
	o.Head.At -= by
	return o
}
