package clinic

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drillbay/drills"
)

// reps has who is up at the camera make n reps.
func (c *Clinic) reps(t *testing.T, n int, r drills.Rep) (over bool) {
	t.Helper()
	for range n {
		var err error
		over, err = c.Rep(0, r, ten)
		require.NoError(t, err)
	}
	return over
}

var good, wide = rep(drills.InLine, drills.Swung), rep(drills.Inside, drills.Swung)

func TestHowManyStationsThereCanBe(t *testing.T) {
	for n, ok := range map[int]bool{0: false, 1: true, 9: true, 10: false} {
		_, err := New(n, Rule{Reps: 5}, ten)
		assert.Equal(t, ok, err == nil, "%d stations", n)
	}
	for _, rule := range []Rule{{Reps: -1, Time: time.Minute}, {Reps: 5, Time: -1}, {}} {
		_, err := New(1, rule, ten)
		assert.Error(t, err)
	}
	for _, rule := range []Rule{{Reps: 1}, {Time: time.Second}} {
		_, err := New(1, rule, ten)
		assert.NoError(t, err)
	}
}

func TestATurnIsOverAtItsLastRepOrItsTime(t *testing.T) {
	c := group(t, 2, 1, Rule{Reps: 3})
	assert.False(t, c.reps(t, 2, good))
	assert.True(t, c.reps(t, 1, good))
	assert.True(t, c.Over(0, ten))

	c = group(t, 2, 1, Rule{Time: 2 * time.Minute})
	assert.False(t, c.reps(t, 9, good), "no number of reps ends it")
	assert.False(t, c.Over(0, ten.Add(2*time.Minute-time.Second)))
	assert.True(t, c.Over(0, ten.Add(2*time.Minute)))

	c = group(t, 2, 1, Rule{Reps: 3})
	assert.False(t, c.Over(0, ten.Add(time.Hour)), "no time ends it")
	c = group(t, 0, 1, Rule{Reps: 3, Time: time.Minute})
	assert.False(t, c.Over(0, ten.Add(time.Hour)), "nobody is up")
	c = group(t, 1, 1, Rule{Reps: 1, Time: time.Nanosecond})
	assert.False(t, c.Over(0, ten))
}

// Half a turn is a turn: who is called away before it gets it back.
func TestATurnThatIsCutShortIsGivenBack(t *testing.T) {
	for _, c := range []struct{ of, made, turns int }{{5, 0, 0}, {5, 1, 0}, {5, 2, 0}, {5, 3, 1}, {4, 1, 0}, {4, 2, 1}, {2, 1, 1}, {1, 0, 0}} {
		g := group(t, 3, 1, Rule{Reps: c.of})
		g.reps(t, c.made, good)
		require.NoError(t, g.Jump(0, 3, ten.Add(time.Minute)))
		assert.Equal(t, c.turns, g.Players[0].Turns, "%d of %d reps", c.made, c.of)
		assert.Equal(t, ten.Add(time.Minute), g.Players[0].Rested)
		assert.Equal(t, 1, g.Players[2].Turns)
		assert.True(t, g.Players[2].Rested.IsZero())
		assert.Equal(t, Station{Up: 3, Since: ten.Add(time.Minute)}, g.Stations[0])

		b := around(t, 4, []string{"net", "mirror"}, Rule{Reps: c.of})
		b.reps(t, c.made, good)
		require.NoError(t, b.Jump(0, 2, ten), "who is at the mirror changes places")
		assert.Equal(t, c.turns, b.Players[0].Turns, "%d of %d reps", c.made, c.of)
		assert.Equal(t, []int{2, 1}, []int{b.Stations[0].Up, b.Stations[1].Up})
		assert.Equal(t, []int{0, 1}, b.counts(&b.Players[0]))
	}
	g := group(t, 3, 2, Rule{Reps: 5})
	require.NoError(t, g.Jump(0, 1, ten), "up already")
	assert.ErrorContains(t, g.Jump(0, 2, ten), "Player 2 is up at station 2")
	assert.ErrorContains(t, g.Jump(2, 1, ten), "no station 3: there are 2")
	assert.ErrorContains(t, g.Jump(-1, 1, ten), "no station 0")
	assert.ErrorContains(t, g.Jump(0, 0, ten), "no player 0")
	_, err := g.Next(-1, ten)
	assert.Error(t, err)
	free := around(t, 1, []string{"net", "mirror"}, Rule{Reps: 5})
	require.NoError(t, free.Leave(1, ten))
	require.NoError(t, free.Arrive(1, ten))
	require.NoError(t, free.Jump(1, 1, ten))
	require.NoError(t, free.Jump(0, 1, ten), "nobody is at the camera")
	assert.Equal(t, []int{1, 0}, []int{free.Stations[0].Up, free.Stations[1].Up})
}

