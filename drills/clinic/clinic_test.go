package clinic

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drillbay/drills"
)

var ten = time.Date(2026, 3, 7, 10, 0, 0, 0, time.UTC)

func group(t testing.TB, n, stations int, rule Rule) Clinic {
	t.Helper()
	c, err := New(stations, rule, ten)
	require.NoError(t, err)
	for i := range n {
		c.Add(Player{ID: fmt.Sprint(i), Name: fmt.Sprintf("Player %d", i+1), Present: true}, ten)
	}
	c.Fill(ten)
	return c
}

func rep(v drills.Verdict, m drills.Manner) drills.Rep { return drills.Rep{Verdict: v, Manner: m} }

// hour lives a clinic for 60 minutes; each look at it may change it.
func hour(t testing.TB, c *Clinic, dice *rand.Rand, look func(minute int, now time.Time)) {
	t.Helper()
	due := make([]time.Time, len(c.Stations))
	for i := range due {
		due[i] = ten.Add(time.Duration(dice.IntN(20)) * time.Second)
	}
	for second := range 3600 {
		now := ten.Add(time.Duration(second) * time.Second)
		if second%60 == 0 && look != nil {
			look(second/60, now)
			c.Fill(now)
		}
		for i := range c.Stations {
			if now.Before(due[i]) || c.Stations[i].Up == 0 {
				continue
			}
			over, err := c.Rep(i, rep(drills.InLine, drills.Swung), now)
			require.NoError(t, err)
			due[i] = now.Add(time.Duration(12+dice.IntN(20)) * time.Second)
			if over {
				_, err := c.Next(i, now)
				require.NoError(t, err)
				due[i] = due[i].Add(20 * time.Second) // to walk up
			}
		}
	}
}

func spread(c Clinic, of func(Player) bool) (least, most int) {
	least, most = 1<<30, 0
	for _, p := range c.Players {
		if of(p) {
			least, most = min(least, p.fair()), max(most, p.fair())
		}
	}
	return least, most
}

func TestTwelvePlayersInAnHour(t *testing.T) {
	for name, rule := range map[string]Rule{"by reps": {Reps: 5}, "by time": {Time: 2 * time.Minute}, "whichever is first": {Reps: 6, Time: 3 * time.Minute}} {
		for stations := 1; stations <= 3; stations++ {
			t.Run(fmt.Sprintf("%s, %d stations", name, stations), func(t *testing.T) {
				for seed := range uint64(20) {
					c := group(t, 12, stations, rule)
					hour(t, &c, rand.New(rand.NewPCG(seed, 1)), nil)
					least, most := spread(c, func(Player) bool { return true })
					require.LessOrEqual(t, most-least, 1, "turns of %d to %d", least, most)
					require.Greater(t, least, 0)
				}
			})
		}
	}
}

// Late arrivals, leavers, one who comes back, and a coach who jumps: who is
// there shares the turns from when they came.
func TestComingAndGoing(t *testing.T) {
	for seed := range uint64(30) {
		dice := rand.New(rand.NewPCG(seed, 2))
		c := group(t, 10, 2, Rule{Reps: 5})
		hour(t, &c, dice, func(minute int, now time.Time) {
			switch minute {
			case 12:
				c.Add(Player{Name: "Late", Present: true}, now)
			case 20:
				require.NoError(t, c.Leave(3, now))
			case 25:
				require.NoError(t, c.Leave(7, now))
				c.Add(Player{Name: "Later", Present: true}, now)
			case 40:
				require.NoError(t, c.Arrive(3, now))
			}
		})
		least, most := spread(c, func(p Player) bool { return p.Present })
		require.LessOrEqual(t, most-least, 1, "seed %d", seed)
		late := c.Players[10]
		require.Equal(t, "Late", late.Name)
		require.Less(t, late.Turns, most, "does not make up for what was before")
	}
}

// A laptop that is started again at any minute goes on as if it had not been.
func TestRestartedHalfWay(t *testing.T) {
	whole, broken := group(t, 12, 2, Rule{Reps: 5}), group(t, 12, 2, Rule{Reps: 5})
	hour(t, &whole, rand.New(rand.NewPCG(1, 3)), nil)
	hour(t, &broken, rand.New(rand.NewPCG(1, 3)), func(int, time.Time) {
		text, err := json.Marshal(broken)
		require.NoError(t, err)
		broken = Clinic{}
		require.NoError(t, json.Unmarshal(text, &broken))
	})
	assert.Equal(t, whole, broken)
}

