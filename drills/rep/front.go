package rep

import (
	"fmt"
	"math"

	"drillbay/camera/sight"
	"drillbay/drills"
)

// OfFront makes a rep of what was read face-on: everything but the shaft line,
// which is not seen from there. ok is false when it shows none.
func OfFront(f *sight.Front, k Known) (r drills.Rep, ok bool) {
	r = drills.Rep{Moments: drills.NoMoments(), ShaftLine: drills.None(), Elevation: drills.None(), Depth: drills.None(), Height: drills.None(), TopHeight: drills.None(),
		Verdict: drills.NoReading, Why: drills.SeenFaceOn, Smoothness: math.NaN(), Tempo: math.NaN(), TempoLow: math.NaN(), TempoHigh: math.NaN()}
	m := &r.Moments
	m.Start, m.BackStart, m.Level, m.Catch, m.Top, m.Impact = f.Start, f.Turn, f.Level, f.Catch, f.Top, f.Impact
	if !f.Held {
		back, down := f.Top-f.Start, f.Impact-f.Top
		if !(back > quickBack && back < slowBack && down > quickDown && down < slowDown) {
			return r, false
		}
		r.Manner = drills.Swung
		tempo(&r, f.Frame)
	} else {
		if long := f.Catch - f.Turn; !(long > shortest && long < longest) {
			return r, false
		}
		r.Manner, r.Smoothness = frontManner(f)
		if f.Lift.OK() {
			r.Elevation = drills.Reading{Value: f.Lift.Value, Sigma: f.Lift.Sigma}
			if f.Lift.Value < -drills.ShortOf {
				r.Verdict, r.Just = drills.Short, f.Lift.Value > -drills.ShortOf-1.64*f.Lift.Sigma
				r.Why = fmt.Sprintf("stopped %.0f° before level; %s", -f.Lift.Value, drills.SeenFaceOn)
			} else if math.IsNaN(m.Level) || f.Lift.Value < asLevel {
				m.Level = f.Catch
			}
		}
	}
	if !k.Scale {
		r.BodyWhy = NoScale
		return r, true
	}
	const cm = 100
	for _, x := range []struct {
		to   drills.BodyPart
		from sight.Measure
		unit float64
	}{{drills.HeadBack, f.HeadBack, cm}, {drills.HipsBack, f.HipsBack, cm}, {drills.HandsThigh, f.HandsThigh, cm},
		{drills.ArmBack, f.ArmBack, 1}, {drills.ArmBend, f.Bend, 1}, {drills.BallPlace, f.Ball, 100}} {
		if x.from.OK() {
			r.Body[x.to] = drills.Reading{Value: x.unit * x.from.Value, Sigma: x.unit * x.from.Sigma}
		}
	}
	r.BodyWhy = f.Missing()
	return r, true
}

// frontManner judges how the club came to the catch as manner does, by the
// shaft's angle in the picture.
func frontManner(f *sight.Front) (drills.Manner, float64) {
	var at, arc []float64
	for i, t := range f.At {
		if t > f.Turn && t < f.Catch {
			at, arc = append(at, t), append(arc, f.Arc[i])
		}
	}
	if len(at) < 4 {
		return drills.Unsure, math.NaN()
	}
	if f.Lift.OK() {
		at, arc = append(at, f.Catch), append(arc, 90+f.Lift.Value)
	}
	p, ok := passageOf(at, arc)
	if !ok {
		return drills.Unsure, math.NaN()
	}
	switch {
	case p.dwell > pause:
		return drills.Placed, p.smooth
	case !f.Lift.OK() || math.IsNaN(f.Ending):
		return drills.Unsure, p.smooth // how it came to rest was not seen
	}
	switch score := p.score(f.Ending); {
	case score < -surely && p.long < longSwing:
		return drills.Swung, p.smooth
	case score > surely:
		return drills.Placed, p.smooth
	}
	return drills.Unsure, p.smooth
}