func TestWhoLeavesWithoutARepHadNoTurn(t *testing.T) {
	c := group(t, 2, 1, Rule{Reps: 5})
	require.NoError(t, c.Leave(1, ten))
	assert.Equal(t, 0, c.Players[0].Turns)
	assert.Equal(t, Station{}, c.Stations[0])
	require.Equal(t, []int{2}, c.Fill(ten))
	c.reps(t, 1, good)
	require.NoError(t, c.Leave(2, ten))
	assert.Equal(t, 1, c.Players[1].Turns)
	require.NoError(t, c.Leave(2, ten), "gone already")
	assert.ErrorContains(t, c.Leave(3, ten), "no player 3: the roster has 2")
	_, err := c.Rep(0, good, ten)
	assert.EqualError(t, err, "nobody is up at station 1")
	b := around(t, 2, []string{"net", "mirror"}, Rule{Reps: 5})
	_, err = b.Rep(1, good, ten)
	assert.EqualError(t, err, "there is no camera at station 2")
}

// Who comes late begins with the turns of those who had the fewest.
func TestWhoComesLateBeginsWithTheFewest(t *testing.T) {
	c := group(t, 2, 1, Rule{Reps: 1})
	for range 3 { // the first has two turns, the second one
		c.reps(t, 1, good)
		_, err := c.Next(0, ten)
		require.NoError(t, err)
	}
	c.reps(t, 1, good)
	require.Equal(t, []int{2, 2}, []int{c.Players[0].Turns, c.Players[1].Turns})
	c.Players[0].Turns = 5
	n := c.Add(Player{Name: "Late", Present: true}, ten.Add(time.Minute))
	assert.Equal(t, 2, c.Players[n-1].Credit)
	require.NoError(t, c.Leave(2, ten))
	n = c.Add(Player{Name: "Later", Present: true}, ten.Add(time.Minute))
	assert.Equal(t, 2, c.Players[n-1].Credit, "who is gone does not count")
	empty := group(t, 0, 1, Rule{Reps: 1})
	n = empty.Add(Player{Name: "First", Present: true}, ten)
	assert.Equal(t, 0, empty.Players[n-1].Credit)
	n = empty.Add(Player{Name: "Absent"}, ten)
	assert.False(t, empty.Players[n-1].Present)
	assert.Equal(t, []int{1}, empty.Waiting())

	b := around(t, 3, []string{"net", "mirror", "putting"}, Rule{Reps: 1})
	b.Players[0].Beside, b.Players[1].Beside, b.Players[2].Beside = []int{0, 3, 2}, []int{0, 2, 4}, []int{0, 5, 3}
	n = b.Add(Player{Name: "Late", Present: true}, ten)
	assert.Equal(t, []int{0, 2, 2}, b.Players[n-1].Beside)
	b.Players[0].Beside, b.Players[1].Beside, b.Players[2].Beside = []int{0, 1, 0}, []int{0, 1, 0}, []int{0, 1, 0}
	require.NoError(t, b.Leave(n, ten))
	b.Players[n-1].Beside = nil
	require.NoError(t, b.Arrive(n, ten))
	assert.Equal(t, []int{0, 1, 0}, b.Players[n-1].Beside)
	fresh := around(t, 1, []string{"net", "mirror"}, Rule{Reps: 1})
	n = fresh.Add(Player{Name: "Second", Present: true}, ten)
	assert.Nil(t, fresh.Players[n-1].Beside, "nobody had a turn beside")
}

