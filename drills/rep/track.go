package rep

import (
	"fmt"
	"math"

	"drillbay/camera/sight"
	"drillbay/drills"
)

// Doubt is what the track must know of how sure the setting is.
func (k Known) Doubt() sight.Doubt {
	return sight.Doubt{Distance: k.Distance, Reach: k.Reach, Target: k.Target, Roll: k.Roll, Focal: k.Focal}
}

// Of makes a rep of a track. ok is false when the track shows none: the club
// did not swing back.
func Of(m *sight.Motion, k Known) (r drills.Rep, ok bool) {
	r = drills.Rep{Moments: drills.NoMoments(), ShaftLine: drills.None(), Elevation: drills.None(), Depth: drills.None(), Height: drills.None(), TopHeight: drills.None(),
		Smoothness: math.NaN(), Tempo: math.NaN(), TempoLow: math.NaN(), TempoHigh: math.NaN()}
	t := m.Times()
	r.Moments.Start, r.Moments.BackStart = t.Start, t.Turn
	if math.IsNaN(t.Start) {
		return r, false
	}
	if m.Hold >= 0 {
		ok = caught(&r, m, t)
	} else {
		ok = struck(&r, m, t)
	}
	if !ok {
		return r, false
	}
	if !k.Scale {
		r.ShaftLine, r.Elevation, r.Depth, r.Height, r.TopHeight = drills.None(), drills.None(), drills.None(), drills.None(), drills.None()
		r.Verdict, r.Just = drills.NoReading, false
		r.Why = NoScale
		return r, true
	}
	if r.Verdict == drills.Short {
		return r, true
	}
	r.Verdict, r.Just = drills.Judge(r.ShaftLine, k.Band)
	if r.Verdict == drills.NoReading && r.Why == "" {
		r.Why = fmt.Sprintf("only sure to %.0f°", math.Ceil(r.ShaftLine.Sigma)) // above the limit, never at it
		r.ShaftLine = drills.None()
	}
	return r, true
}

// A club that is held this little above level was level when it was caught:
// what is between is within what the hold is read to, degrees.
const asLevel = 3.0

// caught fills in a rep that ends in a hold.
func caught(r *drills.Rep, m *sight.Motion, t sight.Times) bool {
	if long := t.Catch - t.Turn; !(long > shortest && long < longest) {
		return false
	}
	r.Moments.Catch = t.Catch
	r.Manner, r.Smoothness = mannerOf(m, t)
	held := m.Held()
	r.Elevation = drills.Reading{Value: held.Lift.Value, Sigma: held.Lift.Sigma}
	if held.Lift.Value < -drills.ShortOf {
		r.Verdict, r.Just = drills.Short, held.Lift.Value > -drills.ShortOf-1.64*held.Lift.Sigma
		r.Why = fmt.Sprintf("stopped %.0f° before level", -held.Lift.Value)
		return true
	}
	r.Moments.Level = t.Catch
	if held.Lift.Value > asLevel && t.Level < t.Catch {
		r.Moments.Level = t.Level
		held = m.AtLevel(t.Level)
		r.Elevation = drills.Reading{Value: 0, Sigma: held.Lift.Sigma}
	}
	read(r, held)
	return true
}

// struck fills in a rep with a strike.
func struck(r *drills.Rep, m *sight.Motion, t sight.Times) bool {
	back, down := t.Top-t.Start, t.Impact-t.Top
	if !(back > 0.4 && back < 1.7 && down > 0.12 && down < 0.65) {
		return false
	}
	r.Manner = drills.Swung
	r.Moments.Top, r.Moments.Impact = t.Top, t.Impact
	tempo(r, m.Frame())
	top := m.At(t.Top)
	r.TopHeight = drills.Reading{Value: 100 * top.Above.Value, Sigma: 100 * top.Above.Sigma}
	if math.IsNaN(t.Level) {
		r.Why = "the club was not followed through level"
		return true
	}
	r.Moments.Level = t.Level
	level := m.AtLevel(t.Level)
	r.Elevation = drills.Reading{Value: 0, Sigma: level.Lift.Sigma}
	read(r, level)
	return true
}

// read takes shaft line and hands from a reading of the track.
func read(r *drills.Rep, x sight.Reading) {
	r.ShaftLine = drills.Reading{Value: x.Line.Value, Sigma: x.Line.Sigma}
	r.Depth = drills.Reading{Value: 100 * x.Inside.Value, Sigma: 100 * x.Inside.Sigma}
	r.Height = drills.Reading{Value: 100 * x.Above.Value, Sigma: 100 * x.Above.Sigma}
}

// Between these the last part of the way does not tell whether the club was
// stopped; see sight.Times.
const stoppedTo, restedFrom = 0.47, 0.53

// mannerOf judges how the club came to the catch, from the turn-round on, and
// gives the SPARC of that part.
func mannerOf(m *sight.Motion, t sight.Times) (drills.Manner, float64) {
	var at, arc []float64
	arcs := m.Arcs()
	for i, p := range m.Poses[:m.Hold+1] {
		if p.At > t.Turn && (i == m.Hold || p.At < t.Catch) {
			at, arc = append(at, p.At), append(arc, arcs[i])
		}
	}
	if len(at) < 4 {
		return drills.Unsure, math.NaN()
	}
	at[len(at)-1] = t.Catch
	rise(arc)
	n := len(at)
	long, way := at[n-1]-at[0], arc[n-1]-arc[0]
	if long < 0.12 || way < 25 {
		return drills.Unsure, math.NaN()
	}
	smooth := SPARC(speeds(at, arc), speedRate)
	dwell, _ := dwells(at, arc)
	last := lastShare(at, arc)
	switch {
	case dwell > dwellLong*long && dwell > dwellMin:
		return drills.Placed, smooth
	case t.Ending < stoppedTo && last < placedAt:
		return drills.Swung, smooth
	case t.Ending > restedFrom && last > swungTo:
		return drills.Placed, smooth
	case t.Ending < (stoppedTo+restedFrom)/2 && last < swungTo:
		return drills.Swung, smooth
	case t.Ending > (stoppedTo+restedFrom)/2 && last > placedAt:
		return drills.Placed, smooth
	}
	return drills.Unsure, smooth
}
