package drills

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What counts as kept of the body until a coach changes it: common practice in
// teaching, in cm, degrees, and shares of the stance.
func TestTheBandsOfCommonPractice(t *testing.T) {
	inf := math.Inf(1)
	for p, want := range map[BodyPart][2]float64{
		HandsUnder: {-5, 5}, SpineTilt: {-5, 5}, HeadUp: {-5, 5}, HeadOut: {-5, 5}, HipsOut: {-5, 5}, ArmBend: {-inf, 25}, TrailElbow: {-inf, 0},
		HeadBack: {-5, 8}, HipsBack: {-5, 5}, HandsThigh: {-10, 20}, ArmBack: {25, 60}, BallPlace: {30, 95},
	} {
		w := UsualWatch(p)
		assert.Equal(t, want, [2]float64{w.Low, w.High}, p)
		assert.Equal(t, p >= HeadBack || p == ArmBend, p.FaceOn(), p)
		for k, b := range map[float64]Body{-1: with(p, want[0]-3), 1: with(p, want[1]+3)} {
			if !math.IsInf(want[0], -1) || k > 0 {
				assert.Equal(t, int(k), w.Side(b), p)
			}
		}
	}
	for p, want := range map[BodyPart]bool{HandsUnder: false, HeadUp: false, ArmBend: true, TrailElbow: false, HeadBack: true, BallPlace: true} {
		assert.Equal(t, want, p.FaceOn(), p)
	}
	assert.Equal(t, "unknown", BodyPart(BodyParts).String())
}

// One-sided 95 % of the normal distribution is 1.645 sigma (value from memory).
func TestAPartIsPlainlyLostFromOneAndTwoThirdsSigma(t *testing.T) {
	w := Watch{HeadUp, -4, 4}
	for _, c := range []struct {
		value, sigma float64
		want         int
	}{
		{7.30, 2, 1}, {7.28, 2, 0}, {-7.30, 2, -1}, {-7.28, 2, 0}, {4.9, 0.5, 1}, {4.8, 0.5, 0}, {-4.9, 0.5, -1}, {-4.8, 0.5, 0},
	} {
		assert.Equal(t, c.want, w.Side(Body{HeadUp: {c.value, c.sigma}}), "%v ± %v", c.value, c.sigma)
	}
}

func TestWatchesInWords(t *testing.T) {
	inf := math.Inf(1)
	for want, w := range map[string]Watch{
		"head height within 5 cm": {HeadUp, -5, 5}, "spine tilt within 4°": {SpineTilt, -4, 4}, "bend of the lead arm at most 25°": {ArmBend, -inf, 25},
		"trail elbow at most 3 cm in front of the trail hip": {TrailElbow, -3, inf}, "trail elbow not behind the trail hip": {TrailElbow, -inf, 0}, "trail elbow at least 2 cm in front of the trail hip": {TrailElbow, -inf, -2}, "head height at least 2 cm up": {HeadUp, 2, inf}, "ball between the feet from 30 to 95 %": {BallPlace, 30, 95},
		"head along the target line from 5 cm toward it to 8 cm away from it": {HeadBack, -5, 8}, "hands at the trail thigh from 10 cm before it to 20 cm past it": {HandsThigh, -10, 20},
	} {
		assert.Equal(t, want, w.String())
	}
	for w, ok := range map[Watch]bool{
		{HeadUp, -60, 60}: true, {HeadUp, -61, 5}: false, {HeadUp, -5, 61}: false, {SpineTilt, -120, 120}: true, {SpineTilt, -121, 5}: false, {SpineTilt, 0, 121}: false,
		{BallPlace, -200, 200}: true, {BallPlace, 0, 201}: false, {BallPlace, -201, 0}: false, {HeadUp, 3, 3}: false, {HeadUp, 4, 3}: false,
		{HeadUp, -inf, 3}: true, {HeadUp, 3, inf}: true, {HeadUp, -inf, inf}: false,
	} {
		assert.Equal(t, ok, w.Check() == nil, "%v", w)
	}
	assert.Equal(t, []Watch{{HeadUp, -3, 3}}, WatchedOf([]Watch{{HeadUp, -3, 3}}).All())
}

