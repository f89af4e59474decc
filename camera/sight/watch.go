package sight

import (
	"math"

	"drillbay/camera/frame"
)

// Watcher is the live pass: from how much moves about the hands, and from
// whether the picture there is that of address again, it tells address,
// motion, hold and finish apart. It allocates nothing per frame. It is
// generous: what it takes for a catch is checked by the full pass.
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
	blip    float64 // s, when the first frame that disagrees came
	peak    float64 // cm², greatest since motion began
	highest float64 // cm² above the shoulders since motion began
	runs    [maxRuns]Run
	nruns   int
	still   stillPicture // of the present run
	address stillPicture
	atBall  bool // the address picture is known
	caught  bool // the present run was told
	told    Span // the rep that is going on
	open    bool // told and not ended yet
	phase   Phase
}

// Run is a time in which the hands were still, s. AtBall says that the
// picture then was that of the address before.
type Run struct {
	From, To float64
	AtBall   bool
}

const (
	watchRing = 512
	maxRuns   = 6
	quiet     = 75.0 // cm² at the hands that noise and breathing move
	addressed = 0.35 // s still make an address
	settleFor = 0.06 // s that a change between still and moving must last
	sameAs    = 320  // cm² within which a picture is that of address again
	// A first short motion from address may be the forward swing: its end is
	// a catch only when the stillness lasts this long, s.
	turnRound, forwardSwing = 0.75, 0.8
)

// stillPicture is a slow mean of the meter's picture.
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

func (s *stillPicture) add(pix []float32) {
	s.n = min(s.n+1, 12)
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
	w.address.reset(size)
	w.w, w.h, w.ready, w.n, w.nruns, w.atBall, w.open, w.moving = width, height, true, 0, 0, false, false, false
	w.since, w.blip, w.phase = math.NaN(), math.NaN(), Away
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
	} else {
		w.rest(now, &g)
	}
	w.enter(now, &g)
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
	low := float64(quantile(values[:n], 0.25))
	return max(quiet, min(1.6*low, 0.35*peak))
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
		long := at - w.since
		same := w.differs() < sameAs
		if w.open {
			w.told.End, w.told.To = at, g.At
			g.Ended, g.Span, w.open = true, w.told, false
		} else if !w.caught && w.still.n > 3 && long >= addressed && (!w.atBall || long >= 0.6 || same) {
			if !same {
				for i := range w.nruns {
					w.runs[i].AtBall = false // another address than before
				}
			}
			w.address.pix, w.still.pix = w.still.pix, w.address.pix
			w.address.n, w.atBall, same = w.still.n, true, true
		}
		if long >= 0.12 {
			w.pushRun(Run{w.since, at, same})
		}
		w.peak, w.highest = 0, 0
	} else {
		w.still.n = 0
		w.caught = false
	}
	w.since = at
}

func (w *Watcher) pushRun(r Run) {
	if w.nruns == maxRuns {
		copy(w.runs[:], w.runs[1:])
		w.nruns--
	}
	w.runs[w.nruns] = r
	w.nruns++
}

// rest goes on with a stillness: after StillFor it may be a catch.
func (w *Watcher) rest(now float64, g *Glance) {
	if now-w.since >= motionLag {
		slot := (w.low.n - 1) % motionRing
		w.still.add(w.low.hist[slot])
	}
	wait := StillFor
	if w.nruns > 0 {
		last := w.runs[w.nruns-1]
		if last.AtBall && last.To-last.From >= addressed && w.since-last.To < forwardSwing {
			wait = turnRound
		}
	}
	if w.caught || now-w.since < wait || w.nruns == 0 || w.peak == 0 {
		return
	}
	if w.differs() < sameAs {
		w.peak = 0 // back at address, or never left it
		return
	}
	w.caught = true
	s := noSpan()
	run, ok := w.lastAddress()
	if !ok {
		return
	}
	s.Address, s.Start, s.Catch = run.From, run.To, w.since
	s.From, s.To = max(run.From, run.To-0.8), now
	s.Whole = w.highest > 400
	for i := 0; i < w.nruns; i++ {
		s.Runs[i] = w.runs[i]
	}
	w.told, w.open = s, true
	g.Caught, g.Span = true, s
}

// differs is the area about the hands that is not as it was at address, cm².
func (w *Watcher) differs() float64 {
	if !w.atBall {
		return math.Inf(1)
	}
	limit := float32(max(4, 0.8*w.low.noiseLevel))
	n := 0
	for i, v := range w.still.pix {
		if abs32(v-w.address.pix[i]) > limit {
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
		if r.To-r.From < addressed {
			continue
		}
		if r.AtBall {
			return r, true
		}
		if any.To == 0 {
			any = r
		}
	}
	return any, any.To > 0
}

// enter names the phase.
func (w *Watcher) enter(now float64, g *Glance) {
	next := w.phase
	switch {
	case !w.moving && w.caught:
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
