package sight

import "math"

// Lookout is the live pass: from what the eye saw of late it tells address,
// motion, hold and finish apart, and finds reps. It is generous: what it takes
// for a rep is checked by the track.
type Lookout struct {
	set  Setting
	all  []sighted // of the last memory seconds, in order of time
	last float64   // s, when the player was seen last

	home   home    // the address that the present motion began from
	away   float64 // m, how far the head has been from where it was at address
	passed bool    // and it has come by there again
	before float64 // s, when the club may have left address first
	doubt  bool    // it may have been before the present address
	ups    int     // looks in a row at a club that is high
	missed int     // looks in a row without hands
	high   float64 // s, when the club was above the hands since then; NaN
	hold   float64 // s, when the rest that was told as a catch began; NaN
	held   sighted // hands and head in it
	left   float64 // s, when they were seen there last
	open   bool    // a rep was told and is going on
	told   Span
	phase  Phase
	since  float64 // s, of the phase

	buffers buffers
}

// home is how hands, club and body lay at address.
type home struct {
	sighted
	from, to float64 // s
}

// NewLookout returns a live pass for a setting.
func NewLookout(s Setting) *Lookout {
	nan := math.NaN()
	return &Lookout{set: s, last: math.Inf(-1), high: nan, hold: nan, since: nan}
}

// See takes the newest look. Looks come in order of time.
func (w *Lookout) See(l Look) Glance {
	g := Glance{At: l.At, HandsX: math.NaN(), HandsY: math.NaN(), Span: noSpan()}
	q := w.set.sighted(l)
	if !q.of[handsAt].ok {
		w.gone(l.At)
		if l.At-w.last > lost && w.phase != Away {
			if !math.IsNaN(w.high) && math.IsNaN(w.hold) {
				w.catch(w.last, true, &g) // the finish is out of sight
			}
			w.end(w.last, &g)
			w.home, w.all = home{}, w.all[:0]
			w.enter(Away, l.At)
		}
		return w.say(g)
	}
	if n := len(w.all); n > 0 && l.At <= w.all[n-1].at {
		return w.say(g)
	}
	w.last, w.missed = l.At, 0
	w.all = append(w.all, q)
	w.forget(l.At - memory)
	r, resting := w.rest()
	switch {
	case resting && w.down(r) && r.to-r.from >= w.settled(r):
		w.end(r.from, &g)
		// After a waggle, or on a slow way back over the ball, the track decides
		// which address it was, until this one has lasted.
		w.doubt = (w.doubt || w.away > awayFrom) && math.IsNaN(w.hold) && w.home.to > 0 && r.to-r.from < pauseFor
		if !w.doubt {
			w.before = r.to
		}
		w.home, w.high, w.hold, w.away, w.passed = r, math.NaN(), math.NaN(), 0, false
		w.enter(Address, r.from)
	case w.home.to == 0 || l.At-w.home.to > repWithin+lost:
		w.end(l.At, &g)
		w.enter(Settling, l.At)
	default:
		w.move(&q, r, resting, &g)
	}
	return w.say(g)
}

// gone takes a look in which the hands are not seen: those of a whole swing may
// leave the picture at its top.
func (w *Lookout) gone(at float64) {
	n := len(w.all)
	if n == 0 || w.phase == Hold || w.phase == Settling || !math.IsNaN(w.high) || !math.IsNaN(w.hold) || w.home.to == 0 {
		return
	}
	up := w.home.of[handsAt].at.V - w.all[n-1].of[handsAt].at.V
	if w.missed++; w.missed > 1 && up > handsRising*w.set.perMetre(w.set.Distance) {
		w.high = at
		w.enter(Finish, at)
	}
}

