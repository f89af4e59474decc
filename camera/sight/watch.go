package sight

import (
	"math"
	"slices"
	"sync/atomic"

	"drillbay/camera/frame"
)

// Watcher is the live pass: from how much moves about the hands, and from
// whether the picture there is that of address again, it tells address,
// motion, hold and finish apart. It allocates nothing per frame. It is
// generous: what it takes for a catch is checked by the full pass, and what
// that finds teaches it what address looks like; see Learn.
type Watcher struct {
	set   Setting
	low   motionMeter // about the hands
	high  motionMeter // above the shoulders: only whole swings get there
	ready bool
	w, h  int

	areas [watchRing]float64 // of the last frames
	times [watchRing]float64
	n     int

	moving  bool
	since   float64 // s, of the present stillness or motion
	stopped float64 // s, when the present stillness began at first, creeping or not
	blip    float64 // s, when the first frame that disagrees came
	peak    float64 // cm², greatest since motion began
	highest float64 // cm² above the shoulders since motion began
	runs    [maxRuns]Run
	pics    [maxRuns]stillPicture // of the runs
	bursts  [maxRuns]stillPicture // of the motions after the runs
	nruns   int
	still   stillPicture // of the present run
	memory  recall
	lesson  atomic.Pointer[lesson]
	placed  atomic.Pointer[standing] // of the hands
	stand   Run                      // the last time that the picture was that of address
	stood   Run                      // the last such time that was long enough
	caught  bool                     // the present run was told
	told    Span                     // the rep that is going on
	open    bool                     // told and not ended yet
	phase   Phase
}

// lesson is what a reading found: when the player was at address and when
// the rep came to rest, s; NaN when there was no rep.
type lesson struct{ address, rest float64 }

// Learn tells the live pass what came of a span it gave: a time at which the
// player was at address and that at which the rep came to rest, s, or NaN
// when there was no rep. It may be called from any goroutine.
func (w *Watcher) Learn(address, rest float64) { w.lesson.Store(&lesson{address, rest}) }

// Run is a time in which the hands were still, s. AtBall says that the
// picture then was that of the address before.
type Run struct {
	From, To float64
	AtBall   bool
}

const (
	watchRing = 512
	maxRuns   = 8
	// cm² at the hands that noise and breathing move; to have come to rest, a
	// club that was moving must be quieter than that.
	quiet, rested = 75.0, 30.0
	unlearnt      = 1.2   // s of a stillness after a motion that may be an address, as long as none is known
	creeping      = 100.0 // cm² that a slow placement changes in StillFor
	creepsFor     = 0.8   // s that the end of one takes; what goes on longer is somebody behind
	addressed     = 0.35  // s still make an address
	settleFor     = 0.06  // s that a change between still and moving must last
	sameAs        = 320   // cm² within which a picture is still the one before
	lateFor       = 4.5   // s after address in which a rep ends
	// A first short motion from address may be the forward swing: its end is
	// a catch only when the stillness lasts this long, s.
	turnRound, forwardSwing = 0.75, 0.8
)

// stillPicture is a mean of the meter's pictures.
type stillPicture struct {
	pix []float32
	n   int
}

func (s *stillPicture) reset(size int) {
	if cap(s.pix) < size {
		s.pix = make([]float32, size)
	}
	s.pix = s.pix[:size]
	s.n = 0
}

// add lets a picture into the mean of the last most.
func (s *stillPicture) add(pix []float32, most int) {
	s.n = min(s.n+1, most)
	k := 1 / float32(s.n)
	for i, v := range pix {
		s.pix[i] += k * (v - s.pix[i])
	}
}

// NewWatcher returns a live pass for a setting.
func NewWatcher(s Setting) *Watcher {
	return &Watcher{set: s, since: math.NaN(), blip: math.NaN(), phase: Away}
}