func TestReadingsOfTheBodyInWords(t *testing.T) {
	for _, c := range []struct {
		p     BodyPart
		value float64
		say   string
	}{
		{HandsUnder, 0.4, "hands under the lead shoulder"}, {HandsUnder, 1, "hands 1 cm outside the lead shoulder"}, {HandsUnder, -1, "hands 1 cm inside the lead shoulder"},
		{SpineTilt, -0.4, "spine as at address"}, {SpineTilt, -3, "spine 3° more upright"}, {SpineTilt, 1, "spine 1° more bent"}, {SpineTilt, 3, "spine 3° more bent"},
		{HeadUp, 3, "head 3 cm up"}, {HeadUp, -2, "head 2 cm down"}, {HeadUp, 0, "head at the same height"}, {ArmBend, 12, "lead arm bent 12°"}, {ArmBend, 0, "lead arm bent 0°"},
		{ArmBack, 0, "lead arm 0° from hanging straight down"}, {BallPlace, 60, "ball at 60 % from the trail foot to the lead foot"}, {TrailElbow, -4, "trail elbow 4 cm in front of the trail hip"},
	} {
		assert.Equal(t, c.say, with(c.p, c.value).Say(c.p))
	}
	for _, c := range []struct {
		p         BodyPart
		low, high float64
		say       string
	}{{HeadUp, 4.6, 7, "5 cm and 7 cm"}, {TrailElbow, -20, -17, "17 cm and 20 cm"}, {HeadUp, -0.4, 0.4, "0 cm"}, {HeadUp, -3, -0.4, "0 cm and 3 cm"}, {HeadUp, -1.2, -0.8, "1 cm"},
		{HeadUp, -1, 2, "1 cm down and 2 cm up"}, {SpineTilt, 2, 3, "2° and 3°"}, {BallPlace, 40, 52, "40 % and 52 %"}, {ArmBack, -4, 3, "−4° and 3°"}} {
		assert.Equal(t, c.say, c.p.Between(c.low, c.high))
	}
}

func TestWhatADrillMayBe(t *testing.T) {
	usual := Drill{Reps: 10, Script: "catch", Passing: UsualPassing()}
	for name, c := range map[string]struct {
		change func(d *Drill)
		ok     bool
	}{
		"as it is": {func(*Drill) {}, true},
		"1 rep":    {func(d *Drill) { d.Reps = 1 }, true}, "no rep": {func(d *Drill) { d.Reps = 0 }, false}, "100 reps": {func(d *Drill) { d.Reps = 100 }, true}, "101 reps": {func(d *Drill) { d.Reps = 101 }, false},
		"a list": {func(d *Drill) { d.Form, d.Reps, d.Script = FormCheck, 0, "" }, true}, "no script": {func(d *Drill) { d.Script = "" }, false}, "cues": {func(d *Drill) { d.Script, d.Cues = "", "rep: verdict" }, true},
		"rung -1": {func(d *Drill) { d.Rung = -1 }, false}, "rung 0": {func(d *Drill) { d.Rung = 0 }, true}, "rung 100": {func(d *Drill) { d.Rung = 100 }, true}, "rung 101": {func(d *Drill) { d.Rung = 101 }, false},
		"beat 29": {func(d *Drill) { d.Beat = 29 }, false}, "beat 30": {func(d *Drill) { d.Beat = 30 }, true}, "beat 160": {func(d *Drill) { d.Beat = 160 }, true}, "beat 161": {func(d *Drill) { d.Beat = 161 }, false},
		"least 0": {func(d *Drill) { d.Passing.Least = 0 }, false}, "least 1": {func(d *Drill) { d.Passing.Least = 1 }, true},
		"least 20 of 20": {func(d *Drill) { d.Passing.Least = 20 }, true}, "least 21 of 20": {func(d *Drill) { d.Passing.Least = 21 }, false},
		"of 10": {func(d *Drill) { d.Passing.Reps = 10 }, true}, "of 9": {func(d *Drill) { d.Passing.Reps = 9 }, false},
		"pass 0": {func(d *Drill) { d.Passing.Pass = 0 }, false}, "pass 1": {func(d *Drill) { d.Passing.Pass = 1 }, false}, "keep 0": {func(d *Drill) { d.Passing.Keep = 0 }, false}, "keep 1": {func(d *Drill) { d.Passing.Keep = 1 }, false},
		"never back": {func(d *Drill) { d.Passing.Back = 0 }, true}, "back 1": {func(d *Drill) { d.Passing.Back = 1 }, false}, "back below 0": {func(d *Drill) { d.Passing.Back = -0.1 }, false},
	} {
		d := usual
		c.change(&d)
		assert.Equal(t, c.ok, d.Check() == nil, "%s: %v", name, d.Check())
	}
	id := strings.Repeat("a", 60)
	_, err := fitsDrillID(id)
	assert.NoError(t, err)
	_, err = fitsDrillID(id + "a")
	assert.Error(t, err)
}

