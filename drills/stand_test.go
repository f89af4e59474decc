package drills

import (
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var monday = time.Date(2026, 3, 2, 18, 0, 0, 0, time.UTC)

// short is a ladder of four rungs.
func short(t testing.TB) Ladder {
	t.Helper()
	p := UsualPassing()
	l, err := NewLadder([]Drill{
		{ID: "check", Form: FormCheck}, {ID: "one", Name: "One", Rung: 1, Reps: 10, Passing: p, WorksOn: []Cause{PushedAway}}, {ID: "two", Name: "Two", Rung: 2, Reps: 10, Passing: p},
		{ID: "full", Name: "Full", Rung: 3, Form: FormOrdinary, Ball: true, Reps: 10, Passing: p}, {ID: "mix", Name: "Mix", Rung: 4, Form: FormMixed, Reps: 10, Passing: p},
	})
	require.NoError(t, err)
	return l
}

// reps are good ones, then bad ones.
func reps(good, of int) []bool {
	out := make([]bool, of)
	for i := range good {
		out[i] = true
	}
	return out
}

func practised(drill string, hour, good, of int) Set {
	at := monday.Add(time.Duration(hour) * time.Hour)
	return Set{Drill: drill, Club: "7-iron", Kind: Practice, Began: at, Ended: at.Add(5 * time.Minute), Reps: reps(good, of)}
}

func tested(drill string, hour, good, of int) Set {
	s := practised(drill, hour, good, of)
	s.Kind = Retention
	return s
}

func TestTheLadderDecidesByEvidence(t *testing.T) {
	for name, c := range map[string]struct {
		sets    []Set
		here    string
		outcome Outcome
		says    string
	}{
		"9 of 10 pass":                  {[]Set{practised("one", 0, 9, 10)}, "two", Passed, "9 of 10 in line and swung: passed."},
		"8 of 10 do not":                {[]Set{practised("one", 0, 8, 10)}, "one", Stays, "8 of 10 in line and swung: the same rung again. 9 of 10 or 16 of 20 would pass it."},
		"16 of 20 pass":                 {[]Set{practised("one", 0, 8, 10), practised("one", 1, 8, 10)}, "two", Passed, "16 of 20 in line and swung: passed."},
		"a good set after a bad one":    {[]Set{practised("one", 0, 3, 10), practised("one", 1, 10, 10)}, "two", Passed, "10 of 10"},
		"5 of 5 are too few":            {[]Set{practised("one", 0, 5, 5)}, "one", Stays, "too few to decide. That takes at least 8 reps"},
		"one rung back":                 {[]Set{practised("one", 0, 9, 10), practised("two", 1, 2, 10)}, "one", SteppedBack, "2 of 10 in line and swung: one rung back, to: One."},
		"3 of 10 are no proof":          {[]Set{practised("one", 0, 9, 10), practised("two", 1, 3, 10)}, "two", Stays, "the same rung again"},
		"a passed rung that is lost":    {[]Set{practised("one", 0, 9, 10), practised("two", 1, 9, 10), practised("one", 2, 1, 10)}, "one", SteppedBack, "does not hold. Back to it"},
		"a rung above decides nothing":  {[]Set{practised("one", 0, 5, 10), practised("full", 1, 0, 10)}, "one", Stays, "5 of 10"},
		"passed above waits":            {[]Set{practised("two", 0, 10, 10)}, "one", Passed, "10 of 10"},
		"and is gone over then":         {[]Set{practised("two", 0, 10, 10), practised("one", 1, 10, 10)}, "full", Passed, "10 of 10"},
		"nothing below the first":       {[]Set{practised("one", 0, 1, 10)}, "one", Stays, "There is no easier rung"},
		"kept on a later day":           {[]Set{practised("one", 0, 9, 10), tested("one", 25, 9, 9)}, "two", Kept, "9 of 9 in line and swung, 24 hours after practice, without feedback: kept."},
		"not kept":                      {[]Set{practised("one", 0, 9, 10), tested("one", 25, 18, 20)}, "two", NotKept, "not kept yet. 10 of 10 or 19 of 20 would keep it."},
		"too early for a test":          {[]Set{practised("one", 0, 9, 10), tested("one", 23, 10, 10)}, "two", NoTest, "only 22 hours after practice: too soon to test anything"},
		"a test before any practice":    {[]Set{tested("full", 0, 4, 10)}, "one", NotKept, "before any practice"},
		"retention does not pass":       {[]Set{practised("one", 0, 5, 10), tested("one", 25, 10, 10)}, "one", Kept, "kept"},
		"mixed reps are reps of a rung": {[]Set{{Drill: "one", Club: "7-iron", Kind: Mixed, Began: monday, Ended: monday, Reps: reps(9, 10)}}, "two", Passed, "9 of 10"},
	} {
		t.Run(name, func(t *testing.T) {
			l := short(t)
			s := l.Stand(c.sets, "7-iron")
			require.NotEmpty(t, s.Said)
			last := s.Said[len(s.Said)-1]
			assert.Equal(t, c.here, l.Rungs[s.Here].ID)
			assert.Equal(t, c.outcome, last.Outcome)
			assert.Contains(t, last.Sentence, c.says)
		})
	}
}

func TestVerdictsAreKeptPerClub(t *testing.T) {
	l := short(t)
	driver := practised("one", 2, 2, 10)
	driver.Club = "driver"
	sets := []Set{practised("one", 0, 9, 10), driver}
	assert.Equal(t, 1, l.Stand(sets, "7-iron").Here)
	assert.Equal(t, 0, l.Stand(sets, "driver").Here)
	// But practice with any club comes before a test.
	assert.Equal(t, NoTest, l.Stand(append(sets, tested("full", 4, 9, 10)), "7-iron").Said[1].Outcome)
}

// A player who is in line half of the time must seldom pass a rung, and one
// who is in line nine times of ten must seldom fall from it.
func TestChanceSeldomDecides(t *testing.T) {
	l, dice := short(t), rand.New(rand.NewPCG(1, 2))
	set := func(p float64, hour int) Set {
		s := practised("one", hour, 0, 10)
		for i := range s.Reps {
			s.Reps[i] = dice.Float64() < p
		}
		return s
	}
	const lives = 2000
	passed, fell := 0, 0
	for range lives {
		passed += l.Stand([]Set{set(0.5, 0), set(0.5, 1)}, "7-iron").Here
		sets := []Set{practised("one", 0, 10, 10)}
		for h := range 6 {
			sets = append(sets, set(0.9, h+1))
		}
		fell += 1 - l.Stand(sets, "7-iron").Here
	}
	t.Logf("of %d: passed by luck in two sets %d, fell by bad luck in six %d", lives, passed, fell)
	assert.Less(t, passed, lives*4/100)
	assert.Less(t, fell, lives/1000+1)
}

func TestAPlanFitsItsMinutes(t *testing.T) {
	l := short(t)
	passed := l.Stand([]Set{practised("one", 0, 10, 10), practised("two", 1, 10, 10)}, "7-iron")
	away := PushedAway
	for name, c := range map[string]struct {
		wish  Wish
		has   []Part
		not   []Part
		first string // drill of the first work
	}{
		"the first session":      {Wish{Minutes: 45, Now: monday}, []Part{WarmUp, SetUp, Test, Work, Rest, Finish}, []Part{Mixing}, "one"},
		"the next hours":         {Wish{Minutes: 45, Now: monday.Add(8 * time.Hour), Standing: passed}, []Part{Work, Mixing}, []Part{Test}, "full"},
		"a later day":            {Wish{Minutes: 45, Now: monday.Add(40 * time.Hour), Standing: passed}, []Part{Test, Work}, nil, "full"},
		"ten minutes":            {Wish{Minutes: 10, Now: monday}, []Part{WarmUp, SetUp, Work}, []Part{Test}, "one"},
		"a cause to work on":     {Wish{Minutes: 30, Now: monday, Standing: passed, Cause: &away}, []Part{Work}, nil, "one"},
		"form drifted at rep 30": {Wish{Minutes: 90, Now: monday, Standing: passed, DriftFrom: 30}, []Part{WindDown}, nil, "full"},
	} {
		t.Run(name, func(t *testing.T) {
			w := c.wish
			w.Ladder = l
			if w.Standing.Rungs == nil {
				w.Standing = l.Stand(nil, "7-iron")
			}
			items, err := Plan(w)
			require.NoError(t, err)
			seconds, reps, seen, first := 0.0, 0, map[Part]bool{}, ""
			for _, i := range items {
				seconds, reps, seen[i.Part] = seconds+i.Seconds, reps+i.Reps, true
				if i.Part == Work && first == "" {
					first = i.Drill
				}
				if i.Part == Mixing {
					require.Len(t, i.Order, i.Reps)
					for k := 1; k < len(i.Order); k++ {
						require.NotEqual(t, i.Order[k-1], i.Order[k], "never the same twice running")
					}
				}
				require.Equal(t, i.Part == Rest || i.Part == SetUp, i.Why == "", "%s: %s", i.Part, i.Why)
			}
			assert.LessOrEqual(t, seconds, w.Minutes*60)
			if w.DriftFrom > 0 {
				assert.Less(t, reps, w.DriftFrom)
			} else {
				assert.Greater(t, seconds, 0.6*w.Minutes*60, "and fills them")
			}
			for _, p := range c.has {
				assert.True(t, seen[p], p.String())
			}
			for _, p := range c.not {
				assert.False(t, seen[p], p.String())
			}
			assert.Equal(t, c.first, first)
		})
	}
	_, err := Plan(Wish{Ladder: l, Minutes: 5})
	assert.ErrorContains(t, err, "too short")
}
