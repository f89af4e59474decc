package clinic

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"drillbay/drills"
)

func around(t *testing.T, n int, names []string, rule Rule) Clinic {
	t.Helper()
	c, err := At(names, rule, ten)
	require.NoError(t, err)
	for i := range n {
		c.Add(Player{ID: fmt.Sprint(i), Name: fmt.Sprintf("Player %d", i+1), Present: true}, ten)
	}
	c.Fill(ten)
	return c
}

// round lives an hour in which all move on when the turn before the camera is
// over. Each look may change the clinic.
func round(t *testing.T, c *Clinic, dice *rand.Rand, look func(minute int, now time.Time)) {
	t.Helper()
	due := ten
	for second := range 3600 {
		now := ten.Add(time.Duration(second) * time.Second)
		if second%60 == 0 && look != nil {
			look(second/60, now)
			c.Fill(now)
		}
		if now.Before(due) || c.Stations[0].Up == 0 {
			continue
		}
		over, err := c.Rep(0, rep(drills.InLine, drills.Swung), now)
		require.NoError(t, err)
		due = now.Add(time.Duration(12+dice.IntN(20)) * time.Second)
		if over {
			coming, was := c.Coming(now), c.Stations[0].Up
			n, err := c.MoveOn(now)
			require.NoError(t, err)
			require.NotEqual(t, was, n)
			require.Equal(t, coming, n, "who was announced")
		}
	}
}

func TestAllMoveOnTogetherAndFairly(t *testing.T) {
	for name, rule := range map[string]Rule{"by reps": {Reps: 5}, "by time": {Time: 2 * time.Minute}} {
		for _, stations := range [][]string{{"net", "mirror"}, {"a", "b", "c"}, {"a", "b", "c", "d", "e", "f"}} {
			for seed := range uint64(10) {
				c := around(t, 12, stations, rule)
				round(t, &c, rand.New(rand.NewPCG(seed, 4)), nil)
				least, most := spread(c, func(Player) bool { return true })
				require.LessOrEqual(t, most-least, 1, "%s at %q: turns before the camera of %d to %d", name, stations, least, most)
				require.Positive(t, least)
				for i := 1; i < len(stations); i++ {
					fewest, most := 1<<30, 0
					for k := range c.Players {
						n := c.counts(&c.Players[k])[i]
						fewest, most = min(fewest, n), max(most, n)
					}
					require.LessOrEqual(t, most-fewest, 2, "%s at %q: turns at %s of %d to %d", name, stations, stations[i], fewest, most)
				}
			}
		}
	}
}

func TestStationsWithLateComersLeaversAndARestart(t *testing.T) {
	for seed := range uint64(20) {
		c := around(t, 9, []string{"a", "b", "c"}, Rule{Reps: 5})
		round(t, &c, rand.New(rand.NewPCG(seed, 5)), func(minute int, now time.Time) {
			switch minute {
			case 15:
				c.Add(Player{Name: "Late", Present: true}, now)
			case 20:
				require.NoError(t, c.Leave(4, now))
			case 35:
				require.NoError(t, c.Arrive(4, now))
			}
			text, err := json.Marshal(c)
			require.NoError(t, err)
			c = Clinic{}
			require.NoError(t, json.Unmarshal(text, &c))
		})
		least, most := spread(c, func(p Player) bool { return p.Present })
		require.LessOrEqual(t, most-least, 1, "seed %d", seed)
		require.Less(t, c.Players[9].Turns, most, "does not make up for what was before")
		require.Equal(t, "b", c.Stations[1].Name)
		require.True(t, c.Stations[1].Beside)
	}
}

func TestTheCameraComesFirst(t *testing.T) {
	c := around(t, 2, []string{"a", "b", "c"}, Rule{Reps: 5})
	require.Equal(t, 1, c.Stations[0].Up)
	require.Equal(t, 2, c.Stations[1].Up)
	require.Zero(t, c.Stations[2].Up)
	_, err := c.Rep(1, drills.Rep{}, ten)
	require.ErrorContains(t, err, "no camera")
	require.Equal(t, 2, c.Coming(ten))
	require.NoError(t, c.Leave(1, ten))
	c.Fill(ten)
	require.Equal(t, 2, c.Stations[0].Up, "nobody waits: who is beside comes")
	require.Zero(t, c.Coming(ten))
	n, err := c.MoveOn(ten)
	require.NoError(t, err)
	require.Equal(t, 2, n, "alone, one goes on")
}

func TestWhoIsCalledFromBesideChangesPlaces(t *testing.T) {
	c := around(t, 5, []string{"a", "b"}, Rule{Reps: 6})
	_, err := c.Rep(0, rep(drills.InLine, drills.Swung), ten)
	require.NoError(t, err)
	require.NoError(t, c.Jump(0, 2, ten))
	require.Equal(t, []int{2, 1}, []int{c.Stations[0].Up, c.Stations[1].Up})
	require.Equal(t, 0, c.Players[0].Turns, "one of six reps: the turn is given back")
	require.Equal(t, 1, c.Players[1].Turns)
}