// aim prepares the meters for pictures of w × h px.
func (w *Watcher) aim(width, height int) {
	s := w.set
	m := s.perMetre(s.Distance)
	tp := s.View.TargetPoint()
	k := max(2, width/300)
	left := s.View.Left
	zone := around(tp.U-0.40*m, tp.V-0.40*m, tp.U+0.40*m, tp.V+0.45*m, width/k*k, height/k*k)
	w.low.aim(zone, k, left, m)
	w.high.aim(around(tp.U-0.75*m, tp.V-1.05*m, tp.U+0.35*m, tp.V-0.62*m, width/k*k, height/k*k), k, left, m)
	size := w.low.zone.W * w.low.zone.H
	w.still.reset(size)
	for i := range w.pics {
		w.pics[i].reset(size)
		w.bursts[i].reset(size)
	}
	w.w, w.h, w.ready, w.n, w.nruns, w.open, w.moving = width, height, true, 0, 0, false, false
	w.since, w.blip, w.phase = math.NaN(), math.NaN(), Away
	w.memory.ok, w.stand, w.stood = false, Run{}, Run{}
}

// Step takes the next picture. Pictures come in order of time.
func (w *Watcher) Step(p *frame.Picture) Glance {
	if !w.ready || p.Width != w.w || p.Height != w.h {
		w.aim(p.Width, p.Height)
	}
	now := p.Seconds()
	g := Glance{At: now, HandsX: math.NaN(), HandsY: math.NaN(), Span: noSpan()}
	area, ok := w.low.take(p)
	over, _ := w.high.take(p)
	if !ok {
		g.Phase, g.Since = w.phase, now
		return g
	}
	w.areas[w.n%watchRing], w.times[w.n%watchRing] = area, now
	w.n++
	if l := w.lesson.Swap(nil); l != nil {
		w.take(*l, now)
	}
	w.look(now)
	g.Motion = min(1, area/(float64(len(w.low.raw.Pix))*w.low.cm2))
	if math.IsNaN(w.since) {
		w.since = now
	}
	limit := w.limit(now)
	if moves := area > limit; moves != w.moving {
		if math.IsNaN(w.blip) {
			w.blip = now
		}
		if now-w.blip >= settleFor || moves && area > 3*limit {
			w.turn(moves, w.blip, &g)
		}
	} else {
		w.blip = math.NaN()
	}
	if w.moving {
		w.peak, w.highest = max(w.peak, area), max(w.highest, over)
		if w.nruns > 0 {
			w.bursts[w.nruns-1].add(w.low.hist[(w.low.n-1)%motionRing], 1000)
		}
	} else {
		w.rest(now, &g)
	}
	w.enter(now, &g)
	if g.Phase == Address {
		g.HandsX, g.HandsY = w.handsNow(now)
	}
	return g
}

func noSpan() Span {
	n := math.NaN()
	return Span{From: n, To: n, Start: n, BackStart: n, Catch: n, End: n, Address: n}
}

// limit is the area above which the hands move: noise, or what a passer-by
// keeps moving all the time.
func (w *Watcher) limit(now float64) float64 {
	var values [160]float32
	n, peak := 0, 0.0
	for i := 1; i <= min(w.n, watchRing) && n < len(values); i++ {
		j := (w.n - i) % watchRing
		age := now - w.times[j]
		if age > 2 {
			break
		}
		peak = max(peak, w.areas[j])
		if age < 0.7 {
			values[n] = float32(w.areas[j])
			n++
		}
	}
	low := 1.6 * float64(quantile(values[:n], 0.25))
	if w.moving {
		return max(rested, min(low, 0.25*peak))
	}
	return max(quiet, min(low, 0.35*peak))
}

// creeps reports whether what seems to rest is still on its way, slowly: more
// has changed in a while than moves at a time.
func (w *Watcher) creeps() bool {
	var now float64
	for i := 1; i <= 3; i++ {
		now += w.areas[(w.n+watchRing-i)%watchRing] / 3
	}
	return w.low.drift(StillFor) > max(creeping, 2*now)
}

