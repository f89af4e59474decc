package virtual

import (
	"math"
	"sort"
)

// segment is one stretch of the timeline.
type segment struct {
	from, to float64
	path     *path
	law      *law
	a, b     float64 // shares of the path at from and to
	rest     bool    // the club is held still
	waggle   bool
	gone     bool // nobody is there
	hang     bool // the club swings like a pendulum that dies out
	walk     bool // the player walks in along the first part
}

// Event is a rep as commanded. Times are seconds; NaN where the drill has no
// such moment. Angles are degrees, depth is cm, at the level moment: where the
// shaft is first parallel to the ground in the backswing, or the catch when it
// stops within 12° below level.
type Event struct {
	Rep          int // from 1
	Drill        Drill
	Arms         Arms
	Manner       Manner
	StillFrom    float64
	ForwardStart float64
	BackStart    float64 // the turn-round, or the takeaway
	Level        float64
	Catch        float64
	HoldTo       float64
	Top          float64
	Impact       float64
	RepEnd       float64 // the player is back at address

	LevelShaftLineDeg float64 // NaN without a level moment
	LevelDepthCM      float64
	CatchShaftLineDeg float64 // NaN without a catch
	CatchElevationDeg float64
	FaceDeg           float64
}

// timeline is one pass through the reps.
type timeline struct {
	segments []segment
	events   []Event
	end      float64
	seed     uint64
}

type builder struct {
	timeline
	keys keyPoses
	arms Arms
	home *path // of the moving start
	s    *Setup
	now  float64
}

func (b *builder) add(duration float64, p *path, l *law, from, to float64) *segment {
	b.segments = append(b.segments, segment{from: b.now, to: b.now + duration, path: p, law: l, a: from, b: to})
	b.now += duration
	return &b.segments[len(b.segments)-1]
}

// stay holds the pose where the last movement ended.
func (b *builder) stay(duration float64) {
	last := b.segments[len(b.segments)-1]
	b.add(duration, last.path, last.law, last.b, last.b).rest = true
}

func (b *builder) path(keys ...pose) *path { return newPath(b.keys.length, keys...) }

// newTimeline lays out the reps of a setup; cycle varies them.
func newTimeline(s *Setup, cycle uint64) *timeline {
	b := &builder{s: s, timeline: timeline{seed: s.Seed + cycle*1000003}}
	b.hold(s.Arms)
	for i, r := range s.Reps {
		r = r.filled(s, b.keys.address.hands)
		rnd := newRandom(s.Seed, cycle, uint64(i))
		if cycle > 0 {
			r.ShaftLineDeg += 5 * rnd.normal()
			r.FaceDeg += 10 * rnd.normal()
			r.HandsY += 0.02 * rnd.normal()
			r.HandsX += 0.02 * rnd.normal()
		}
		b.rep(i+1, r, [3]float64{rnd.float(), rnd.float(), rnd.float()})
	}
	b.add(max(s.Tail, 0.05), b.home, evenLaw(), 0, 0).rest = true
	b.end = b.now
	return &b.timeline
}

// hold changes which hands hold the club.
func (b *builder) hold(a Arms) {
	if a == b.arms {
		return
	}
	before := b.keys.address
	b.keys = newKeyPoses(b.s, a)
	if b.arms != "" {
		b.add(0.7, b.path(before, b.keys.address), evenLaw(), 0, 1)
	}
	b.arms, b.home = a, b.path(b.keys.address, b.keys.over(), b.keys.forward)
}

func (b *builder) rep(number int, r RepSpec, vary [3]float64) {
	nan := math.NaN()
	b.hold(r.Arms)
	home := b.home
	e := Event{Rep: number, Drill: r.Drill, Arms: r.Arms, Manner: r.Manner, StillFrom: b.now, ForwardStart: nan, Level: nan, Catch: nan,
		HoldTo: nan, Top: nan, Impact: nan, LevelShaftLineDeg: nan, LevelDepthCM: nan,
		CatchShaftLineDeg: nan, CatchElevationDeg: nan, FaceDeg: r.FaceDeg}
	k, even := &b.keys, evenLaw()
	for _, what := range r.Before {
		b.interlude(what)
	}
	e.StillFrom = b.now
	b.add(r.Still, home, even, 0, 0).rest = true
	if r.Drill == Ordinary {
		b.swing(&e, r)
		b.events = append(b.events, e)
		return
	}
	catch := k.catch(r)
	from := k.address
	if r.Forward > 0 {
		e.ForwardStart = b.now
		b.add(r.Forward, home, even, 0, 1)
		from = k.forward
	}
	e.BackStart = b.now
	keys := []pose{from, catch}
	if r.Forward > 0 {
		keys = []pose{from, k.over(), catch}
	}
	back := b.add(r.Back, b.path(keys...), backLaw(r.Manner, r.Course, r.Back, vary), 0, 1)
	e.Catch = b.now
	e.CatchShaftLineDeg, e.CatchElevationDeg = r.ShaftLineDeg, r.ElevationDeg
	b.level(&e, *back)
	b.stay(r.Hold)
	e.HoldTo = b.now
	switch r.Drill {
	case CatchTurnStrike:
		b.add(0.6, b.path(catch, k.top), even, 0, 1)
		e.Top = b.now
		b.strike(&e, r, 0.6)
	case FreeReturn:
		b.add(0.8, b.path(catch, k.over(), k.forward), even, 0, 1)
		b.stay(0.4)
		b.add(0.8, b.path(k.forward, k.over(), k.address), even, 0, 1)
	default:
		b.add(0.9, b.path(catch, k.address), even, 0, 1)
	}
	e.RepEnd = b.now
	b.events = append(b.events, e)
}

