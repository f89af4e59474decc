package drills

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"time"
)

// Part says what a part of a session is.
type Part uint8

const (
	WarmUp Part = iota
	SetUp       // the list is ticked
	Test        // a retention set: no feedback
	Work        // the rung due
	Mixing      // reps of passed rungs in turn
	Finish      // a few ordinary swings
	Rest
	WindDown // stop here: form drifts beyond
)

var partNames = [...]string{"warm-up", "set-up check", "a set without verdicts", "the rung due", "mixed practice", "ordinary swings", "rest", "the end"}

func (p Part) String() string { return name(partNames[:], int(p)) }

// Item is one part of a planned session.
type Item struct {
	Part    Part
	Drill   string // "" where there is none
	Club    string
	Kind    SetKind
	Reps    int
	Order   []string // the drill of each rep of a mixed set
	Seconds float64
	Why     string // in a sentence, "" where that needs no saying
}

// Wish holds what a session is planned from.
type Wish struct {
	Ladder    Ladder
	Standing  Standing
	Minutes   float64
	Now       time.Time
	DriftFrom int // after how many reps form drifted last time, 0: it did not
	Cause     *Cause
}

// How long things take, seconds (common practice).
const (
	secondsACatch  = 18.0
	secondsAStrike = 28.0
	secondsASwing  = 25.0
	secondsARest   = 60.0
	secondsToCheck = 60.0
	secondsToWarm  = 600.0 // light and dynamic, about 10 minutes (NHS inform)
	leastWarm      = 180.0
)

const (
	mostReps   = 70 // in one session, warm-up swings not counted (common practice)
	testEvery  = 6 * 24 * time.Hour
	finishReps = 10 // rhythm is read from 8, and a reading may fail
	mixFrom    = 2  // passed rungs
)

// ShortestSession is the fewest minutes that a plan is made for.
const ShortestSession = 10.0

// Plan is a session of the minutes wished for, never longer. Order: warm-up,
// set-up, the later-day test when due, then the rung due in sets with rests,
// mixed with passed rungs once there are some (Shea & Morgan 1979), and a few
// ordinary swings. It stops before form drifts.
func Plan(w Wish) ([]Item, error) {
	if w.Minutes < ShortestSession {
		return nil, fmt.Errorf("%.0f minutes are too short to warm up and practise: %.0f at least", w.Minutes, ShortestSession)
	}
	if len(w.Ladder.Rungs) == 0 {
		return nil, fmt.Errorf("there is no ladder to plan from: a drill needs a rung")
	}
	p := planner{wish: w, left: w.Minutes * 60, reps: mostReps}
	if w.DriftFrom > 0 {
		p.reps = max(finishReps+BackReps, min(p.reps, w.DriftFrom-2))
	}
	p.add(Item{Part: WarmUp, Seconds: min(secondsToWarm, max(leastWarm, p.left/5)),
		Why: "Light and moving: walk, turn, swing two clubs slowly. Stop on pain."})
	if c := w.Ladder.Check; c != nil {
		p.add(Item{Part: SetUp, Drill: c.ID, Seconds: secondsToCheck})
	}
	p.test()
	finish := p.finish()
	p.left -= finish.Seconds
	p.reps -= finish.Reps
	p.work()
	if finish.Reps > 0 {
		p.out = append(p.out, finish)
	}
	if w.DriftFrom > 0 {
		p.out = append(p.out, Item{Part: WindDown, Why: fmt.Sprintf("Last time your form drifted after %d reps, so today ends sooner.", w.DriftFrom)})
	}
	return p.out, nil
}

// planner fills a session.
type planner struct {
	wish Wish
	left float64 // s
	reps int     // that may still be made
	out  []Item
}

func (p *planner) add(i Item) {
	p.out = append(p.out, i)
	p.left -= i.Seconds
	p.reps -= i.Reps
}

// test adds the retention set of ordinary swings when it is due.
func (p *planner) test() {
	i, s := p.wish.Ladder.Ordinary(), p.wish.Standing
	if i < 0 || (!s.Tested.IsZero() && p.wish.Now.Sub(s.Tested) < testEvery) {
		return
	}
	if !s.Practised.IsZero() && p.wish.Now.Sub(s.Practised) < LaterDay {
		return
	}
	d := p.wish.Ladder.Rungs[i]
	why := "Are your ordinary swings better a day later? No verdicts: just swing."
	if s.Practised.IsZero() {
		why = "Where you begin: ordinary swings before any practice. No verdicts: just swing."
	}
	item := Item{Part: Test, Drill: d.ID, Club: s.Club, Kind: Retention, Reps: 10, Seconds: 10 * secondsOf(d), Why: why}
	if item.Seconds > p.left/2 {
		return // too short a session: practice first, the test another day
	}
	p.add(item)
}

// finish are a few ordinary swings at the end.
func (p *planner) finish() Item {
	i := p.wish.Ladder.Ordinary()
	if i < 0 {
		return Item{}
	}
	d := p.wish.Ladder.Rungs[i]
	item := Item{Part: Finish, Drill: d.ID, Club: p.wish.Standing.Club, Kind: Practice, Reps: finishReps, Seconds: finishReps * secondsOf(d),
		Why: "What you practised, in your ordinary swing."}
	if item.Seconds > p.left/3 || i == p.wish.Standing.Here {
		return Item{}
	}
	return item
}

