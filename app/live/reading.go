package live

import (
	"math"

	"drillbay/camera/eye"
	"drillbay/camera/lens"
	"drillbay/drills/measure"
	"drillbay/drills/rep"
	"drillbay/drills/runner"
)

// traceStep is the time between the dots of the head's trace, s.
const traceStep = 1.0 / 30

// drillOf is which kind of rep is looked for.
func drillOf(k runner.Kind) measure.Drill {
	if k == runner.Ordinary {
		return measure.Ordinary
	}
	return measure.Catch
}

// Read makes a reading of a take: the full pass over its pictures. The reader
// knows the reps before. ok is false when they show no rep, or the last again.
func Read(t runner.Take, k rep.Known, reader *measure.Reader) (r measure.Result, ok bool) {
	k.Band = t.Drill.Width()
	reader.Known, reader.Drill = k, drillOf(t.Drill.Kind)
	return reader.Analyse(t.Frames, t.Span)
}

// Reading is a result as the runner takes it.
func Reading(r measure.Result, v lens.View) runner.Reading {
	return runner.Reading{Rep: r.Rep, Overlay: overlay(r, v)}
}

// overlay is what is drawn over the rep's pictures, px as seen.
func overlay(r measure.Result, v lens.View) runner.Overlay {
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
	last := m.Catch
	if math.IsNaN(last) {
		last = m.Impact
	}
	for i := 0; m.Start+float64(i)*traceStep <= last; i++ {
		at := m.Start + float64(i)*traceStep
		_, head := r.Track.Seen(at)
		o.Trace = append(o.Trace, seen(at, head))
	}
	if at := FirstOf(m.Level, m.Catch); at > 0 {
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
		return runner.Dot{At: FirstOf(r.Rep.Moments.Level, r.Rep.Moments.Catch), X: q.U, Y: q.V}
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
		LeadShoulder: dot(eye.LeftShoulder), LeadKnee: dot(eye.LeftKnee), TrailElbow: dot(eye.RightElbow), TrailHip: b, Seen: true}
}
