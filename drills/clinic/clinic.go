// Package clinic shares stations among a group: whose turn it is, who is
// next, who needs the coach. A clinic is a plain value that can be stored as
// JSON at any moment and gone on with.
package clinic

import (
	"errors"
	"fmt"
	"slices"
	"time"

	"drillbay/drills"
)

// Clinic is a group at practice.
type Clinic struct {
	Began    time.Time
	Rule     Rule
	Players  []Player  // in the order of the roster; their number is their place, from 1
	Stations []Station // by place
}

// Rule says when a turn is over: after so many reps, or after so long; the one that is 0
// does not end it.
type Rule struct {
	Reps int
	Time time.Duration
}

// Player is one of the group.
type Player struct {
	ID, Name string
	Hand     drills.Hand
	Drill    string // the rung that is theirs
	Rung     int
	Present  bool
	Arrived  time.Time // the last time
	Rested   time.Time // since when they wait; zero: while they are up
	Turns    int       // begun before the camera
	Credit   int       // turns that others had before they came: not to be made up for
	Beside   []int     // turns by place at the stations beside
	Reps     drills.Share
	Placed   drills.Share // of the reps whose manner is known
	Recent   []bool       // the last reps on this rung, did they count
	Wrong    string       // what is wrong with most of those that did not: "inside"
	Wrongs   int          // how many of them
}

// fair is the count by which turns are shared.
func (p Player) fair() int { return p.Turns + p.Credit }

// Station is one place of practice. Up is the number of the player there, 0
// when it is free.
type Station struct {
	Name   string
	Beside bool // no camera is there: its turns end when those before it do
	Up     int
	Since  time.Time
	Had    int // reps of the player before this turn
	Reps   int // of this turn
}

// recentReps are looked at to say who is stuck.
const recentReps = 20

// ErrNobody says that nobody is waiting.
var ErrNobody = errors.New("nobody is waiting: all who are here are up")

// New is a clinic of so many stations, each with a camera.
func New(stations int, rule Rule, now time.Time) (Clinic, error) {
	switch {
	case stations < 1 || stations > 9:
		return Clinic{}, fmt.Errorf("%d stations: 1 to 9 are possible", stations)
	case rule.Reps < 0 || rule.Time < 0 || (rule.Reps == 0 && rule.Time == 0):
		return Clinic{}, errors.New("a turn ends after a number of reps or a time: set one of them")
	}
	return Clinic{Began: now, Rule: rule, Stations: make([]Station, stations)}, nil
}

// At is a clinic of named stations: the camera is at the first one, the others
// are beside it.
func At(names []string, rule Rule, now time.Time) (Clinic, error) {
	c, err := New(len(names), rule, now)
	for i := range c.Stations {
		c.Stations[i].Name, c.Stations[i].Beside = names[i], i > 0
	}
	return c, err
}

// Add puts a player on the roster and returns the number.
func (c *Clinic) Add(p Player, now time.Time) int {
	c.Players = append(c.Players, p)
	n := len(c.Players)
	if p.Present {
		c.Players[n-1].Present = false
		c.Arrive(n, now)
	}
	return n
}

// player is the player of a number.
func (c *Clinic) player(n int) (*Player, error) {
	if n < 1 || n > len(c.Players) {
		return nil, fmt.Errorf("there is no player %d: the roster has %d", n, len(c.Players))
	}
	return &c.Players[n-1], nil
}

// Arrive says that a player is there. Who comes late, or comes back, waits
// from now on and makes up for no turns.
func (c *Clinic) Arrive(n int, now time.Time) error {
	p, err := c.player(n)
	if err != nil || p.Present {
		return err
	}
	fewest := -1
	for _, o := range c.Players {
		if o.Present && (fewest < 0 || o.fair() < fewest) {
			fewest = o.fair()
		}
	}
	p.Credit = max(p.Credit, fewest-p.Turns)
	c.credit(p)
	p.Present, p.Arrived, p.Rested = true, now, now
	return nil
}

