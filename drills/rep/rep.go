package rep

import (
	"fmt"
	"math"

	"drillbay/camera/lens"
	"drillbay/camera/sight"
	"drillbay/drills"
)

// Known is what is known beside the pictures, with 1-sigma uncertainties.
type Known struct {
	Setting  sight.Setting
	Scale    bool    // false: neither distance nor field of view is known
	Band     float64 // degrees each way
	Distance float64 // sigma of Setting.Distance, m
	Target   float64 // sigma of the target point, px
	Roll     float64 // sigma, degrees
	Focal    float64 // sigma, share
	Reach    float64 // sigma, m
	Forward  float64 // sigma of how far the hands come toward the lens, m
}

// NoScale says why there is no reading in degrees when Known.Scale is false.
const NoScale = "give the distance, the field of view or a known length"

// From makes a rep of a track. ok is false when the track shows no rep: the
// club did not swing back.
func From(t sight.Track, k Known) (r drills.Rep, ok bool) {
	r = drills.Rep{Moments: drills.NoMoments(), ShaftLine: drills.None(), Elevation: drills.None(), Depth: drills.None(), Height: drills.None(), TopHeight: drills.None(),
		Smoothness: math.NaN(), Tempo: math.NaN(), TempoLow: math.NaN(), TempoHigh: math.NaN()}
	if len(t.Samples) < 4 {
		return r, false
	}
	last := t.Samples[len(t.Samples)-1]
	r.Moments.Start, r.Moments.BackStart = t.Start, t.Turn
	if math.IsNaN(t.Start) {
		return r, false
	}
	caught := t.Held != nil
	if caught {
		// At the ball still, or there too soon for any backswing: the club
		// paused on its way forward.
		if long := last.At - t.Turn; last.Arc < 22 || long < shortest || long > longest || !followed(t) {
			return r, false
		}
		r.Moments.Catch = last.At
		r.Manner, r.Smoothness = manner(t)
		if r.Manner == drills.Placed {
			// A placement runs out: its last part is too slow to be seen.
			r.Moments.Catch += unseen * lastMove(t)
		}
	} else {
		if !swungBack(t) || !wholeSwing(t) {
			return r, false
		}
		r.Manner = drills.Swung
		r.Moments.Top, r.Moments.Impact = t.Top, t.Impact
		tempo(&r, t.Frame)
	}
	line(&r, t, k)
	if !k.Scale {
		r.ShaftLine, r.Elevation, r.Depth, r.Height = drills.None(), drills.None(), drills.None(), drills.None()
		r.Verdict, r.Just = drills.NoReading, false
		r.Why = NoScale
	}
	return r, true
}

// shortest and longest are the times from the turn-round to a catch that are
// believed, s.
const shortest, longest = 0.28, 2.7

// followed reports whether the club was really seen on its way back.
func followed(t sight.Track) bool {
	n, fit := 0, 0.0
	for _, s := range t.Samples[:len(t.Samples)-1] {
		if s.At > t.Turn && s.Arc > 14 && s.Lift < 10 {
			n++
			fit += s.Fit
		}
	}
	return n < 3 || fit > 1.2*float64(n)
}

// unseen is the share of a minimum-jerk movement's time (Flash & Hogan 1985)
// in which it goes its last 0.5 %, a pixel or two: the cube root of 0.005 / 10.
const unseen = 0.079

// swungBack reports whether the club swung back through the level.
func swungBack(t sight.Track) bool {
	most := 0.0
	for _, s := range t.Samples {
		if s.At > t.Start && s.At < t.Start+1.3 {
			most = max(most, s.Lift)
		}
	}
	return most > -5
}

// unseenLift is how much lower, in degrees, a club must be to be called short
// when only the motion before tells its elevation.
const unseenLift = 6.0

