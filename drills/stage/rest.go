package stage

import (
	"drillbay/camera/virtual"
	"drillbay/drills"
	"drillbay/drills/runner"
)

const (
	restFor    = 10.0 // s that the drawn player stands still after a set
	restMargin = 0.3  // s from the movements before and after
)

// resting chooses the picture of its bay that a drawn player shows, tick by tick: asked to
// stand still, the player goes forward and backward by turns through the pictures of
// standing still.
type resting struct {
	rests  func() bool
	stills [][2]int // first and last picture of each stand of one pass
	pass   int      // pictures
	tick   int      // the latest
	shown  int
	step   int
}

// newResting finds the stands of a setup.
func newResting(s virtual.Setup, rests func() bool) (*resting, error) {
	stills, pass, err := Stills(s)
	return &resting{rests: rests, stills: stills, pass: pass, step: 1}, err
}

// Stills are the first and the last picture of each time in which the player of a
// setup stands still, in one pass, and how many pictures that has.
func Stills(s virtual.Setup) (stills [][2]int, pass int, err error) {
	s.Width, s.Height = 64, 64 // the same times, drawn at once
	b, err := virtual.New(s)
	if err != nil {
		return nil, 0, err
	}
	for _, e := range b.Events() {
		from, to := int((e.StillFrom+restMargin)*s.FPS)+1, int((drills.FirstOf(e.ForwardStart, e.BackStart)-restMargin)*s.FPS)
		if to > from {
			stills = append(stills, [2]int{from, to})
		}
	}
	return stills, max(int(b.Seconds()*s.FPS), 1), nil
}

// at is the picture at a tick. Ticks that were missed are passed over; one that was
// asked for before shows what it showed.
func (r *resting) at(tick int) int {
	if tick <= r.tick {
		return r.shown
	}
	next := r.shown + tick - r.tick
	if from, to, ok := r.stand(); ok && r.rests() {
		if next = r.shown + r.step; next < from || next > to {
			r.step = -r.step
			next = r.shown + r.step
		}
	}
	r.tick, r.shown = tick, next
	return next
}

// stand is the stand that the picture shown belongs to.
func (r *resting) stand() (from, to int, ok bool) {
	base := r.shown / r.pass * r.pass
	for _, s := range r.stills {
		if at := r.shown - base; at >= s[0] && at <= s[1] {
			return base + s[0], base + s[1], true
		}
	}
	return 0, 0, false
}

// Rest says when the drawn player rests: when all reps of a set are swung, read
// or not, and then so that the set can be looked at, until the next is begun or
// a while has passed.
type Rest struct {
	set   int
	done  bool
	since float64
}

// Wanted reports whether the drawn player rests at a time, s.
func (r *Rest) Wanted(s *runner.Snapshot, now float64) bool {
	full := s.Drill.Reps > 0 && len(s.Reps)+s.Waiting >= s.Drill.Reps
	if !s.SetDone && !full {
		*r = Rest{}
		return false
	}
	if r.set != s.Set || r.done != s.SetDone {
		*r = Rest{set: s.Set, done: s.SetDone, since: now}
	}
	return now-r.since < restFor
}
