package book

import (
	"math"
	"math/rand/v2"
	"slices"

	"drillbay/drills"
)

// fault is a fault that a player has from some week on. What is practised on
// the rung that works on it makes it less.
type fault struct {
	cause drills.Cause
	from  int // week, from 0
}

// learner is a simulated player.
type learner struct {
	name   string
	hand   drills.Hand
	faults []fault
	much   map[drills.Cause]float64 // 1: the whole fault
	dice   *rand.Rand
	today  motion // this day's own differences
	week   int

	carriage carriage
	truth    map[drills.BodyPart][]float64 // of the body in this session
	bodies   []bodyDay
}

func newLearner(name string, hand drills.Hand, seed uint64, faults ...fault) *learner {
	l := &learner{name: name, hand: hand, faults: faults, much: map[drills.Cause]float64{}, carriage: taught(), truth: map[drills.BodyPart][]float64{}, dice: rand.New(rand.NewPCG(seed, 99))}
	for _, f := range faults {
		l.much[f.cause] = 1
	}
	return l
}

// arrive begins a day: nobody is quite the same twice.
func (l *learner) arrive(week int) {
	l.week = week
	n := l.dice.NormFloat64
	l.today = motion{turn: 2 * n(), swing: 2 * n(), around: 1 * n(), forearms: 1.5 * n(), away: 0.5 * n()}
}

// has are the faults that are there now, each with how much.
func (l *learner) has() map[drills.Cause]float64 {
	out := map[drills.Cause]float64{}
	for _, f := range l.faults {
		if l.week >= f.from {
			out[f.cause] = l.much[f.cause]
		}
	}
	return out
}

// practise makes faults less after a set, most on a rung that works on them.
func (l *learner) practise(d drills.Drill) {
	for c := range l.has() {
		if slices.Contains(d.WorksOn, c) {
			l.much[c] *= 0.985
		} else {
			l.much[c] *= 0.995
		}
	}
}

// swing makes one backswing of a drill.
func (l *learner) swing(d drills.Drill) motion {
	m := good()
	for c, much := range l.has() {
		if c == drills.StoppedPlaced && d.Form == drills.FormOrdinary {
			continue // there is nothing to place
		}
		if c == drills.Hurried && d.Form != drills.FormOrdinary {
			continue // the catch ends it
		}
		m = m.with(c, much, l.dice)
	}
	m.turn += l.today.turn
	m.swing += l.today.swing
	m.around += l.today.around
	m.forearms += l.today.forearms
	m.away += l.today.away
	return m.vary(l.dice)
}

const framesASecond = 30.0

// rep is a swing as a camera reads it: with noise, with its frame time, and
// at times not at all.
func (l *learner) rep(d drills.Drill, m motion, number int, at float64) (r drills.Rep, toe float64) {
	n := l.dice.NormFloat64
	frame := func(t float64) float64 { return t + (l.dice.Float64()-0.5)/framesASecond }
	none := math.NaN()
	r = drills.Rep{Number: number, Moments: drills.NoMoments(), ShaftLine: drills.None(), Elevation: drills.None(), Depth: drills.None(),
		Height: drills.None(), TopHeight: drills.None(), Smoothness: none, Tempo: none, TempoLow: none, TempoHigh: none}
	t := m.taken()
	r.Manner = l.manner(d, m)
	start := at + 0.6
	r.Moments.Start, r.Moments.BackStart, r.Moments.Level = at, frame(start), frame(start+t.level*m.back)
	if d.Form == drills.FormOrdinary {
		top, impact := start+m.back, start+m.back+m.down
		r.Moments.Top, r.Moments.Impact, r.Moments.End = frame(top), frame(impact), impact+1.5
		if !d.MovingStart {
			r.Tempo = (r.Moments.Top - r.Moments.BackStart) / (r.Moments.Impact - r.Moments.Top)
			half := 1.96 * 0.207 * r.Tempo / 3
			r.TempoLow, r.TempoHigh = r.Tempo-half, r.Tempo+half
		}
		r.TopHeight = drills.Reading{Value: t.top + 4*n(), Sigma: 4}
	} else {
		r.Moments.Catch, r.Moments.End = frame(start+t.level*m.back+0.03), start+2
	}
	if l.dice.Float64() < 0.04 {
		r.Why = "the hands were hidden"
		r.Verdict = drills.NoReading
		return r, t.toe
	}
	sigma := 1.0 + 0.8*l.dice.Float64()
	r.ShaftLine = drills.Reading{Value: t.line + sigma*n(), Sigma: sigma}
	r.Depth = drills.Reading{Value: t.depth + 2*n(), Sigma: 2}
	r.Height = drills.Reading{Value: t.height + 2.5*n(), Sigma: 2.5}
	r.Elevation = drills.Reading{Value: 0, Sigma: 1}
	var truth map[drills.BodyPart]float64
	r.Body, truth = l.body(m)
	for p, v := range truth {
		l.truth[p] = append(l.truth[p], v)
	}
	r.Verdict, r.Just = drills.Judge(r.ShaftLine, drills.Band)
	return r, t.toe
}

// manner is read from how the club comes to the stop: the share of the time
// that its last part takes. A swing is stopped, a placement runs out
// (minimum jerk, Flash & Hogan 1985).
func (l *learner) manner(d drills.Drill, m motion) drills.Manner {
	if d.Form == drills.FormOrdinary {
		return drills.Swung
	}
	way := func(x float64) float64 { // sped up to the stop
		return 0.35*x*x + 0.65*(1-math.Cos(math.Pi*x*0.72))/(1-math.Cos(math.Pi*0.72))
	}
	if m.placed {
		way = func(x float64) float64 { return x * x * x * (10 - 15*x + 6*x*x) }
	}
	last := 1.0
	for x := 1.0; x > 0 && way(x) > 0.86; x -= 0.005 {
		last = 1 - x
	}
	switch last += 0.02 * l.dice.NormFloat64(); {
	case last < 0.21:
		return drills.Swung
	case last > 0.25:
		return drills.Placed
	}
	return drills.Unsure
}

// marks returns a coach's marks on the picture of a level moment: heel and toe of the
// leading edge, hip and neck; px, with an unsteady hand.
func (l *learner) marks(toe float64) [4][2]float64 {
	hand := func() float64 { return 1.5 * l.dice.NormFloat64() }
	line := func(x, y, lean, long float64) (a, b [2]float64) {
		s, c := math.Sincos(lean * math.Pi / 180)
		a, b = [2]float64{x + hand(), y + hand()}, [2]float64{x + s*long + hand(), y - c*long + hand()}
		if l.hand == drills.Left {
			a[0], b[0] = 1279-a[0], 1279-b[0]
		}
		return a, b
	}
	heel, tip := line(560, 420, toe, 34)
	hip, neck := line(500, 430, spineLean, 170)
	return [4][2]float64{heel, tip, hip, neck}
}