// swing is an ordinary swing: takeaway, level, top, impact, finish.
func (b *builder) swing(e *Event, r RepSpec) {
	k := &b.keys
	e.BackStart = b.now
	p := b.path(k.address, k.catch(r), k.top)
	back := b.add(r.Back, p, lawOf(func(t float64) float64 { return bell(t, 0.47) }), 0, 1)
	b.level(e, *back)
	e.Top = b.now
	b.strike(e, r, r.Hold)
	e.RepEnd = b.now
}

// strike goes from the top through the ball to the finish and back to address.
func (b *builder) strike(e *Event, r RepSpec, hold float64) {
	k := &b.keys
	p := b.path(k.top, k.delivery(), k.impact, k.through, k.finish)
	hit := p.share(2)
	b.add(r.Down, p, downLaw(), 0, hit)
	e.Impact = b.now
	// The speed is the same on both sides of impact.
	const downEnd, coastStart = 2.01, 2.61
	b.add(coastStart/downEnd*r.Down*(1-hit)/hit, p, coastLaw(), hit, 1)
	b.stay(hold)
	e.HoldTo = b.now
	b.add(1.1, b.path(k.finish, k.hanging, k.address), evenLaw(), 0, 1)
}

// level finds the level moment within the backward segment.
func (b *builder) level(e *Event, s segment) {
	at := func(t float64) pose { return s.pose(t) }
	const steps = 400
	for i := 1; i <= steps; i++ {
		lo, hi := s.from+(s.to-s.from)*float64(i-1)/steps, s.from+(s.to-s.from)*float64(i)/steps
		if at(lo).shaft.z >= 0 || at(hi).shaft.z < -1e-9 {
			continue
		}
		for range 40 {
			if mid := (lo + hi) / 2; at(mid).shaft.z < 0 {
				lo = mid
			} else {
				hi = mid
			}
		}
		e.Level = hi
		break
	}
	if math.IsNaN(e.Level) {
		if el := elevation(at(s.to).shaft); el < -12 || el > 0 {
			return
		}
		e.Level = s.to
	}
	p := at(e.Level)
	e.LevelShaftLineDeg = shaftLine(p.shaft)
	e.LevelDepthCM = 100 * (p.hands.y - b.keys.address.hands.y)
}

// interlude adds a motion between two reps that is not a rep.
func (b *builder) interlude(what Interlude) {
	k, even := &b.keys, evenLaw()
	switch what {
	case Waggle:
		b.add(1.5, b.path(k.address, k.forward), even, 0, 0).waggle = true
	case TeeUp:
		b.add(0.9, b.path(k.address, k.teeing), even, 0, 1)
		b.stay(0.5)
		b.add(0.9, b.path(k.teeing, k.address), even, 0, 1)
	case WalkIn:
		b.add(2.2, b.path(k.hanging, k.address), even, 0, 0).walk = true
		b.add(0.9, b.path(k.hanging, k.address), even, 0, 1)
	case Away:
		b.add(6, b.home, even, 0, 0).gone = true
	case Hang:
		b.add(1.2, b.path(k.hanging, k.hung), even, 0, 1)
		b.add(8, b.path(k.hung, k.address), even, 0, 0).hang = true
		b.add(1, b.path(k.hung, k.address), even, 0, 1)
	case Stand:
		b.add(0.9, b.path(k.address, k.hanging), even, 0, 1)
		b.stay(3)
		b.add(0.9, b.path(k.hanging, k.address), even, 0, 1)
	}
	b.add(0.3, b.path(k.address, k.forward), even, 0, 0).rest = true
}

// pose returns the segment's pose of player and club at t.
func (s *segment) pose(t float64) pose {
	tau := (t - s.from) / (s.to - s.from)
	p := s.path.along(s.a + (s.b-s.a)*s.law.at(tau))
	switch {
	case s.waggle:
		swing := math.Sin(2*math.Pi*3*tau) * math.Sin(math.Pi*tau)
		p.shaft = p.shaft.add(vec{0.16 * swing, 0.02 * swing, 0.03 * swing * swing}).unit()
		p.hands = p.hands.add(vec{0.015 * swing, 0, 0.01 * swing * swing})
	case s.gone:
		p.gone = true
	case s.hang:
		t := tau * (s.to - s.from)
		swing := 0.06 * math.Exp(-t/0.9) * math.Cos(2*math.Pi*t/1.9)
		p.shaft = p.shaft.add(vec{0.5 * swing, swing, 0}).unit()
	case s.walk:
		away := 1 - smooth(tau)
		p.shift = vec{-0.2, 3.2, 0}.mul(away)
		p.stride, p.walk = 2*math.Pi*2*tau, math.Sin(math.Pi*min(1, tau))
		p.hands = p.hands.add(vec{0.05 * p.walk * math.Sin(p.stride), 0, 0})
	}
	p.hands = p.hands.add(p.shift)
	return p
}

// pose returns the pose of player and club at t, before sway and tremor are added. still
// says how much of a rest it is, 0..1.
func (tl *timeline) pose(t float64) (p pose, still float64) {
	i := sort.Search(len(tl.segments)-1, func(i int) bool { return t < tl.segments[i].to })
	s := &tl.segments[i]
	p = s.pose(t)
	if s.rest {
		still = smooth(min(t-s.from, s.to-t) / 0.25)
	}
	return p, still
}