func TestPlacesOnALadder(t *testing.T) {
	l := short(t)
	assert.Equal(t, []int{0, 1, 2, 3, -1}, []int{l.Find("one"), l.Find("two"), l.Find("full"), l.Find("mix"), l.Find("check")})
	d, ok := l.Drill("two")
	require.True(t, ok)
	assert.Equal(t, "Two", d.Name)
	_, ok = l.Drill("none")
	assert.False(t, ok)
	assert.Equal(t, 3, l.Mixed())
	assert.Equal(t, 2, l.Ordinary())
	one, err := NewLadder([]Drill{{ID: "full", Form: FormOrdinary, Ball: true, Rung: 1}, {ID: "a", Rung: 2}})
	require.NoError(t, err)
	assert.Equal(t, 0, one.Ordinary())
	assert.Equal(t, -1, one.Mixed())
	two, err := NewLadder([]Drill{{ID: "a", Rung: 1}, {ID: "full", Form: FormOrdinary, Ball: true, Rung: 2}, {ID: "longer", Form: FormOrdinary, Ball: true, Rung: 3}, {ID: "step", Form: FormOrdinary, Ball: true, MovingStart: true, Rung: 4}, {ID: "air", Form: FormOrdinary, Rung: 5}})
	require.NoError(t, err)
	assert.Equal(t, 2, two.Ordinary(), "the highest from address at a ball")
	none, err := NewLadder([]Drill{{ID: "a", Rung: 1}})
	require.NoError(t, err)
	assert.Equal(t, -1, none.Ordinary())
}

// written is a plan in short: part, drill, seconds and reps.
func written(items []Item) string {
	var out []string
	for _, i := range items {
		out = append(out, fmt.Sprintf("%s %s %g s %d", i.Part, i.Drill, i.Seconds, i.Reps))
	}
	return strings.Join(out, "; ")
}