// wholeSwing reports whether the moments are those of a swing at a ball and
// the club was really seen on the way: walking about is neither. The limits
// are wide about the usual 0.75 s and 0.25 s (common practice).
func wholeSwing(t sight.Track) bool {
	back, down := t.Top-t.Start, t.Impact-t.Top
	if !(back > 0.4 && back < 1.7 && down > 0.12 && down < 0.65) {
		return false
	}
	n, fit := 0, 0.0
	for _, s := range t.Samples {
		if s.At > t.Start && s.At < t.Top && s.Lift > -50 && s.Lift < 15 && s.Arc > 15 {
			n++
			fit += s.Fit
		}
	}
	return n >= 3 && fit > 1.5*float64(n)
}

// A club of which little is seen may be something else: evidence under plain
// adds up to doubtful degrees, and a share of them to what the motion tells.
// Hands farther from their usual place than mostAway of its spread make it less
// sure by elsewhere degrees each.
const (
	plain, doubtful, alike = 40.0, 6.0, 0.45
	mostAway, elsewhere    = 2.0, 3.0
)

// What the parts of a reading do not know of each other, set by hand on drawn
// bays and clips that tests use too, so those flatter it: a held club's sigma is
// changed by this factor and never under this many degrees; a club followed
// through level in a whole swing is this much less sure, less when it was seen by
// itself up to mostUnder degrees of level.
const (
	held, heldLeast = 1.0, 1.4
	carriedOn       = 3.0
	seenThrough     = 1.8
	mostUnder       = 6.0
)

// line fills in level moment, shaft line, elevation, depth and verdict.
func line(r *drills.Rep, t sight.Track, k Known) {
	s := k.Setting
	v := s.View
	sig := lens.Sigmas{Forward: math.Hypot(k.Forward, k.Distance), Reach: k.Reach, Target: k.Target, Roll: k.Roll, Focal: k.Focal}
	path := pathOf(t)
	var hands lens.Point
	var fwd, short float64
	if h := t.Held; h != nil {
		fwd = s.Distance - forwardOf(t, s, h.Hands)
		hands = h.Hands
		r.Elevation = drills.Reading{Value: h.Lift, Sigma: 2.5}
		limit := drills.ShortOf
		if h.EndOn {
			limit += unseenLift // the club itself was not seen beside the hands
		}
		if h.Lift < -limit {
			r.Verdict = drills.Short
			r.Just = h.Lift > -drills.ShortOf-3
			r.Why = fmt.Sprintf("stopped %.0f° before level", -h.Lift)
			return
		}
		r.Moments.Level = r.Moments.Catch
		sig.Hands, sig.Head = h.AcrossHands, h.AcrossHead
		// End-on, only the motion before tells the side.
		value, sigma := 0.0, 9.0
		doubt := doubtful*max(0, min(1, (plain-h.Sum)/plain)) + elsewhere*max(0, h.Away-mostAway)
		if !h.EndOn {
			club := lens.Club{Hands: h.Hands, Head: h.Head, Forward: fwd, Reach: s.Reach}
			if a, e, ok := v.Reading(club); ok {
				value, r.Elevation.Value = a, e
			}
			sigma = math.Hypot(v.Uncertainty(club, sig), doubt)
		}
		if p, ps, ok := path.at(min(r.Elevation.Value, 0)); ok {
			value, sigma = blend(value, sigma, p, ps)
			// The motion was followed to the same hands.
			sigma = math.Hypot(sigma, alike*doubt)
		}
		if past := r.Elevation.Value; past > 4 {
			// The level was crossed before: the path says where.
			if p, ps, ok := path.with(past, value, sigma).at(0); ok {
				value, sigma = p, math.Hypot(max(ps, 1.5), alike*doubt)
			} else {
				sigma = 5
			}
			if at, ok := path.when(0); ok {
				r.Moments.Level = at
			}
			r.Elevation.Value = 0
		}
		r.ShaftLine = drills.Reading{Value: value, Sigma: max(held*sigma, heldLeast)}
	} else {
		p, ps, ok := path.at(0)
		at, seen := path.when(0)
		if !ok || !seen {
			r.Why = "the club was not followed through level"
			return
		}
		r.Moments.Level = at
		r.Elevation = drills.Reading{Value: 0, Sigma: 1.5}
		hands, short = path.hands(0), path.short(0)
		fwd = s.Distance - forwardOf(t, s, hands)
		more := carriedOn
		if short < mostUnder && path.alone {
			more = seenThrough
		}
		r.ShaftLine = drills.Reading{Value: p, Sigma: math.Hypot(ps, more)}
	}
	place(r, t, k, hands, fwd, short)
	r.Verdict, r.Just = drills.Judge(r.ShaftLine, k.Band)
	if r.Verdict == drills.NoReading {
		r.Why = fmt.Sprintf("only sure to %.0f°", math.Ceil(r.ShaftLine.Sigma)) // above the limit, never at it
		r.ShaftLine = drills.None()
	}
}

