package clinic

import (
	"cmp"
	"slices"
	"time"
)

// MoveOn ends the turns at all stations at once and calls players to them: to
// the camera who had the fewest turns there, then to each station beside it
// who was there least. Nobody stays where they were while another could come.
// It returns the number of who is before the camera.
func (c *Clinic) MoveOn(now time.Time) (int, error) {
	if len(c.Stations) == 1 {
		return c.Next(0, now)
	}
	was := make([]int, len(c.Stations))
	for i, s := range c.Stations {
		was[i] = s.Up
		c.vacate(i, now)
	}
	for i := range c.Stations {
		waiting := c.Waiting()
		if len(waiting) == 0 {
			break
		}
		c.rank(waiting, i)
		n := waiting[0]
		if n == was[i] && len(waiting) > 1 {
			n = waiting[1]
		}
		c.call(i, n, now)
	}
	if c.Stations[0].Up == 0 {
		return 0, ErrNobody
	}
	return c.Stations[0].Up, nil
}

// Coming is the number of who is called to the camera next, 0 for nobody else.
func (c *Clinic) Coming(now time.Time) int {
	after := *c
	after.Players, after.Stations = slices.Clone(c.Players), slices.Clone(c.Stations)
	if n, err := after.MoveOn(now); err == nil && n != c.Stations[0].Up {
		return n
	}
	return 0
}

// rank puts those who wait in the order in which a station calls them.
func (c *Clinic) rank(waiting []int, station int) {
	if !c.Stations[station].Beside {
		return // the order of the queue
	}
	slices.SortStableFunc(waiting, func(a, b int) int {
		p, q := &c.Players[a-1], &c.Players[b-1]
		m, n := c.counts(p), c.counts(q)
		if d := cmp.Compare(m[station], n[station]); d != 0 {
			return d
		}
		if d := cmp.Compare(sum(m), sum(n)); d != 0 {
			return d
		}
		return p.Rested.Compare(q.Rested)
	})
}

// counts are a player's turns by station, a copy with a place for each.
func (c *Clinic) counts(p *Player) []int {
	out := make([]int, len(c.Stations))
	copy(out, p.Beside)
	return out
}

func sum(list []int) (n int) {
	for _, v := range list {
		n += v
	}
	return n
}

// credit counts the turns beside the camera that others had before a player
// came.
func (c *Clinic) credit(p *Player) {
	mine, some := c.counts(p), false
	for i := range mine {
		fewest := -1
		for k := range c.Players {
			if o := &c.Players[k]; o.Present {
				if n := c.counts(o)[i]; fewest < 0 || n < fewest {
					fewest = n
				}
			}
		}
		mine[i] = max(mine[i], fewest)
		some = some || mine[i] > 0
	}
	if some {
		p.Beside = mine
	}
}

// fetch takes a player from a station beside the camera, 0 when nobody is
// there.
func (c *Clinic) fetch(now time.Time) int {
	for i := len(c.Stations) - 1; i >= 0; i-- {
		if s := c.Stations[i]; s.Beside && s.Up > 0 {
			c.vacate(i, now)
			return s.Up
		}
	}
	return 0
}

// swap lets who is at a station beside come before the camera, and who was
// there go where the other was. A turn of less than half its reps is given
// back.
func (c *Clinic) swap(camera, beside int, now time.Time) {
	up, n := c.Stations[camera], c.Stations[beside].Up
	if up.Up > 0 && 2*up.Reps < c.Rule.Reps {
		c.Players[up.Up-1].Turns--
		c.Stations[camera].Reps = max(1, up.Reps) // given back already
	}
	c.vacate(camera, now)
	c.vacate(beside, now)
	c.call(camera, n, now)
	if up.Up > 0 {
		c.call(beside, up.Up, now)
	}
}