// Plans worked out by hand: 18 s for a catch, 25 s for a whole swing, a minute of
// rest and of checking, ten minutes or a fifth of the time to warm up, three at
// least, 70 reps a day (all common practice).
func TestPlansWorkedOutByHand(t *testing.T) {
	l := short(t)
	fresh := l.Stand(nil, "7-iron")
	begun := fresh
	begun.Practised = monday.Add(-time.Hour)
	passed := l.Stand([]Set{practised("one", 0, 10, 10), practised("two", 1, 10, 10)}, "7-iron")
	warm := func(s float64) string { return fmt.Sprintf("warm-up  %g s 0; set-up check check 60 s 0", s) }
	work, rest, test, finish := "; the rung due one 180 s 10", "; rest  60 s 0", "; a set without verdicts full 250 s 10", "; ordinary swings full 250 s 10"
	for name, c := range map[string]struct {
		wish Wish
		want string
	}{
		"45 minutes":             {Wish{Minutes: 45, Standing: fresh}, warm(540) + test + work + rest + work + rest + work + rest + work + rest + work + finish},
		"90 minutes":             {Wish{Minutes: 90, Standing: begun}, warm(600) + work + rest + work + rest + work + rest + work + rest + work + rest + work + finish},
		"10 minutes":             {Wish{Minutes: 10, Standing: fresh}, warm(180) + work},
		"11 minutes":             {Wish{Minutes: 11, Standing: fresh}, warm(180) + work + rest + work},
		"half of it for a test":  {Wish{Minutes: 740.0 / 60, Standing: fresh}, warm(180) + test + work},
		"a third of it to end":   {Wish{Minutes: 16.875, Standing: begun}, warm(202.5) + work + rest + work + finish},
		"a shorter last set":     {Wish{Minutes: 10.5, Standing: fresh}, warm(180) + work + rest + "; the rung due one 144 s 8"},
		"too short a last set":   {Wish{Minutes: 10.3, Standing: fresh}, warm(180) + work},
		"the form drifted at 30": {Wish{Minutes: 90, Standing: begun, DriftFrom: 30}, warm(600) + work + rest + "; the rung due one 144 s 8" + finish + "; the end  0 s 0"},
		"the form drifted at 12": {Wish{Minutes: 90, Standing: begun, DriftFrom: 12}, warm(600) + work + finish + "; the end  0 s 0"},
		"the form drifted at 1":  {Wish{Minutes: 90, Standing: begun, DriftFrom: 1}, warm(600) + work + finish + "; the end  0 s 0"},
	} {
		c.wish.Ladder, c.wish.Now = l, monday
		items, err := Plan(c.wish)
		require.NoError(t, err)
		assert.Equal(t, c.want, written(items), name)
	}

	// Every third set is mixed once two rungs are passed; each rep takes five seconds
	// longer, to set up anew.
	items, err := Plan(Wish{Ladder: l, Now: monday.Add(2 * time.Hour), Standing: passed, Minutes: 45})
	require.NoError(t, err)
	var parts []string
	for _, i := range items {
		parts = append(parts, i.Part.String())
		if i.Part != Mixing {
			continue
		}
		assert.Equal(t, "mix", i.Drill)
		want := 0.0
		for _, id := range i.Order {
			want += map[string]float64{"one": 23, "two": 23, "full": 30}[id]
		}
		assert.InDelta(t, want, i.Seconds, 1e-9)
		assert.Len(t, i.Order, 10)
	}
	assert.Equal(t, []string{"warm-up", "set-up check", "the rung due", "rest", "the rung due", "rest", "mixed practice", "rest", "the rung due", "rest", "the rung due", "rest", "mixed practice"}, parts[:13])

	strike, err := NewLadder([]Drill{{ID: "strike", Rung: 1, Form: FormStrike, Reps: 10, Passing: UsualPassing()}})
	require.NoError(t, err)
	items, err = Plan(Wish{Ladder: strike, Now: monday, Standing: strike.Stand(nil, "7-iron"), Minutes: 10})
	require.NoError(t, err)
	assert.Equal(t, "warm-up  180 s 0; the rung due strike 280 s 10", written(items), "28 s for a strike; there is no list to tick, and nothing to test")
	_, err = Plan(Wish{Ladder: Ladder{}, Minutes: 30})
	assert.ErrorContains(t, err, "no ladder")
	only, err := NewLadder([]Drill{{ID: "full", Form: FormOrdinary, Ball: true, Rung: 1, Reps: 10, Passing: UsualPassing()}})
	require.NoError(t, err)
	items, err = Plan(Wish{Ladder: only, Now: monday, Standing: only.Stand(nil, "7-iron"), Minutes: 30})
	require.NoError(t, err)
	assert.Contains(t, written(items), "a set without verdicts full 250 s 10")
}

// A test on a later day: 24 hours after practice, and once a week, that is six days
// after the last one.
func TestWhenATestIsDue(t *testing.T) {
	l := short(t)
	for _, c := range []struct {
		practised, tested time.Duration // before now, 0: never
		want              bool
	}{{0, 0, true}, {24 * time.Hour, 0, true}, {24*time.Hour - time.Second, 0, false}, {30 * time.Hour, 6 * 24 * time.Hour, true}, {30 * time.Hour, 6*24*time.Hour - time.Second, false}} {
		s := l.Stand(nil, "7-iron")
		if c.practised > 0 {
			s.Practised = monday.Add(-c.practised)
		}
		if c.tested > 0 {
			s.Tested = monday.Add(-c.tested)
		}
		items, err := Plan(Wish{Ladder: l, Now: monday, Standing: s, Minutes: 45})
		require.NoError(t, err)
		assert.Equal(t, c.want, strings.Contains(written(items), "a set without verdicts"), "%+v", c)
	}
}

func TestWhatIsWorkedOn(t *testing.T) {
	p := UsualPassing()
	l, err := NewLadder([]Drill{{ID: "a", Rung: 1, Reps: 10, Passing: p, WorksOn: []Cause{HeldShut}}, {ID: "b", Rung: 2, Reps: 10, Passing: p, WorksOn: []Cause{Hurried}}, {ID: "c", Rung: 3, Reps: 10, Passing: p, WorksOn: []Cause{PushedAway}}})
	require.NoError(t, err)
	for cause, want := range map[Cause]string{HeldShut: "a", Hurried: "b", PushedAway: "a", TurnAlone: "a"} {
		items, err := Plan(Wish{Ladder: l, Now: monday, Standing: l.Stand(nil, "7-iron"), Minutes: 10, Cause: &cause})
		require.NoError(t, err)
		assert.Contains(t, written(items), "the rung due "+want+" ", cause, "at most one rung higher")
	}
	done := l.Stand([]Set{practised("a", 0, 10, 10), practised("b", 1, 10, 10), practised("c", 2, 10, 10)}, "7-iron")
	assert.Equal(t, 2, done.Here, "the last rung is where it ends")
	done.Here = 3
	items, err := Plan(Wish{Ladder: l, Now: monday, Standing: done, Minutes: 10})
	require.NoError(t, err)
	assert.Contains(t, written(items), "the rung due c ")
}