// work fills what is left with sets of the rung due, mixed ones in between.
func (p *planner) work() {
	passed := p.wish.Ladder.passed(p.wish.Standing)
	due, why := p.due()
	for n := 0; ; n++ {
		item := p.set(due, why)
		if due.Form == FormMixed || (len(passed) >= mixFrom && n%3 == 2) {
			item = p.mix(passed, due)
		}
		rest := 0.0
		if n > 0 {
			rest = secondsARest
		}
		// The last set may be shorter, but not so short that it says nothing.
		each := item.Seconds / float64(item.Reps)
		if fit := min(int(math.Floor((p.left-rest)/each)), p.reps); fit < item.Reps {
			if fit < UsualPassing().Least {
				return
			}
			item.Reps, item.Seconds = fit, float64(fit)*each
			if len(item.Order) > 0 {
				item.Order = item.Order[:fit]
			}
		}
		if n > 0 {
			p.add(Item{Part: Rest, Seconds: rest})
		}
		p.add(item)
	}
}

// due is the rung to work on: the one where the player stands, or one that
// works on the cause that was found and is at most one rung higher.
func (p *planner) due() (Drill, string) {
	l, s := p.wish.Ladder, p.wish.Standing
	here := l.Rungs[min(s.Here, len(l.Rungs)-1)]
	if p.wish.Cause != nil {
		if d, ok := l.For(*p.wish.Cause); ok && d.Rung <= here.Rung+1 && d.ID != here.ID {
			return d, fmt.Sprintf("It works on the likely cause: %s.", *p.wish.Cause)
		}
	}
	why := s.Why(here.ID)
	if why == "" {
		why = "The next rung."
	}
	return here, why
}

func (p *planner) set(d Drill, why string) Item {
	return Item{Part: Work, Drill: d.ID, Club: p.wish.Standing.Club, Kind: Practice, Reps: d.Reps, Seconds: float64(d.Reps) * secondsOf(d), Why: why}
}

// passed are the rungs that are passed and can be mixed.
func (l Ladder) passed(s Standing) (out []Drill) {
	for i, r := range s.Rungs {
		if d := l.Rungs[i]; r.Passed && d.Form != FormMixed {
			out = append(out, d)
		}
	}
	return out
}

// mix is a set in which the drill changes at each rep.
func (p *planner) mix(passed []Drill, due Drill) Item {
	turn := p.wish.Ladder.mixture(passed, due)
	item := Item{Part: Mixing, Club: p.wish.Standing.Club, Kind: Mixed, Reps: 10,
		Why: "A different drill each rep: harder today, better remembered."}
	if i := p.wish.Ladder.Mixed(); i >= 0 {
		item.Drill = p.wish.Ladder.Rungs[i].ID
	}
	seed := uint64(p.wish.Now.Unix()/86400) + uint64(len(p.out))
	for _, d := range spread(turn, item.Reps, seed) {
		item.Order = append(item.Order, d.ID)
		item.Seconds += secondsOf(d) + 5 // to set up anew
	}
	return item
}

// spread are n drills of a list in rounds: each round has all of them, in an
// order that cannot be foreseen, and none comes twice running.
func spread(list []Drill, n int, seed uint64) []Drill {
	dice := rand.New(rand.NewPCG(seed, 0))
	out := make([]Drill, 0, n+len(list))
	for len(out) < n {
		round := slices.Clone(list)
		dice.Shuffle(len(round), func(i, k int) { round[i], round[k] = round[k], round[i] })
		if k := len(out); k > 0 && len(round) > 1 && out[k-1].ID == round[0].ID {
			last := len(round) - 1
			round[0], round[last] = round[last], round[0]
		}
		out = append(out, round...)
	}
	return out[:n]
}

// mixture are the drills that a mixed set changes between.
func (l Ladder) mixture(passed []Drill, due Drill) []Drill {
	turn := slices.Clone(passed)
	for _, d := range append([]Drill{due}, l.Rungs...) {
		has := slices.ContainsFunc(turn, func(o Drill) bool { return o.ID == d.ID })
		// The rung due joins in; others only where there would be nothing to mix.
		if d.Form != FormMixed && !has && (d.ID == due.ID || len(turn) < mixFrom) {
			turn = append(turn, d)
		}
	}
	return turn
}

// Mixture is the order of a mixed set of n reps outside a plan: the rungs that
// are passed, spread. Equal seeds give equal orders.
func (l Ladder) Mixture(s Standing, n int, seed uint64) []Drill {
	return spread(l.mixture(l.passed(s), l.Rungs[min(s.Here, len(l.Rungs)-1)]), n, seed)
}

func secondsOf(d Drill) float64 {
	switch d.Form {
	case FormCatch:
		return secondsACatch
	case FormStrike:
		return secondsAStrike
	}
	return secondsASwing
}