// The queue: fewest turns, then longest wait, then place on the roster.
func TestTheOrderOfTheQueue(t *testing.T) {
	c := group(t, 5, 1, Rule{Reps: 5})
	c.Players[1].Turns = 1 // waits longest, but had a turn
	c.Players[1].Rested = ten.Add(-time.Hour)
	c.Players[2].Rested = ten.Add(time.Minute)
	assert.Equal(t, []int{4, 5, 3, 2}, c.Waiting())
	sheet := c.Sheet(ten.Add(2 * time.Minute))
	assert.Equal(t, []int{1, 2, 3, 4, 5}, []int{sheet[0].Number, sheet[1].Number, sheet[2].Number, sheet[3].Number, sheet[4].Number})
	assert.Equal(t, []int{0, 4, 3, 1, 2}, []int{sheet[0].Next, sheet[1].Next, sheet[2].Next, sheet[3].Next, sheet[4].Next})
	assert.Equal(t, []bool{false, true, false, false, false}, []bool{sheet[0].Most, sheet[1].Most, sheet[2].Most, sheet[3].Most, sheet[4].Most})
	assert.Equal(t, 1, sheet[0].Up)
	assert.Zero(t, sheet[1].Up)
	c.Players[1].Rested = c.Players[3].Rested
	sheet = c.Sheet(ten.Add(2 * time.Minute))
	assert.True(t, sheet[3].Most, "of two who wait as long, who is next")
	assert.False(t, sheet[1].Most)
	first := group(t, 2, 1, Rule{Reps: 5})
	require.NoError(t, first.Jump(0, 2, ten))
	assert.True(t, first.Sheet(ten)[0].Most, "the only one who waits")
	alone := group(t, 1, 1, Rule{Reps: 5})
	assert.False(t, alone.Sheet(ten)[0].Most)
}

// At a station beside the camera: who was there least, then who was beside least,
// then who waits longest.
func TestWhoIsCalledBeside(t *testing.T) {
	c := around(t, 0, []string{"net", "mirror", "putting"}, Rule{Reps: 5})
	for _, beside := range [][]int{{0, 2, 0}, {0, 1, 5}, {0, 1, 3}, {0, 1, 3}} {
		c.Players = append(c.Players, Player{Present: true, Beside: beside, Rested: ten})
	}
	c.Players[2].Rested = ten.Add(time.Minute)
	list := []int{1, 2, 3, 4}
	c.rank(list, 1)
	assert.Equal(t, []int{4, 3, 2, 1}, list)
	list = []int{3, 2, 1, 4}
	c.rank(list, 0)
	assert.Equal(t, []int{3, 2, 1, 4}, list, "before the camera the order of the queue")
	list = []int{2, 3, 4, 1}
	c.rank(list, 2)
	assert.Equal(t, []int{1, 4, 3, 2}, list)

	one := around(t, 2, []string{"net"}, Rule{Reps: 5})
	n, err := one.MoveOn(ten)
	require.NoError(t, err)
	assert.Equal(t, 2, n, "one station: the next")
	n, err = (&Clinic{Rule: Rule{Reps: 5}, Stations: make([]Station, 2)}).MoveOn(ten)
	assert.ErrorIs(t, err, ErrNobody)
	assert.Zero(t, n)
	three := around(t, 3, []string{"net", "mirror", "putting"}, Rule{Reps: 5})
	require.NoError(t, three.Leave(1, ten))
	n, err = three.Next(0, ten)
	require.NoError(t, err)
	assert.Equal(t, 3, n, "from the last station beside")
	assert.Equal(t, []int{3, 2, 0}, []int{three.Stations[0].Up, three.Stations[1].Up, three.Stations[2].Up})
	require.NoError(t, three.Leave(3, ten))
	n, err = three.Next(0, ten)
	require.NoError(t, err)
	assert.Equal(t, 2, n)
}