func TestWhatIsMixed(t *testing.T) {
	l := short(t)
	ids := func(list []Drill) (out []string) {
		for _, d := range list {
			out = append(out, d.ID)
		}
		return out
	}
	one, two, full, mix := l.Rungs[0], l.Rungs[1], l.Rungs[2], l.Rungs[3]
	assert.Equal(t, []string{"one", "two", "full"}, ids(l.mixture([]Drill{one, two}, full)))
	assert.Equal(t, []string{"one", "two"}, ids(l.mixture([]Drill{one}, two)))
	assert.Equal(t, []string{"one", "two"}, ids(l.mixture(nil, one)), "nothing to mix: the next joins in")
	assert.Equal(t, []string{"one", "two"}, ids(l.mixture([]Drill{one, two}, mix)))
	assert.Equal(t, []string{"two", "one"}, ids(l.mixture([]Drill{two}, mix)))

	s := l.Stand([]Set{practised("one", 0, 10, 10), practised("two", 1, 10, 10), practised("full", 2, 10, 10), practised("mix", 3, 10, 10)}, "7-iron")
	s.Here = 9
	got := ids(l.Mixture(s, 7, 3))
	assert.Len(t, got, 7)
	assert.ElementsMatch(t, []string{"one", "two", "full"}, got[:3])
	assert.ElementsMatch(t, []string{"one", "two", "full"}, got[3:6])
	assert.Equal(t, got, ids(l.Mixture(s, 7, 3)), "equal seeds")
	assert.Empty(t, l.Mixture(s, 0, 3))

	// One order a day: each day another.
	order := func(now time.Time) string {
		items, err := Plan(Wish{Ladder: l, Now: now, Standing: s, Minutes: 45})
		require.NoError(t, err)
		for _, i := range items {
			if i.Part == Mixing {
				return fmt.Sprint(i.Order)
			}
		}
		return ""
	}
	assert.NotEmpty(t, order(monday))
	assert.Equal(t, order(monday), order(monday.Add(time.Hour)))
	days := map[string]bool{}
	for d := range 4 {
		days[order(monday.AddDate(0, 0, d))] = true
	}
	assert.Len(t, days, 4)
}

// A set of retention of a drill on no rung is judged by the usual rule.
func TestRetentionOfADrillOnNoRung(t *testing.T) {
	l := short(t)
	s := l.Stand([]Set{tested("aside", 0, 9, 9)}, "7-iron")
	require.Len(t, s.Said, 1)
	assert.Equal(t, Kept, s.Said[0].Outcome)
	s = l.Stand([]Set{tested("aside", 0, 5, 9)}, "7-iron")
	assert.Equal(t, NotKept, s.Said[0].Outcome)
	s = l.Stand([]Set{tested("one", 0, 7, 7)}, "7-iron")
	assert.Equal(t, NotKept, s.Said[0].Outcome, "fewer than eight reps keep nothing")
	s = l.Stand([]Set{tested("one", 0, 9, 9), tested("one", 200, 1, 9)}, "7-iron")
	assert.False(t, s.Rungs[0].Kept)
	s = l.Stand([]Set{practised("one", 0, 9, 10), tested("one", 24, 9, 9)}, "7-iron")
	assert.Equal(t, NoTest, s.Said[1].Outcome, "23 hours and 55 minutes after the set ended")
	s = l.Stand([]Set{{Drill: "one", Club: "7-iron", Kind: Practice, Began: monday, Ended: monday, Reps: reps(9, 10)}, tested("one", 24, 9, 9)}, "7-iron")
	assert.Equal(t, Kept, s.Said[1].Outcome, "24 hours to the second")
	assert.True(t, s.Rungs[0].Kept)
	empty := practised("one", 0, 0, 0)
	assert.Empty(t, l.Stand([]Set{empty}, "7-iron").Said)
	assert.NotEmpty(t, l.Stand([]Set{practised("one", 0, 1, 1)}, "7-iron").Said)
}