// Leave says that a player is gone. Their station is free then; a turn
// without a rep does not count.
func (c *Clinic) Leave(n int, now time.Time) error {
	p, err := c.player(n)
	if err != nil || !p.Present {
		return err
	}
	for i := range c.Stations {
		if c.Stations[i].Up == n {
			c.vacate(i, now)
		}
	}
	p.Present, p.Rested = false, time.Time{}
	return nil
}

// Waiting are the numbers of those who wait, who is next first: fewest turns,
// then longest wait, then place on the roster.
func (c *Clinic) Waiting() []int {
	up := map[int]bool{}
	for _, s := range c.Stations {
		up[s.Up] = true
	}
	var out []int
	for i, p := range c.Players {
		if p.Present && !up[i+1] {
			out = append(out, i+1)
		}
	}
	slices.SortStableFunc(out, func(a, b int) int {
		p, q := c.Players[a-1], c.Players[b-1]
		if d := p.fair() - q.fair(); d != 0 {
			return d
		}
		return p.Rested.Compare(q.Rested)
	})
	return out
}

// Next ends the turn at a station and calls the next player there: the
// number. With nobody waiting the same player goes on, with a new turn.
func (c *Clinic) Next(station int, now time.Time) (int, error) {
	if err := c.at(station); err != nil {
		return 0, err
	}
	waiting := c.Waiting()
	n := c.Stations[station].Up
	if len(waiting) > 0 {
		c.rank(waiting, station)
		n = waiting[0]
	} else if n == 0 && !c.Stations[station].Beside {
		n = c.fetch(now) // the camera comes first
	}
	if n == 0 {
		return 0, ErrNobody
	}
	c.vacate(station, now)
	c.call(station, n, now)
	return n, nil
}

// Jump calls a player out of turn. Who was up goes back to the queue; a turn
// of less than half its reps is given back.
func (c *Clinic) Jump(station, n int, now time.Time) error {
	if err := c.at(station); err != nil {
		return err
	}
	p, err := c.player(n)
	switch {
	case err != nil:
		return err
	case !p.Present:
		return fmt.Errorf("%s is not here", p.Name)
	case c.Stations[station].Up == n:
		return nil
	}
	for i, s := range c.Stations {
		switch {
		case s.Up != n:
		case s.Beside:
			c.swap(station, i, now)
			return nil
		default:
			return fmt.Errorf("%s is up at station %d", p.Name, i+1)
		}
	}
	if s := c.Stations[station]; s.Up > 0 && 2*s.Reps < c.Rule.Reps {
		c.Players[s.Up-1].Turns--
		c.Stations[station].Reps = max(1, s.Reps) // given back already
	}
	c.vacate(station, now)
	c.call(station, n, now)
	return nil
}

// Fill calls players to all free stations and returns their numbers by
// station, 0 where nobody came.
func (c *Clinic) Fill(now time.Time) []int {
	out := make([]int, len(c.Stations))
	for i, s := range c.Stations {
		if s.Up == 0 {
			out[i], _ = c.Next(i, now)
		}
	}
	return out
}

func (c *Clinic) at(station int) error {
	if station < 0 || station >= len(c.Stations) {
		return fmt.Errorf("there is no station %d: there are %d", station+1, len(c.Stations))
	}
	return nil
}

// vacate sends who is up back to the queue.
func (c *Clinic) vacate(station int, now time.Time) {
	s := &c.Stations[station]
	if s.Up == 0 {
		return
	}
	p := &c.Players[s.Up-1]
	p.Rested = now
	if s.Reps == 0 && !s.Beside {
		p.Turns-- // it was none
	}
	s.Up, s.Since, s.Had, s.Reps = 0, time.Time{}, 0, 0
}

