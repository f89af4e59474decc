package live

import (
	"drillbay/camera/virtual"
	"drillbay/drills/runner"
)

const (
	restFor    = 10.0 // s that the drawn player stands still after a set
	restMargin = 0.3  // s from the movements before and after
)

// resting is the pace of a drawn player who stands still when asked to: its
// pictures of standing still come forward and backward by turns.
type resting struct {
	inner  virtual.Pace
	rests  func() bool
	stills [][2]int // first and last picture of each stand of one pass
	pass   int      // pictures
	asked  int      // of inner
	shown  int
	step   int
}

// newResting finds the stands of a setup.
func newResting(s virtual.Setup, inner virtual.Pace, rests func() bool) (*resting, error) {
	s.Width, s.Height = 64, 64 // the same times, drawn at once
	b, err := virtual.New(s)
	if err != nil {
		return nil, err
	}
	r := &resting{inner: inner, rests: rests, pass: max(int(b.Seconds()*s.FPS), 1)}
	for _, e := range b.Events() {
		from, to := int((e.StillFrom+restMargin)*s.FPS)+1, int((FirstOf(e.ForwardStart, e.BackStart)-restMargin)*s.FPS)
		if to > from {
			r.stills = append(r.stills, [2]int{from, to})
		}
	}
	return r, nil
}

// pace is a virtual.Pace.
func (r *resting) pace(i int, fps float64, closed <-chan struct{}) int {
	if i == 0 {
		r.asked, r.shown, r.step = 0, -1, 1
	}
	due := r.inner(r.asked, fps, closed)
	next := r.shown + due - r.asked + 1
	if from, to, ok := r.stand(); ok && r.rests() {
		if next = r.shown + r.step; next < from || next > to {
			r.step = -r.step
			next = r.shown + r.step
		}
	}
	r.asked, r.shown = due+1, next
	return next
}

// stand is the stand that the picture shown belongs to.
func (r *resting) stand() (from, to int, ok bool) {
	if r.shown < 0 {
		return 0, 0, false
	}
	base := r.shown / r.pass * r.pass
	for _, s := range r.stills {
		if at := r.shown - base; at >= s[0] && at <= s[1] {
			return base + s[0], base + s[1], true
		}
	}
	return 0, 0, false
}

// rest says when the drawn player rests: when all reps of a set are swung, read
// or not, and then so that the set can be looked at, until the next is begun or
// a while has passed.
type rest struct {
	set   int
	done  bool
	since float64
}

func (r *rest) wanted(s *runner.Snapshot, now float64) bool {
	full := s.Drill.Reps > 0 && len(s.Reps)+s.Waiting >= s.Drill.Reps
	if !s.SetDone && !full {
		*r = rest{}
		return false
	}
	if r.set != s.Set || r.done != s.SetDone {
		*r = rest{set: s.Set, done: s.SetDone, since: now}
	}
	return now-r.since < restFor
}
