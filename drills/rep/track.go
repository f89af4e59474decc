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
	level.Line.Value += passingMean
	level.Line.Sigma = math.Hypot(level.Line.Sigma, passing)
	r.Elevation = drills.Reading{Value: 0, Sigma: level.Lift.Sigma}
	read(r, level)
	return true
}

// seenThrough reports whether the head of the club was seen before and after it
// passed level, and near it, on a way that a swing may take.
func seenThrough(m *sight.Motion, level float64) bool {
	before, after := m.SeenNear(level, nearLevel)
	near := before + after
	before, after = m.SeenNear(level, aboutLevel)
	return enough(near, before, after, m.Flatness(level))
}

// enough reports whether so many looks near level, and before and after it, and
// so flat a way tell how the club passed.
func enough(near, before, after int, flat float64) bool {
	return near >= seenAtLevel && before+after >= seenAbout && before > 0 && after > 0 && flat <= flattest
}

// A swing is read at level only where the head of the club was seen so often
// within so many degrees of it, and so often on the way there and on: at 30
// frames a second a club turns 10 to 15 degrees from one to the next. How sure a
// reading of so few looks is, its sigma tells. A head that passes is told a little too far
// outside; by how much, and how that differs, degrees, was measured on 13 drawn
// and rendered swings (0.3 to 2.6 outside, 1.2 at the mean).
const (
	seenAtLevel, nearLevel = 1, 20.0
	seenAbout, aboutLevel  = 3, 45.0
	// No swing's plane lies flatter than 45° to the ground (common practice: 45 to
	// 65); where the track's does, something else was taken for the head. Its
	// cotangent.
	flattest             = 1.0
	passingMean, passing = 1.2, 1.8
)

// read takes shaft line and hands from a reading of the track.
func read(r *drills.Rep, x sight.Reading) {
	r.ShaftLine = drills.Reading{Value: x.Line.Value, Sigma: x.Line.Sigma}
	r.Depth = drills.Reading{Value: 100 * x.Inside.Value, Sigma: 100 * x.Inside.Sigma}
	r.Height = drills.Reading{Value: 100 * x.Above.Value, Sigma: 100 * x.Above.Sigma}
}

// What the ways to a catch look like, measured on drawn and rendered reps: the
// middle between placed and swung, and by how much reps of one manner differ.
// Ending is sight.Times's; the last share is lastShare's; the peak is the share
// of the time at which the club is fastest.
const (
	endingMiddle, endingSpread = 0.495, 0.05
	lastMiddle, lastSpread     = 0.215, 0.035
	peakMiddle, peakSpread     = 0.58, 0.21
	// In sums of these spreads, + placed: what is nearer to the middle is unsure.
	surely = 1.3
	// By so much more where the end was not seen.
	unseenEnd = 0.6
	// Where more frames than this are missing before the catch its end was not
	// seen: the club may have stopped at once.
	unseenFrames = 2
	// Nobody swings back for longer than this (common practice), s.
	longSwing = 1.35
	// A pause on the way is one from so long, s.
	pause = 0.15
)

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
	// The looks of the hold do not count for it: where the eye settles late on a
	// club that was stopped, they look like a slow end.
	endSeen := t.Catch-at[len(at)-2] <= unseenFrames*m.Frame()
	p, ok := passageOf(at, arc)
	if !ok {
		return drills.Unsure, math.NaN()
	}
	score := p.score(t.Ending)
	if math.IsNaN(score) { // how it came to rest was not seen: the rest must say clearly that it was swung
		score = min(0, p.score(endingMiddle)+unseenEnd)
	}
	return p.manner(score, endSeen), p.smooth
}

// passage is what tells how a club came from the turn-round to the catch.
type passage struct {
	long       float64 // s
	smooth     float64 // SPARC
	dwell      float64 // s, the longest on the way
	last, peak float64 // lastShare's and late's
}

// passageOf is the passage of angles, degrees, at their times, s; ok is false
// where it is too short to tell.
func passageOf(at, arc []float64) (p passage, ok bool) {
	rise(arc)
	n := len(at)
	long := at[n-1] - at[0]
	if long < 0.12 || arc[n-1]-arc[0] < 25 {
		return p, false
	}
	return passage{long, SPARC(speeds(at, arc), speedRate), dwells(at, arc), lastShare(at, arc), late(at, arc)}, true
}

// manner is how the club came, by the passage's score; where its end was not seen
// it may have been stopped at once, and only its length or a pause says that it
// was placed. The last part of its way must not say otherwise.
func (p passage) manner(score float64, endSeen bool) drills.Manner {
	switch {
	case p.dwell > pause:
		return drills.Placed
	case score < -surely && p.long < longSwing:
		return drills.Swung
	case score > surely && endSeen && p.last > lastMiddle, p.long >= longSwing && score > -surely:
		return drills.Placed
	}
	return drills.Unsure
}

// score is how much the passage looks like a placement rather than a swing, in
// sums of spreads, by how it ended; NaN where that is.
func (p passage) score(ending float64) float64 {
	return (ending-endingMiddle)/endingSpread + (p.last-lastMiddle)/lastSpread + (peakMiddle-p.peak)/peakSpread
}

// late is the share of the time at which the speed peaks.
func late(at, arc []float64) float64 {
	best, w := 0.0, 0.0
	for i := 1; i < len(at); i++ {
		if v := (arc[i] - arc[i-1]) / (at[i] - at[i-1]); v > best {
			best, w = v, (at[i]+at[i-1])/2
		}
	}
	return (w - at[0]) / (at[len(at)-1] - at[0])
}