// The figures behind a decision: Wilson's lower bounds of 9 in 10, 0.596, and of 8
// in 10, 0.490 (Newcombe 1998); of 2 in 10 the upper bound is 0.510.
func TestTheFiguresBehindADecision(t *testing.T) {
	l := short(t)
	figures := func(sets ...Set) string {
		s := l.Stand(sets, "7-iron")
		return s.Said[len(s.Said)-1].Figures
	}
	assert.Equal(t, "In the long run that is at least 60 % (95 % sure); 55 % is asked for.", figures(practised("one", 0, 9, 10)))
	assert.Equal(t, "In the long run that may be as little as 49 %; 55 % is asked for.", figures(practised("one", 0, 8, 10)))
	assert.Equal(t, "In the long run that is at most 51 % (95 % sure), under 55 %.", figures(practised("one", 0, 2, 10)))
	assert.Equal(t, "9 of 10 or 16 of 20", enough(0.55))
	assert.Equal(t, "10 of 10 or 19 of 20", enough(0.70))
	assert.Equal(t, "0 of 10 or 0 of 20", enough(0))
	assert.Equal(t, "20 of 20", enough(0.8), "even ten of ten has only 0.722")
	why := l.Stand([]Set{practised("one", 0, 9, 10), practised("two", 1, 8, 10), practised("one", 2, 9, 10)}, "7-iron")
	assert.Contains(t, why.Why("one"), "passed")
	assert.Contains(t, why.Why("two"), "8 of 10")
	assert.Empty(t, why.Why("full"))
}

// A passing rule may be met exactly: it is reached, not exceeded.
func TestARuleThatIsMetExactlyIsMet(t *testing.T) {
	exact := UsualPassing()
	exact.Pass, exact.Keep, exact.Back, exact.Least, exact.Reps = Share{9, 10}.Low(), Share{9, 10}.Low(), Share{2, 10}.High(), 10, 10
	l, err := NewLadder([]Drill{{ID: "one", Rung: 1, Reps: 10, Passing: exact}, {ID: "two", Rung: 2, Reps: 10, Passing: exact}, {ID: "three", Rung: 3, Reps: 10, Passing: exact}})
	require.NoError(t, err)
	assert.Equal(t, 1, l.Stand([]Set{practised("one", 0, 9, 10)}, "7-iron").Here)
	assert.Equal(t, Kept, l.Stand([]Set{tested("one", 0, 9, 10)}, "7-iron").Said[0].Outcome)
	s := l.Stand([]Set{practised("one", 0, 9, 10), practised("two", 1, 2, 10)}, "7-iron")
	assert.Equal(t, 1, s.Here, "an upper bound that is the limit is not below it")
	s = l.Stand([]Set{practised("two", 0, 9, 10)}, "7-iron")
	assert.True(t, s.Rungs[1].Passed, "above the rung where the player stands")
	// Passed above, then lost there: where the player stands is the same.
	s = l.Stand([]Set{practised("two", 0, 9, 10), practised("two", 1, 0, 10)}, "7-iron")
	assert.Equal(t, 0, s.Here)
	assert.Contains(t, s.Said[1].Sentence, "Pass it again")
	s = l.Stand([]Set{practised("one", 0, 9, 10), practised("one", 1, 0, 10)}, "7-iron")
	assert.Contains(t, s.Said[1].Sentence, "Back to it")
}