func (c *Clinic) call(station, n int, now time.Time) {
	p, s := &c.Players[n-1], &c.Stations[station]
	if s.Beside {
		p.Beside = c.counts(p)
		p.Beside[station]++
	} else {
		p.Turns++
	}
	p.Rested = time.Time{}
	s.Up, s.Since, s.Had, s.Reps = n, now, p.Reps.Of, 0
}

// Rep takes a rep of who is up at a station, and reports whether the turn is
// over.
func (c *Clinic) Rep(station int, r drills.Rep, now time.Time) (over bool, err error) {
	if err := c.at(station); err != nil {
		return false, err
	}
	s := &c.Stations[station]
	switch {
	case s.Up == 0:
		return false, fmt.Errorf("nobody is up at station %d", station+1)
	case s.Beside:
		return false, fmt.Errorf("there is no camera at station %d", station+1)
	}
	s.Reps++
	p := &c.Players[s.Up-1]
	one := func(good bool) drills.Share { return drills.Counted([]bool{good}) }
	p.Reps = p.Reps.Add(one(r.Counts()))
	if r.Manner != drills.Unsure {
		p.Placed = p.Placed.Add(one(r.Manner == drills.Placed))
	}
	p.Recent = append(slices.Clone(p.Recent), r.Counts())
	p.Recent = p.Recent[max(0, len(p.Recent)-recentReps):]
	return c.Over(station, now), nil
}

// Made is one rep that a player of the group made.
type Made struct {
	Here bool // on the rung that is theirs now
	Rep  drills.Rep
}

// Recount has what the clinic knows of a player's reps be that of these, oldest
// first: those that the record holds, none that was taken back. Those that came
// since the player was called are the reps of the turn.
func (c *Clinic) Recount(n int, list []Made) error {
	p, err := c.player(n)
	if err != nil {
		return err
	}
	one := func(good bool) drills.Share { return drills.Counted([]bool{good}) }
	p.Reps, p.Placed, p.Recent, p.Wrong, p.Wrongs = drills.Share{}, drills.Share{}, nil, "", 0
	var wrong []string
	for _, m := range list {
		p.Reps = p.Reps.Add(one(m.Rep.Counts()))
		if m.Rep.Manner != drills.Unsure {
			p.Placed = p.Placed.Add(one(m.Rep.Manner == drills.Placed))
		}
		if m.Here {
			p.Recent = append(p.Recent, m.Rep.Counts())
			wrong = append(wrong, fault(m.Rep))
		}
	}
	for i, s := range c.Stations {
		if s.Up == n && !s.Beside {
			c.Stations[i].Reps = max(p.Reps.Of-s.Had, 0)
		}
	}
	p.Recent = p.Recent[max(0, len(p.Recent)-recentReps):]
	times := map[string]int{}
	for _, w := range wrong[max(0, len(wrong)-recentReps):] {
		if times[w]++; w != "" && times[w] > p.Wrongs {
			p.Wrong, p.Wrongs = w, times[w]
		}
	}
	return nil
}

// fault says why a rep does not count, "" where it does.
func fault(r drills.Rep) string {
	switch {
	case r.Counts():
		return ""
	case r.Verdict != drills.InLine:
		return r.Verdict.String()
	}
	return r.Manner.String()
}

// Over reports whether the turn at a station is over. It says so between reps
// only: who asks sees to it that nobody is called away in a swing.
func (c *Clinic) Over(station int, now time.Time) bool {
	s := c.Stations[station]
	return s.Up > 0 && ((c.Rule.Reps > 0 && s.Reps >= c.Rule.Reps) || (c.Rule.Time > 0 && now.Sub(s.Since) >= c.Rule.Time))
}

// Place puts a player on a rung; what counted on another one says nothing
// about it.
func (c *Clinic) Place(n, rung int, drill string) error {
	p, err := c.player(n)
	if err != nil {
		return err
	}
	if p.Drill != drill {
		p.Recent = nil
	}
	p.Drill, p.Rung = drill, rung
	return nil
}
