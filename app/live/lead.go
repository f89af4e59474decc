package live

import (
	"math"
	"slices"

	"drillbay/camera"
	"drillbay/camera/frame"
	"drillbay/camera/sight"
	"drillbay/drills"
	"drillbay/drills/runner"
)

// leading says which camera's pictures the session gets: the first one's, and
// while that is lost the second one's.
type leading struct {
	second bool
	at     float64 // s, from then on
}

const firstKey = "first view" // of the notice that the first camera is lost

// lead changes the camera that leads where that is due: at once when the first is
// lost, back again when it is there and no rep is going on. It is called when a
// camera's state changes, and now and then.
func (l *Live) lead() {
	l.mu.Lock()
	defer l.mu.Unlock()
	o, first := l.second.Load(), l.state.Load()
	there := first == nil || first.State == camera.Live || first.State == camera.Searching && first.Err == nil || first.State == camera.Closed
	now := l.leads.Load()
	want := now
	switch {
	case o == nil || !o.is():
		want = false
	case !there:
		want = true
	case now:
		phase := l.runner.Glance().Phase
		want = phase == sight.Forward || phase == sight.Back || phase == sight.Hold
	}
	if want == now {
		return
	}
	l.leads.Store(want)
	l.led = append(l.led, leading{want, l.Now()})
	if !want {
		l.runner.Clear(firstKey)
		return
	}
	l.runner.Clear(runner.NoPicture)
	why := "The first camera shows no picture."
	if first.Err != nil {
		why = drills.Sentence(first.Err.Error())
	}
	l.runner.Raise(firstKey, why, "Practice goes on with the other view; the first comes back by itself.")
}

// ledAt reports which camera led at a time, s, and since when.
func (l *Live) ledAt(at float64) (second bool, since float64) {
	l.mu.Lock()
	defer l.mu.Unlock()
	since = math.Inf(-1)
	for _, x := range l.led {
		if x.at <= at {
			second, since = x.second, x.at
		}
	}
	return second, since
}

// give gives the session a picture of the camera that leads with what its eye saw
// last.
func (l *Live) give(p *frame.Picture, g sight.Glance) {
	l.handing.Lock()
	defer l.handing.Unlock()
	l.runner.See(p, g)
	if s := l.runner.Snapshot(); s.Ready {
		l.voice.Follow(g)
		l.hearing.Follow(g, s.Drill)
	}
}

// own are the pictures of a rep from since on, s: those before are the other
// camera's.
func own(t runner.Take, since float64) runner.Take {
	t.Frames = slices.DeleteFunc(slices.Clone(t.Frames), func(p *frame.Picture) bool { return p.Seconds() < since })
	return t
}