func TestSharesAndMeansOfFew(t *testing.T) {
	assert.Equal(t, Share{3, 12}, Share{1, 4}.Add(Share{2, 8}))
	for _, c := range [][2]Share{{{0, 0}, {1, 2}}, {{1, 2}, {0, 0}}} {
		d, low, high := c[0].Difference(c[1])
		assert.True(t, math.IsNaN(d) && math.IsNaN(low) && math.IsNaN(high))
	}
	d, _, _ := Share{1, 1}.Difference(Share{0, 1})
	assert.Equal(t, 1.0, d)

	// Student's t 0.975 with 1 degree of freedom is 12.7062, chi square 5.02389 and
	// 0.000982 (NIST/SEMATECH e-Handbook, 1.3.6.7).
	two := MeanOf([]float64{1, 3})
	assert.InDelta(t, 2-12.7062, two.Low, 1e-3)
	assert.InDelta(t, 2+12.7062, two.High, 1e-3)
	low, high := two.SpreadBounds()
	assert.InDelta(t, math.Sqrt2/math.Sqrt(5.02389), low, 1e-4)
	assert.InDelta(t, math.Sqrt2/math.Sqrt(0.000982), high, 0.05)
	// A mean of 2 is √2·√2 deviations of it from 0: p = 1 − 2·atan(2)/π with one
	// degree of freedom (the Cauchy distribution).
	assert.InDelta(t, 1-2*math.Atan(2)/math.Pi, two.PValue(), 1e-9)
	// With nine: t = 5.5/(sd/√10), sd² = 82.5/9; p from numpy and scipy.
	ten := MeanOf([]float64{1, 2, 3, 4, 5, 6, 7, 8, 9, 10})
	assert.InDelta(t, 0.000278, ten.PValue(), 1e-6)
	for _, few := range [][]float64{nil, {4}} {
		low, high := MeanOf(few).SpreadBounds()
		assert.True(t, math.IsNaN(low) && math.IsNaN(high) && math.IsNaN(MeanOf(few).PValue()))
	}
	assert.True(t, math.IsNaN(MeanOf([]float64{3, 3}).PValue()), "no spread")
	assert.Less(t, MeanOf([]float64{0.1, 0.11, 0.12}).PValue(), 0.05, "a small spread is one")
	for q, want := range map[float64]float64{0: 1, 0.25: 1.75, 0.5: 2.5, 1: 4} {
		assert.InDelta(t, want, Quantile([]float64{4, 1, 3, 2}, q), 1e-12)
	}
	assert.Equal(t, 7.0, Quantile([]float64{7}, 0.3))
	assert.True(t, math.IsNaN(Quantile(nil, 0.5)))
}

// Falling rows mirror rising ones: EPA QA/G-9S (2006), p. 109, turned over. The
// normal tail of 1.685 is 0.0920 on both sides. Exact tails of Kendall's S (Kendall,
// Rank Correlation Methods, table 1): of ten different values S = 23 has 0.023 on
// each side, S = 21 has 0.036.
func TestTrendsThatFall(t *testing.T) {
	values := []float64{10, 10, 10, 5, 10, 20, 18, 17, 15, 24, 15}
	up := TrendOf(values)
	assert.InDelta(t, 0.0920, up.P, 5e-4)
	for i := range values {
		values[i] = -values[i]
	}
	down := TrendOf(values)
	assert.Equal(t, -22, down.S)
	assert.InDelta(t, -1.685, down.Z, 5e-4)
	assert.InDelta(t, up.P, down.P, 1e-12)
	assert.InDelta(t, -1, down.Slope, 1e-12)

	ten := TrendOf([]float64{3, 1, 2, 5, 4, 7, 10, 6, 8, 9})
	require.Equal(t, 31, ten.S)
	assert.InDelta(t, 2*0.0023, ten.P, 2e-4)
	seven := TrendOf([]float64{1, 2, 4, 3, 5, 7, 6}) // S = 17: 0.0054 on each side
	require.Equal(t, 17, seven.S)
	assert.InDelta(t, 2*0.0054, seven.P, 1e-4)
	one := TrendOf([]float64{1, 1, 1, 1, 2}) // S = 4, its variance 8: (4 − 1)/√8
	assert.InDelta(t, 3/math.Sqrt(8), one.Z, 1e-9)
	flat := TrendOf([]float64{1, 2, 2, 1}) // S = 0
	assert.Zero(t, flat.Z)
	assert.Equal(t, 1.0, flat.P)
	assert.Equal(t, 1.0, TrendOf([]float64{4, 4, 4}).P)
	assert.Zero(t, TrendOf([]float64{4, 4, 4}).Z)
	assert.False(t, Trend{N: 5, P: 0.05}.Shown())
	assert.True(t, Trend{N: 5, P: 0.0499}.Shown())
	assert.False(t, Trend{N: 4, P: 0.01}.Shown())
}

func TestASumThatStandsAtItsLimitIsNoSignal(t *testing.T) {
	c := Cusum{Level: 0, K: 1, H: 2}
	at, sum, direction := c.Signal([]float64{3})
	assert.Equal(t, []any{-1, 0.0, 0}, []any{at, sum, direction})
	at, sum, direction = c.Signal([]float64{-3})
	assert.Equal(t, []any{-1, 0.0, 0}, []any{at, sum, direction})
	at, sum, direction = c.Signal([]float64{3, 1.5})
	assert.Equal(t, []any{1, 2.5, 1}, []any{at, sum, direction})
	at, sum, direction = c.Signal([]float64{-3, -1.5})
	assert.Equal(t, []any{1, 2.5, -1}, []any{at, sum, direction})
	at, _, _ = c.Signal([]float64{-10, 3.5})
	assert.Equal(t, 0, at)
	at, _, _ = c.Signal([]float64{0, 0, 0, 3.1, 0, 0})
	assert.Equal(t, 3, at, "what came before is no credit")
	assert.Equal(t, []float64{0, 0}, SelfStarting([]float64{2, 2, 2, 2}))
}