// move goes on with a motion that began at address.
func (w *Lookout) move(q *sighted, r home, resting bool, g *Glance) {
	now, m := q.at, w.set.perMetre(w.set.Distance)
	hands, head := q.of[handsAt], q.of[headAt]
	if home := w.home.of[headAt]; head.ok && home.ok {
		far := apart(head.at, home.at) / m
		w.passed = w.passed || w.away > awayFrom && far < passing
		w.away = max(w.away, far)
	}
	up := head.ok && hands.at.V-head.at.V > isHigh*w.set.Reach*m || w.home.of[handsAt].at.V-hands.at.V > handsHigh*m
	if w.ups++; !up {
		w.ups = 0
	}
	if w.ups > 1 && math.IsNaN(w.high) { // one wrong look is none
		w.high = now
	}
	if !math.IsNaN(w.high) {
		// A whole swing: over some time after it was high.
		if over := now - w.high; math.IsNaN(w.hold) && (over > strikes+settles || over > strikes && resting) {
			w.hold = now
			w.catch(now, true, g)
			w.end(now, g)
		}
		w.enter(Finish, now)
		return
	}
	if w.phase == Hold && w.holds(q) {
		w.told.To = now
		return
	}
	if resting && !w.down(r) && r.from > w.home.to && r.to-r.from >= w.wait(r) && r.from-w.home.to < repWithin && w.bent(r) {
		if math.IsNaN(w.hold) || r.from > w.hold+0.15 {
			w.hold, w.held, w.left = r.from, r.sighted, now
			w.end(r.from, g)
			w.catch(r.from, false, g)
		}
		w.told.To = now
		w.enter(Hold, r.from)
		return
	}
	if w.phase == Hold {
		if resting {
			return
		}
		w.end(now, g)
		w.enter(Settling, now)
		return
	}
	if w.phase == Settling && !math.IsNaN(w.hold) {
		return // on the way back to address
	}
	next := Back
	if w.phase == Address || w.phase == Forward {
		if w.ahead(q) {
			next = Forward
		}
	}
	w.enter(next, now)
}

// settled is how long a rest with the club down must last to be an address, s:
// on the way back from one a club may pause.
func (w *Lookout) settled(r home) float64 {
	if w.home.to == 0 || !math.IsNaN(w.hold) || r.from-w.home.to > repWithin {
		return addressFor
	}
	a, b := w.home.of[headAt], r.of[headAt]
	if apart(a.at, b.at) < pauses*w.set.perMetre(w.set.Distance) {
		return addressFor
	}
	return pauseFor
}

// holds reports whether the club is still held: its head, which points to the
// lens, may be lost or seen elsewhere for a moment.
func (w *Lookout) holds(q *sighted) bool {
	hands, head := w.set.stays(q, &w.held)
	if hands && head {
		w.left = q.at
		return true
	}
	if hands {
		return q.at-w.left < headLost
	}
	return q.at-w.left < handsLost
}

// wait is how long a rest must last to be a hold, s.
func (w *Lookout) wait(r home) float64 {
	hands, head := r.of[handsAt], r.of[headAt]
	long := head.ok && apart(head.at, hands.at) > looksLong*w.set.Reach*w.set.perMetre(w.set.Distance)
	switch {
	case !w.passed && long:
		return turnRest // it may be where a forward swing turns
	case r.from-w.home.to < soonTurn:
		return 2 * StillFor
	}
	return StillFor
}

// ahead reports whether the club has not turned round yet: its head is toward
// the target point from where it was at address, and goes on.
func (w *Lookout) ahead(q *sighted) bool {
	a, b := w.home.of[headAt], q.of[headAt]
	if !a.ok || !b.ok {
		return w.phase == Forward
	}
	t := w.set.View.TargetPoint()
	du, dv := t.U-a.at.U, t.V-a.at.V
	way := ((b.at.U-a.at.U)*du + (b.at.V-a.at.V)*dv) / math.Hypot(du, dv)
	m := w.set.perMetre(w.set.Distance)
	rise := w.home.of[handsAt].at.V - q.of[handsAt].at.V
	return way > 0.03*m && rise < forwardRise*m
}