// The clinic takes its numbers from the record; the reps made since the call are the reps
// of the turn.
func TestAClinicIsCountedAnewFromTheRecord(t *testing.T) {
	c := group(t, 2, 1, Rule{Reps: 5})
	c.Stations[0].Had = 2
	unsure, placed := rep(drills.InLine, drills.Unsure), rep(drills.InLine, drills.Placed)
	short := rep(drills.Short, drills.Swung)
	require.NoError(t, c.Recount(1, []Made{{false, good}, {true, wide}, {true, wide}, {true, unsure}, {true, placed}, {true, good}, {true, short}}))
	p := c.Players[0]
	assert.Equal(t, drills.Share{Good: 2, Of: 7}, p.Reps)
	assert.Equal(t, drills.Share{Good: 1, Of: 6}, p.Placed, "of those whose manner is known")
	assert.Equal(t, []bool{false, false, false, false, true, false}, p.Recent, "on this rung")
	assert.Equal(t, "inside", p.Wrong)
	assert.Equal(t, 2, p.Wrongs)
	assert.Equal(t, 5, c.Stations[0].Reps)
	require.NoError(t, c.Recount(1, []Made{{true, placed}, {true, wide}, {true, placed}, {true, wide}}))
	assert.Equal(t, "placed", c.Players[0].Wrong, "the first of two that come as often")
	assert.Equal(t, 2, c.Stations[0].Reps)
	require.NoError(t, c.Recount(1, []Made{{true, good}}))
	assert.Equal(t, 0, c.Stations[0].Reps, "one was taken back")
	assert.Equal(t, 0, c.Players[0].Wrongs)
	assert.Empty(t, c.Players[0].Wrong)
	require.NoError(t, c.Recount(2, []Made{{true, good}}))
	assert.Equal(t, 0, c.Stations[0].Reps, "another's reps")
	assert.ErrorContains(t, c.Recount(3, nil), "no player 3")

	// The last twenty are looked at.
	many := make([]Made, 25)
	for i := range many {
		many[i] = Made{true, good}
		if i < 8 {
			many[i].Rep = wide
		}
	}
	require.NoError(t, c.Recount(1, many))
	assert.Len(t, c.Players[0].Recent, 20)
	assert.Equal(t, 3, c.Players[0].Wrongs)
	c = group(t, 1, 1, Rule{Time: time.Hour})
	c.reps(t, 5, wide)
	c.reps(t, 20, good)
	assert.Equal(t, []bool{true, true, true, true, true, true, true, true, true, true, true, true, true, true, true, true, true, true, true, true}, c.Players[0].Recent)
	c.reps(t, 2, unsure)
	assert.Equal(t, drills.Share{Of: 25}, c.Players[0].Placed)
	require.NoError(t, c.Place(1, 4, ""))
	assert.Len(t, c.Players[0].Recent, 20, "the same drill")
	assert.Equal(t, 4, c.Players[0].Rung)
	assert.ErrorContains(t, c.Place(2, 1, "x"), "no player 2")
}

// Somebody is stuck when eight reps or more leave no doubt that fewer than 55 of
// 100 would count, or that a quarter is placed (conventions): the bounds are
// Wilson's (Newcombe 1998), of 2 in 10 up to 0.510, of 3 in 10 up to 0.603; of 6
// in 10 from 0.313, of 5 in 10 from 0.237.
func TestWhoIsStuck(t *testing.T) {
	recent := func(good, of int) (out []bool) {
		for i := range of {
			out = append(out, i < good)
		}
		return out
	}
	for _, c := range []struct {
		p    Player
		want string
	}{
		{Player{Recent: recent(2, 10)}, "only 2 of 10 counted"},
		{Player{Recent: recent(3, 10)}, ""},
		{Player{Recent: recent(0, 7)}, ""},
		{Player{Recent: recent(0, 8)}, "only 0 of 8 counted"},
		{Player{Recent: recent(2, 10), Wrong: "inside", Wrongs: 6}, "6 of 10 inside; 2 of 10 counted"},
		{Player{Recent: recent(3, 10), Wrong: "inside", Wrongs: 6}, ""},
		{Player{Recent: recent(0, 7), Wrong: "inside", Wrongs: 6}, ""},
		{Player{Recent: recent(0, 8), Wrong: "inside", Wrongs: 6}, "6 of 8 inside; 0 of 8 counted"},
		{Player{Placed: drills.Share{Good: 6, Of: 10}}, "6 of 10 placed, not swung"},
		{Player{Placed: drills.Share{Good: 5, Of: 10}}, ""},
		{Player{Placed: drills.Share{Good: 7, Of: 7}}, ""},
		{Player{Placed: drills.Share{Good: 8, Of: 8}}, "8 of 8 placed, not swung"},
	} {
		assert.Equal(t, c.want, stuck(c.p), "%+v", c.p)
	}
}

func TestNamesOfAnyLength(t *testing.T) {
	list, _ := Parse(strings.Repeat("a", 60) + "\n" + strings.Repeat("b", 61))
	require.Len(t, list, 2)
	assert.Len(t, list[0].Name, 60)
	assert.Len(t, list[1].Name, 60)
	list, _ = Parse("left\nAda")
	assert.Equal(t, []Entry{{"Ada", drills.Right}}, list, "a word alone, before any name")
	list, _ = Parse("Ada\tleft")
	assert.Equal(t, []Entry{{"Ada", drills.Left}}, list, "in a column of its own")
}