func TestJudgeAtTheEdges(t *testing.T) {
	for _, c := range []struct {
		line, sigma, band float64
		verdict           Verdict
		just              bool
	}{{0.5, 0.2, 0, Inside, false}, {-0.5, 0.2, 0, Outside, false}, {0, 0, 0, InLine, false}, {9, 0, 8, Inside, false}, {8, 0, 8, InLine, false}} {
		v, just := Judge(Reading{c.line, c.sigma}, c.band)
		assert.Equal(t, c.verdict, v, "%+v", c)
		assert.Equal(t, c.just, just, "%+v", c)
	}
	assert.Equal(t, "unknown (5)", Verdict(5).String())
	assert.Equal(t, "short", Short.String())
}

// The face is read where marks are 2 px apart or more and the spine stands up.
func TestMarksThatTellAFace(t *testing.T) {
	hip, neck := Pixel{300, 400}, Pixel{300, 280}
	for _, c := range []struct {
		toe  Pixel
		want Face
		ok   bool
	}{{Pixel{500, 498}, Neutral, true}, {Pixel{500, 498.5}, Unmarked, false}, {Pixel{500, 497}, Neutral, true}, {Pixel{501, 440}, Shut, true}, {Pixel{499, 440}, Open, true}} {
		got, ok := FaceOf(Pixel{500, 500}, c.toe, hip, neck, Right, 0)
		assert.Equal(t, c.ok, ok, "%v", c.toe)
		assert.Equal(t, c.want, got, "%v", c.toe)
	}
	for lean, ok := range map[float64]bool{79: true, 81: false, -79: true, -81: false} {
		s, c := math.Sincos(lean * math.Pi / 180)
		_, got := FaceOf(Pixel{500, 500}, Pixel{500, 440}, hip, Pixel{hip.X + 100*s, hip.Y - 100*c}, Right, 0)
		assert.Equal(t, ok, got, "a spine that leans %v°", lean)
	}
	for _, hand := range []Hand{Right, Left} {
		degrees, ok := fromVertical(Pixel{0, 0}, Pixel{-1, 100}, hand, 0)
		require.True(t, ok)
		assert.InDelta(t, map[Hand]float64{Right: -179.4271, Left: 179.4271}[hand], degrees, 1e-4)
	}
	degrees, _ := fromVertical(Pixel{0, 0}, Pixel{1, 100}, Right, 5)
	assert.InDelta(t, 179.4271+5-360, degrees, 1e-4, "round the circle")
}

func TestTwoReadingsInEveryDetail(t *testing.T) {
	assert.Equal(t, Moments{0, 1, 2, 3, 4, 5, 6}, Moments{1, 2, 3, 4, 5, 6, 7}.Earlier(1))
	line, front := twoReadings()
	line.Tempo, front.Tempo, front.TempoLow, front.TempoHigh = 3, 2.5, 2, 3
	assert.Equal(t, 3.0, Together(line, front, 0).Tempo)
	line.Tempo = 0.5
	assert.Equal(t, 0.5, Together(line, front, 0).Tempo)
	line.Tempo = 0
	assert.Equal(t, 2.5, Together(line, front, 0).Tempo)
	line.Tempo = math.NaN()
	r := Together(line, front, 0)
	assert.Equal(t, []float64{2.5, 2, 3}, []float64{r.Tempo, r.TempoLow, r.TempoHigh})
	front.Body[ArmBend].Sigma = line.Body[ArmBend].Sigma
	assert.Equal(t, DownTheLine, Together(line, front, 0).Views.Body[ArmBend], "as sure: the camera down the line")
	only := Views{Line: DownTheLine}
	assert.Equal(t, "down the line: line", only.String())
}

func TestNamesOfFilesAreShort(t *testing.T) {
	assert.Equal(t, strings.Repeat("a", 80), PlainName(strings.Repeat("a", 90)))
	assert.Equal(t, strings.Repeat("é", 40), PlainName(strings.Repeat("é", 41)), "bytes, not letters")
	assert.Equal(t, "a"+strings.Repeat("é", 39), PlainName("a"+strings.Repeat("é", 41)))
}
