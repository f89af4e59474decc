package drills

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestSumsBeginAtNothing(t *testing.T) {
	c := Cusum{Level: 0, K: 1, H: 2}
	for _, values := range [][]float64{{0, -2.5}, {0, 2.5}, {5, -2.5}} {
		at, _, _ := c.Signal(values[len(values)-2:])
		assert.Equal(t, values[0] == 5, at == 0, "%v", values)
		if values[0] == 0 {
			assert.Equal(t, -1, at, "%v", values)
		}
	}
	// However far off a value is, its score is a number.
	steady := []float64{0, 1, 0, 1, 0, 1, 0, 1, 0, 1, 0, 1, 0, 1, 0, 1, 0, 1, 0, 1}
	for _, far := range []float64{1e12, -1e12} {
		z := SelfStarting(append(steady[:len(steady):len(steady)], far))
		last := z[len(z)-1]
		assert.False(t, math.IsInf(last, 0))
		assert.InDelta(t, math.Copysign(7.03, far), last, 0.01, "the normal quantile of 1e-12 (from memory)")
	}
	assert.InDelta(t, 3.7, Quantile([]float64{4, 1, 3, 2}, 0.9), 1e-12)
	// Of more than ten values the tail is the normal one: n = 12 has the variance
	// 212.67, so that S = 44 is 43/14.583 = 2.949 deviations, p = 0.0032.
	twelve := TrendOf([]float64{3, 2, 1, 5, 4, 6, 9, 12, 7, 8, 11, 10})
	require.Equal(t, 44, twelve.S)
	assert.InDelta(t, 43/math.Sqrt(12*11*29/18.0), twelve.Z, 1e-9)
	assert.InDelta(t, math.Erfc(twelve.Z/math.Sqrt2), twelve.P, 1e-12)
}

func TestFilesOfDrillsInEveryDetail(t *testing.T) {
	for text, says := range map[string]string{"": "line 1: a drill is a list", "id: a\nid: b\n": `line 2: "id" stands in line 1 already`} {
		_, err := ParseDrill("gate.yaml", []byte(text), nil)
		assert.ErrorContains(t, err, says)
	}
	d, err := ParseDrill("gate.yaml", []byte(plainDrill+"watched: [{part: head height}]\n"), nil)
	require.NoError(t, err)
	assert.Equal(t, []Watch{UsualWatch(HeadUp)}, d.Watched, "a part without a band has the usual one")
	_, err = ParseViews(": line")
	assert.ErrorContains(t, err, `["down the line" "face-on"]`)
}

func TestPlansOfUnusualLadders(t *testing.T) {
	p := UsualPassing()
	strike, err := NewLadder([]Drill{{ID: "strike", Rung: 1, Form: FormStrike, Reps: 15, Passing: p}})
	require.NoError(t, err)
	items, err := Plan(Wish{Ladder: strike, Now: monday, Standing: strike.Stand(nil, "7-iron"), Minutes: 10})
	require.NoError(t, err)
	assert.Equal(t, "warm-up  180 s 0; the rung due strike 420 s 15", written(items), "no rest before the first set")

	first, err := NewLadder([]Drill{{ID: "full", Form: FormOrdinary, Ball: true, Rung: 1, Reps: 10, Passing: p}, {ID: "a", Rung: 2, Reps: 10, Passing: p}})
	require.NoError(t, err)
	s := first.Stand([]Set{practised("full", 0, 10, 10)}, "7-iron")
	items, err = Plan(Wish{Ladder: first, Now: monday, Standing: s, Minutes: 45})
	require.NoError(t, err)
	assert.Contains(t, written(items), "ordinary swings full 250 s 10")

	mixed, err := NewLadder([]Drill{{ID: "mix", Form: FormMixed, Rung: 1, Reps: 10, Passing: p}, {ID: "a", Rung: 2, Reps: 10, Passing: p}, {ID: "b", Rung: 3, Reps: 10, Passing: p}})
	require.NoError(t, err)
	items, err = Plan(Wish{Ladder: mixed, Now: monday, Standing: mixed.Stand(nil, "7-iron"), Minutes: 20})
	require.NoError(t, err)
	assert.Contains(t, written(items), "mixed practice mix 230 s 10")
	l := short(t)
	s = l.Stand([]Set{practised("one", 0, 10, 10), practised("two", 1, 10, 10)}, "7-iron")
	s.Here = 9
	for _, d := range l.Mixture(s, 6, 1) {
		assert.NotEqual(t, "full", d.ID, "it is not passed")
	}
}

func TestDecisionsInEveryDetail(t *testing.T) {
	l := short(t)
	s := l.Stand([]Set{practised("one", 0, 3, 10), practised("one", 1, 8, 8)}, "7-iron")
	assert.Equal(t, Passed, s.Said[1].Outcome, "a set of eight passes by itself")
	assert.Contains(t, l.Stand([]Set{practised("one", 0, 4, 8)}, "7-iron").Said[0].Sentence, "the same rung again", "eight are enough to decide")
	exact := UsualPassing()
	exact.Pass = Share{9, 10}.Low()
	m, err := NewLadder([]Drill{{ID: "one", Rung: 1, Reps: 10, Passing: exact}, {ID: "two", Rung: 2, Reps: 10, Passing: exact}})
	require.NoError(t, err)
	assert.Equal(t, 1, m.Stand([]Set{practised("one", 0, 5, 10), practised("one", 1, 9, 10)}, "7-iron").Here)
	all := []Set{practised("one", 0, 10, 10), practised("two", 1, 10, 10), practised("full", 2, 10, 10), practised("mix", 3, 10, 10), practised("mix", 4, 0, 10)}
	s = l.Stand(all, "7-iron")
	assert.Contains(t, s.Said[4].Sentence, "Back to it")
	assert.Equal(t, 3, s.Here)
	assert.Empty(t, enough(0.95), "no 20 reps have so high a bound")
	with := func(club string, s Set) Set { s.Club = club; return s }
	_, why, ok := l.Offer([]Set{with("wedge", practised("one", 0, 10, 10)), with("wedge", practised("two", 1, 9, 10))}, bag, "wedge")
	require.True(t, ok)
	assert.Contains(t, why, "Rung 1 is passed with this club, wedge (10 of 10 in line and swung)")
}