// turn changes between still and moving; at is when it did.
func (w *Watcher) turn(moving bool, at float64, g *Glance) {
	w.blip = math.NaN()
	// The meter compares with a picture a lag ago: what stopped, stopped then.
	if !moving {
		at -= motionLag
	} else {
		at -= motionLag / 4
	}
	w.moving = moving
	if moving {
		if w.open {
			w.told.End, w.told.To = at, g.At
			g.Ended, g.Span, w.open = true, w.told, false
		}
		if at-w.since >= 0.12 {
			ball := w.still.n > 0 && w.memory.like(w.still.pix) > isAddress
			if ball && at-w.since >= addressed {
				w.memory.follow(w.still.pix)
			}
			w.pushRun(Run{w.since, at, ball})
		}
		w.peak, w.highest = 0, 0
	} else {
		w.still.n = 0
		w.caught = false
		w.stopped = at
	}
	w.since = at
}

func (w *Watcher) pushRun(r Run) {
	if w.nruns == maxRuns {
		pic, burst := w.pics[0], w.bursts[0]
		copy(w.runs[:], w.runs[1:])
		copy(w.pics[:], w.pics[1:])
		copy(w.bursts[:], w.bursts[1:])
		w.nruns--
		w.pics[w.nruns], w.bursts[w.nruns] = pic, burst
	}
	w.runs[w.nruns] = r
	w.pics[w.nruns], w.still = w.still, w.pics[w.nruns]
	w.still.n, w.bursts[w.nruns].n = 0, 0
	w.nruns++
}

// take learns from what a reading found.
func (w *Watcher) take(l lesson, now float64) {
	if math.IsNaN(l.address) {
		w.memory.doubt()
		if !w.moving && w.caught {
			w.caught, w.peak = false, 0 // no hold: perhaps an address
		}
		return
	}
	var address, gone []float32
	n := 0
	for i := range w.nruns {
		r, b := w.runs[i], w.bursts[i]
		switch {
		case r.From-0.1 <= l.address && l.address <= r.To+0.1 && w.pics[i].n > 0:
			address, gone, n = w.pics[i].pix, slices.Clone(b.pix), b.n
		case address != nil && r.From < l.rest-0.05 && b.n > 0:
			n += b.n
			for j, v := range b.pix {
				gone[j] += (v - gone[j]) * float32(b.n) / float32(n)
			}
		}
	}
	if n < 5 {
		return
	}
	w.memory.learn(address, gone, w.low.noiseLevel, w.low.cm2, now)
	for i := range w.nruns {
		w.runs[i].AtBall = w.pics[i].n > 0 && w.memory.like(w.pics[i].pix) > isAddress
	}
}

// look compares the present picture with that of address, whatever else
// moves.
func (w *Watcher) look(now float64) {
	if !(w.memory.like(w.low.hist[(w.low.n-1)%motionRing]) > isAddress) {
		return
	}
	if now-w.stand.To > 0.15 {
		w.stand = Run{From: now, AtBall: true}
	}
	w.stand.To = now
	if w.stand.To-w.stand.From >= addressed {
		w.stood = w.stand
	}
}

// rest goes on with a stillness: after StillFor it may be a catch.
func (w *Watcher) rest(now float64, g *Glance) {
	if now-w.since >= motionLag {
		slot := (w.low.n - 1) % motionRing
		w.still.add(w.low.hist[slot], 12)
	}
	if w.caught || now-w.since < w.wait() || w.peak == 0 {
		return
	}
	if now-w.stopped < creepsFor && w.creeps() {
		w.since = now - motionLag // it is still on its way, slowly
		return
	}
	if w.memory.fresh(now) {
		if w.memory.like(w.still.pix) > isAddress || !w.wasAtBall() {
			w.peak = 0 // back at address, or no rep began there
			return
		}
	} else if w.differs() < sameAs {
		w.peak = 0 // what moved is where it was before
		return
	}
	if _, w.caught = w.lastAddress(); !w.caught {
		w.peak = 0 // it may be the first address itself
	}
	w.told, w.open = w.span(now), true
	g.Caught, g.Span = true, w.told
}