// catch tells a rep that came to rest.
func (w *Lookout) catch(at float64, whole bool, g *Glance) {
	w.told = noSpan()
	w.told.Address, w.told.Start = w.home.from, w.home.to
	w.told.From, w.told.To = max(min(w.before, w.home.to)-0.8, g.At-memory), g.At
	w.told.Catch, w.told.Whole = at, whole
	w.open = true
	g.Caught, g.Span = true, w.told // of a whole swing, g.Ended follows at once
}

// end tells that a rep went on or ended.
func (w *Lookout) end(at float64, g *Glance) {
	if !w.open {
		return
	}
	w.open = false
	w.told.End, w.told.To = at, g.At
	g.Ended, g.Span = true, w.told
}

func (w *Lookout) enter(p Phase, at float64) {
	if p != w.phase || math.IsNaN(w.since) {
		w.phase, w.since = p, at
	}
}

func (w *Lookout) say(g Glance) Glance {
	g.Phase, g.Since = w.phase, w.since
	if len(w.all) > 0 && w.phase != Away {
		if w.phase == Address {
			p := w.set.View.Mirror(w.home.of[handsAt].at)
			g.HandsX, g.HandsY = p.U, p.V
		}
		g.Motion = w.speed()
	}
	return g
}

// speed is how fast hands and head move now, as a share of 3 m/s.
func (w *Lookout) speed() float64 {
	n := len(w.all)
	if n < 2 {
		return 0
	}
	a, b := &w.all[n-2], &w.all[n-1]
	most := 0.0
	for _, p := range [...]int{handsAt, headAt} {
		if x, y := a.of[p], b.of[p]; x.ok && y.ok {
			far := max(0, apart(x.at, y.at)-2*max(x.sigma(), y.sigma()))
			most = max(most, far/w.set.perMetre(w.set.Distance)/(b.at-a.at))
		}
	}
	return min(1, most/3)
}

// rest is the rest that goes on now, if the club rests.
func (w *Lookout) rest() (home, bool) {
	from := max(0, len(w.all)-restLooks)
	all := w.all[from:]
	rests := w.set.rests(all, &w.buffers)
	if len(rests) == 0 {
		return home{}, false
	}
	r := rests[len(rests)-1]
	if r.to < len(all) {
		return home{}, false
	}
	h := home{sighted: w.buffers.together(all[r.from:r.to]), from: all[r.from].at, to: all[r.to-1].at}
	if !headSeen(all, r) {
		h.of[headAt].ok = false
	}
	if w.home.to > 0 && math.Abs(h.from-w.home.to) < 0.3 && w.set.same(&h.sighted, &w.home.sighted) {
		h.from = w.home.from // it goes on beyond what is looked at
	}
	return h, true
}

// down reports whether the club is down as at address: as far as at the address
// before, where there was one.
func (w *Lookout) down(h home) bool {
	m := w.set.perMetre(w.set.Distance)
	hands, head := h.of[handsAt], h.of[headAt]
	if !hands.ok || !head.ok {
		return false
	}
	if !w.set.Front && math.Abs(head.at.U-hands.at.U) < leans*w.set.Reach*m {
		return false // it hangs
	}
	least := isDown * w.set.Reach * m
	if w.home.to > 0 {
		least = asLow * (w.home.of[headAt].at.V - w.home.of[handsAt].at.V)
	}
	return head.at.V-hands.at.V > least
}

// bent reports whether the player is bent as at address.
func (w *Lookout) bent(h home) bool {
	a, b := w.home.of[neckAt], h.of[neckAt]
	return !a.ok || !b.ok || apart(a.at, b.at) <= bent*w.set.perMetre(w.set.Distance)+2*max(a.sigma(), b.sigma())
}

// forget drops looks from before a time.
func (w *Lookout) forget(before float64) {
	n := 0
	for n < len(w.all) && w.all[n].at < before {
		n++
	}
	if n > 0 {
		w.all = append(w.all[:0], w.all[n:]...)
	}
}
