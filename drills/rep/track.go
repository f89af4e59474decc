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
		ok = struck(&r, m, t, k)
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

// caught fills in a rep that ends in a hold.
func caught(r *drills.Rep, m *sight.Motion, t sight.Times) bool {
	if long := t.Catch - t.Turn; !(long > shortest && long < longest) {
		return false
	}
	odds, smooth := mannerOdds(m, t)
	r.Manner, r.Smoothness = manner(odds), smooth
	if odds > 0 && math.Abs(t.Rest-t.Catch) < latest { // placed rather than swung
		t.Catch = t.Rest
	}
	r.Moments.Catch = t.Catch
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
		passing := m.AtLevel(t.Level)
		passing.Line.Sigma = max(passing.Line.Sigma, held.Line.Sigma) // it is not seen better than what is held
		held = passing
		r.Elevation = drills.Reading{Value: 0, Sigma: held.Lift.Sigma}
	}
	read(r, held)
	return true
}

// struck fills in a rep with a strike.
func struck(r *drills.Rep, m *sight.Motion, t sight.Times, k Known) bool {
	back, down := t.Top-t.Start, t.Impact-t.Top
	if !(back > quickBack && back < slowBack && down > quickDown && down < slowDown) {
		return false
	}
	r.Manner = drills.Swung
	r.Moments.Top, r.Moments.Impact = t.Top, t.Impact
	tempo(r, m.Frame())
	if math.IsNaN(t.Level) {
		r.Why = "the club was not followed through level"
		return true
	}
	r.Moments.Level = t.Level
	if !seenThrough(m, t.Level) {
		r.Why = "the club passed level unseen"
		return true
	}
	level := m.AtLevel(t.Level)
	level.Line.Value += k.Passing
	r.Elevation = drills.Reading{Value: 0, Sigma: level.Lift.Sigma}
	read(r, level)
	return true
}

// seenThrough reports whether the head of the club was seen on its way to level,
// and near it, on a way that a swing may take.
func seenThrough(m *sight.Motion, level float64) bool {
	before, after := m.SeenNear(level, nearLevel)
	near := before + after
	before, after = m.SeenNear(level, aboutLevel)
	return enough(near, before, after, m.Flatness(level))
}

// enough reports whether so many looks near level, and before and after it, and
// so flat a way tell how the club passed. A club that turns before the player's
// clothes is often not seen again after it: its track goes on through level, and
// is the less sure for it.
func enough(near, before, after int, flat float64) bool {
	return near >= seenAtLevel && before+after >= seenAbout && before > 0 && flat <= flattest
}

// read takes shaft line and hands from a reading of the track.
func read(r *drills.Rep, x sight.Reading) {
	r.ShaftLine = drills.Reading{Value: x.Line.Value, Sigma: x.Line.Sigma}
	r.Depth = drills.Reading{Value: 100 * x.Inside.Value, Sigma: 100 * x.Inside.Sigma}
	r.Height = drills.Reading{Value: 100 * x.Above.Value, Sigma: 100 * x.Above.Sigma}
}

// mannerOdds judges how the club came to the catch: the log odds that it was placed
// rather than swung, NaN where that was not seen, and the SPARC of that part.
func mannerOdds(m *sight.Motion, t sight.Times) (odds, smooth float64) {
	f, smooth, ok := Passage(m, t)
	if !ok {
		return math.NaN(), smooth
	}
	return taught.LogOdds(&f), smooth
}

// manner is what is said of log odds.
func manner(odds float64) drills.Manner {
	switch {
	case odds > sure:
		return drills.Placed
	case odds < -sure:
		return drills.Swung
	}
	return drills.Unsure
}