// wait is how long a stillness must last to be a catch, s.
func (w *Watcher) wait() float64 {
	if r, ok := w.lastAddress(); ok && w.since-r.To < forwardSwing {
		return turnRound
	}
	return StillFor
}

// wasAtBall reports whether the player was at address not long before the
// present stillness.
func (w *Watcher) wasAtBall() bool {
	if r, ok := w.lastAddress(); ok && r.AtBall {
		return true
	}
	for i, r := range w.runs[:w.nruns] {
		if r.To-r.From >= addressed && w.since-r.To < lateFor && w.memory.like(w.pics[i].pix) > maybeAddress {
			return true
		}
	}
	return false
}

// span is the rep that the present stillness ends. Without a known address
// it begins as early as a rep can.
func (w *Watcher) span(now float64) Span {
	s := noSpan()
	s.Catch, s.Whole = w.since, w.highest > 400
	s.From, s.To = w.since-lateFor, now
	s.Address, s.Start = s.From, s.From
	n := copy(s.Runs[:], w.runs[:w.nruns])
	run, ok := w.lastAddress()
	if !ok {
		return s
	}
	s.Address, s.Start = run.From, run.To
	s.From = max(run.From, run.To-0.8)
	if !run.AtBall {
		for _, r := range w.runs[:w.nruns] {
			if w.since-r.To < lateFor && r.To-r.From >= addressed {
				s.From = min(s.From, max(r.From, r.To-0.8))
			}
		}
		s.From = min(s.From, w.since-2.5) // room to search in
	}
	if run == s.Runs[max(0, n-1)] || n > 1 && run.To <= s.Runs[n-2].To {
		return s
	}
	if n == maxRuns {
		n = copy(s.Runs[:], s.Runs[1:])
	}
	s.Runs[n] = run
	return s
}

// differs is the area about the hands that is not as it was in the stillness
// before, cm².
func (w *Watcher) differs() float64 {
	limit := float32(max(4, 0.8*w.low.noiseLevel))
	if w.nruns == 0 {
		return math.Inf(1)
	}
	before := w.pics[w.nruns-1]
	if before.n == 0 {
		return math.Inf(1)
	}
	n := 0
	for i, v := range w.still.pix {
		if abs32(v-before.pix[i]) > limit {
			n++
		}
	}
	return float64(n) * w.low.cm2
}

// lastAddress is the newest stillness that was long enough for an address.
func (w *Watcher) lastAddress() (Run, bool) {
	var any Run
	for i := w.nruns - 1; i >= 0; i-- {
		r := w.runs[i]
		if r.To-r.From < addressed || w.since-r.To > lateFor {
			continue
		}
		if r.AtBall {
			any = r
			break
		}
		if any.To == 0 {
			any = r
		}
	}
	// Whatever else moved then, the picture may have been that of address.
	if s := w.stood; s.To > 0 && s.To < w.since && w.since-s.To < lateFor && (!any.AtBall || s.To > any.To+addressed) {
		s.To -= 0.1
		return s, true
	}
	return any, any.To > 0
}

// enter names the phase.
func (w *Watcher) enter(now float64, g *Glance) {
	next := w.phase
	switch {
	case !w.moving && w.caught && (w.memory.fresh(now) || now-w.since < unlearnt):
		next = Hold
	case !w.moving && now-w.since >= addressed:
		next = Address
	case !w.moving:
		if w.phase != Forward && w.phase != Back {
			next = Settling
		}
	case w.phase == Address || w.phase == Forward:
		next = Forward
		if now-w.since > 0.45 {
			next = Back
		}
	case w.phase == Hold:
		next = Settling
	case w.phase == Back:
		if now-w.since > 6 {
			next = Settling
		}
	default:
		next = Settling
	}
	if w.phase == Hold && next == Settling && w.told.Whole {
		next = Finish
	}
	w.phase = next
	g.Phase, g.Since = next, w.since
}
