// Package read makes a reading of a rep from the pictures of one camera, or of two:
// what is told of it, and what is drawn over its pictures.
package read

import (
	"math"

	"drillbay/camera/eye"
	"drillbay/camera/lens"
	"drillbay/drills"
	"drillbay/drills/measure"
	"drillbay/drills/rep"
	"drillbay/drills/runner"
)

// traceStep is the time between the dots of the head's trace, s.
const traceStep = 1.0 / 30

// drillOf returns the kind of rep to look for.
func drillOf(k runner.Kind) measure.Drill {
	if k == runner.Ordinary {
		return measure.Ordinary
	}
	return measure.Catch
}

// Camera reads the reps that one camera found, one at a time.
type Camera struct {
	known  func(width, height int) rep.Known
	reader measure.Reader
}

// NewCamera reads the reps of one camera. known returns what a reading of pictures of a
// size, px, needs to know; seen keeps what the eye saw in the last seconds, nil for
// nothing.
func NewCamera(known func(width, height int) rep.Known, seen *measure.Recall) *Camera {
	return &Camera{known: known, reader: measure.Reader{Seen: seen}}
}

// Read makes the full reading of a take, with the impact that was heard where it
// fits the one that was seen. told is void where the pictures show no rep, or the
// last one again.
func (c *Camera) Read(t runner.Take) (r measure.Result, told runner.Analysis) {
	k := c.known(t.Frames[0].Width, t.Frames[0].Height)
	k.Band = t.Drill.Width()
	c.reader.Known, c.reader.Drill = k, drillOf(t.Drill.Kind)
	r, ok := c.reader.Analyse(t.Frames, t.Span)
	if !ok {
		return r, runner.Analysis{Void: true}
	}
	sharpen(&r.Rep, t.Strikes, r.Frame())
	told = runner.Analysis{Rep: r.Rep, Overlay: Overlay(r, k.Setting.View)}
	told.Overlay.Again = again(r, k, told.Overlay)
	return r, told
}

// Overlay makes the drawing that lies over the rep's pictures, px as seen.
func Overlay(r measure.Result, v lens.View) runner.Overlay {
	none := runner.Dot{At: math.NaN(), X: math.NaN(), Y: math.NaN()}
	o := runner.Overlay{Hands: none, Head: none, Target: runner.Dot{X: v.Target.U, Y: v.Target.V}}
	seen := func(at float64, p lens.Point) runner.Dot {
		p = v.Mirror(p)
		return runner.Dot{At: at, X: p.U, Y: p.V}
	}
	if r.FaceOn {
		return faceOn(r, v)
	}
	m := r.Rep.Moments
	last := drills.FirstOf(m.Catch, m.Impact)
	for i := 0; m.Start+float64(i)*traceStep <= last; i++ {
		at := m.Start + float64(i)*traceStep
		_, head := r.Track.Seen(at)
		o.Trace = append(o.Trace, seen(at, head))
	}
	if at := drills.FirstOf(m.Level, m.Catch); at > 0 {
		hands, head := r.Track.Seen(at)
		o.Hands, o.Head = seen(at, hands), seen(at, head)
	}
	o.Home, o.Here = joints(r.Body.Home, v), joints(r.Body.Held, v)
	return o
}

// faceOn is the overlay of a rep that was seen from the front: club and body, no
// target point.
func faceOn(r measure.Result, v lens.View) runner.Overlay {
	here := joints(r.Front.Here, v)
	dot := func(p eye.Point) runner.Dot {
		q := v.Mirror(r.Front.Here[p])
		return runner.Dot{At: drills.FirstOf(r.Rep.Moments.Level, r.Rep.Moments.Catch, 0), X: q.U, Y: q.V}
	}
	none := runner.Dot{X: math.NaN(), Y: math.NaN()}
	return runner.Overlay{Hands: dot(eye.Hands), Head: dot(eye.Head), Target: none, Home: joints(r.Front.Home, v), Here: here}
}

// joints are the places of a body as the overlay needs them, px as seen.
func joints(at [eye.Points]lens.Point, v lens.View) runner.Joints {
	dot := func(p eye.Point) runner.Dot {
		q := v.Mirror(at[p])
		return runner.Dot{X: q.U, Y: q.V}
	}
	a, b := dot(eye.LeftHip), dot(eye.RightHip)
	return runner.Joints{Crown: dot(eye.Crown), Neck: dot(eye.Neck), Hips: runner.Dot{X: (a.X + b.X) / 2, Y: (a.Y + b.Y) / 2},
		LeadShoulder: dot(eye.LeftShoulder), TrailElbow: dot(eye.RightElbow), TrailHip: b, Seen: true}
}
