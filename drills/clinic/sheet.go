package clinic

import (
	"fmt"
	"time"

	"drillbay/drills"
)

// Line is a player's line on the coach's sheet.
type Line struct {
	Number int
	Player Player
	Up     int           // station, from 1; 0: not up
	Next   int           // place in the queue, from 1; 0: not waiting
	Waits  time.Duration // since the last turn, 0 when not waiting
	Stuck  string        // why the player needs the coach, "" when not
	Most   bool          // waits longest
}

// Sheet is the whole group, by number.
func (c *Clinic) Sheet(now time.Time) []Line {
	out := make([]Line, len(c.Players))
	for i, p := range c.Players {
		out[i] = Line{Number: i + 1, Player: p, Stuck: stuck(p)}
	}
	for i, s := range c.Stations {
		if s.Up > 0 {
			out[s.Up-1].Up = i + 1
		}
	}
	longest := -1
	for i, n := range c.Waiting() {
		l := &out[n-1]
		l.Next, l.Waits = i+1, now.Sub(l.Player.Rested)
		if longest < 0 || l.Waits > out[longest].Waits {
			longest = n - 1
		}
	}
	if longest >= 0 {
		out[longest].Most = true
	}
	return out
}

// Fewest reps from which somebody is called stuck.
const fewest = 8

// stuckShare is the share that a player on the right rung makes more often
// than not; placedShare one of placed reps that is a habit (both conventions).
const stuckShare, placedShare = 0.55, 0.25

// stuck says why a player needs the coach, with the numbers.
func stuck(p Player) string {
	recent := drills.Counted(p.Recent)
	switch {
	case recent.Of >= fewest && recent.High() < stuckShare && p.Wrong != "":
		return fmt.Sprintf("%d of %d %s; %s counted", p.Wrongs, recent.Of, p.Wrong, recent)
	case recent.Of >= fewest && recent.High() < stuckShare:
		return fmt.Sprintf("only %s counted", recent)
	case p.Placed.Of >= fewest && p.Placed.Low() > placedShare:
		return fmt.Sprintf("%s placed, not swung", p.Placed)
	}
	return ""
}