// forwardOf is how far the hands came toward the lens, m: sight.Towards of how
// far they rose, and what is usual, each by how sure it is.
func forwardOf(t sight.Track, s sight.Setting, hands lens.Point) float64 {
	const arm = sight.ArmRadius
	const usual, usualSigma = 0.33, 0.09
	f := usual
	for range 3 {
		d := s.Distance - f
		rise := s.View.At(hands, d).Z - s.View.At(t.Stance.Hands, s.Distance).Z
		rise = max(0.005, min(rise, arm))
		arc := sight.Towards(rise)
		// A rise measured to 2.5 cm, and a radius to 20 %.
		sigma := math.Hypot(0.025*(arm-rise)/arc, 0.1*arc)
		w := sq(usualSigma) / (sq(usualSigma) + sq(sigma))
		f = usual + w*(arc-usual)
	}
	return f
}

func sq(x float64) float64 { return x * x }

// place is how far the hands came inside of where they were at address, and
// how far they rose. short is by how many degrees the last sample with hands is
// under level, 0 in a catch.
func place(r *drills.Rep, t sight.Track, k Known, hands lens.Point, fwd, short float64) {
	s := k.Setting
	a := s.View.At(t.Stance.Hands, s.Distance)
	b := s.View.At(hands, fwd)
	m := s.View.Focal / fwd
	tp := s.View.TargetPoint()
	sigma := func(off float64) float64 {
		return 100 * math.Sqrt(sq(0.018)+sq(off/m*k.Forward/fwd)+sq(0.0015*short))
	}
	r.Depth = drills.Reading{Value: 100 * (b.Y - a.Y), Sigma: sigma(hands.U - tp.U)}
	if short < mostShort {
		r.Height = drills.Reading{Value: 100 * (b.Z - a.Z), Sigma: sigma(hands.V - tp.V)}
	}
}

// mostShort is how far under level the hands may have been seen last for their
// height to be told: they rise fast there, degrees.
const mostShort = 8.0

// blend joins two readings that may disagree: where they do, the result is
// less sure than either.
func blend(a, sa, b, sb float64) (float64, float64) {
	wa, wb := 1/sq(sa), 1/sq(sb)
	v := (wa*a + wb*b) / (wa + wb)
	s := math.Sqrt(1 / (wa + wb))
	chi := sq(a-b) / (sq(sa) + sq(sb))
	if chi > 1 {
		s *= math.Sqrt(chi)
	}
	return v, s
}

// tempo is back to down with the interval that the frame time allows: each
// moment lies evenly within a frame, so a duration's sd is frame / √6.
func tempo(r *drills.Rep, frame float64) {
	back, down := r.Moments.Top-r.Moments.Start, r.Moments.Impact-r.Moments.Top
	if !(back > 0.2) || !(down > 0.08) {
		return
	}
	r.Tempo = back / down
	// The moments themselves are read to about a frame besides.
	sd := math.Hypot(frame/math.Sqrt(6), 0.012)
	rel := 1.96 * math.Hypot(sd/back, math.Hypot(sd, sd*r.Tempo/(1+r.Tempo))/down)
	r.TempoLow, r.TempoHigh = r.Tempo*(1-rel), r.Tempo*(1+rel)
}