func TestTheCoachJumps(t *testing.T) {
	c := group(t, 4, 1, Rule{Reps: 5})
	require.Equal(t, 1, c.Stations[0].Up)
	_, err := c.Rep(0, rep(drills.InLine, drills.Swung), ten)
	require.NoError(t, err)
	require.NoError(t, c.Jump(0, 4, ten))
	require.Equal(t, 4, c.Stations[0].Up)
	assert.Equal(t, 0, c.Players[0].Turns, "one of five reps: the turn is given back")
	for range 5 {
		_, err = c.Rep(0, rep(drills.InLine, drills.Swung), ten)
		require.NoError(t, err)
	}
	n, err := c.Next(0, ten.Add(time.Minute))
	require.NoError(t, err)
	assert.NotEqual(t, 4, n, "who had a turn waits")
	assert.ErrorContains(t, c.Jump(0, 9, ten), "no player 9")
	require.NoError(t, c.Leave(4, ten))
	assert.ErrorContains(t, c.Jump(0, 4, ten), "not here")
}

func TestWithFewPeople(t *testing.T) {
	c := group(t, 0, 2, Rule{Reps: 5})
	_, err := c.Next(0, ten)
	assert.ErrorIs(t, err, ErrNobody)
	c.Add(Player{Name: "Ada", Present: true}, ten)
	assert.Equal(t, []int{1, 0}, c.Fill(ten))
	_, err = c.Rep(0, rep(drills.InLine, drills.Swung), ten)
	require.NoError(t, err)
	n, err := c.Next(0, ten)
	require.NoError(t, err)
	assert.Equal(t, 1, n, "alone, one goes on")
	require.NoError(t, c.Leave(1, ten))
	assert.Zero(t, c.Stations[0].Up)
	_, err = c.Rep(0, drills.Rep{}, ten)
	assert.ErrorContains(t, err, "nobody is up")
	_, err = c.Rep(5, drills.Rep{}, ten)
	assert.ErrorContains(t, err, "no station 6")
	_, err = New(0, Rule{Reps: 5}, ten)
	assert.Error(t, err)
	_, err = New(1, Rule{}, ten)
	assert.Error(t, err)
}

func TestTheCoachsView(t *testing.T) {
	c := group(t, 3, 1, Rule{Reps: 10})
	require.NoError(t, c.Place(1, 2, "lead-arm-strike"))
	for i := range 10 {
		v := drills.Inside
		if i < 2 {
			v = drills.InLine
		}
		_, err := c.Rep(0, rep(v, drills.Swung), ten)
		require.NoError(t, err)
	}
	_, err := c.Next(0, ten.Add(3*time.Minute))
	require.NoError(t, err)
	for range 10 {
		_, err := c.Rep(0, rep(drills.InLine, drills.Placed), ten)
		require.NoError(t, err)
	}
	sheet := c.Sheet(ten.Add(5 * time.Minute))
	assert.Equal(t, "only 2 of 10 counted", sheet[0].Stuck)
	assert.Equal(t, 2*time.Minute, sheet[0].Waits)
	assert.Equal(t, 2, sheet[0].Player.Rung)
	assert.Equal(t, 1, sheet[1].Up)
	assert.Contains(t, sheet[1].Stuck, "0 of 10 counted", "a placed rep never counts")
	assert.True(t, sheet[2].Most)
	assert.Equal(t, 5*time.Minute, sheet[2].Waits)
	assert.Equal(t, 1, sheet[2].Next)
	require.NoError(t, c.Place(1, 1, "lead-arm-catch"))
	assert.Empty(t, c.Sheet(ten)[0].Stuck, "another rung, another count")
}

func TestAPastedList(t *testing.T) {
	list, doubles := Parse("1. Ada Berg\r\n2) Bo (L)\n- Cy, left-handed\n\n\t•  Dee   Ö. ;Eli;ada berg\n#\n12\nLeft\u200b\n=1+1")
	assert.Equal(t, []Entry{{"Ada Berg", drills.Right}, {"Bo", drills.Left}, {"Cy", drills.Left}, {"Dee Ö.", drills.Right}, {"Eli", drills.Left}}, list)
	assert.Equal(t, []string{"ada berg"}, doubles)
}

func FuzzParse(f *testing.F) {
	f.Add("1. Ada\nBo (L)")
	f.Fuzz(func(t *testing.T, text string) {
		list, _ := Parse(text)
		for _, e := range list {
			require.NotEmpty(t, e.Name)
			require.LessOrEqual(t, len([]rune(e.Name)), longestName)
		}
	})
}
