package drills

import (
	"cmp"
	"fmt"
	"slices"
)

// Club is one of a player's clubs, its length in metres.
type Club struct {
	Name   string
	Length float64
}

// Longer is the next longer club of a list, ok is false for the longest and
// for one that is not in it.
func Longer(list []Club, name string) (next Club, ok bool) {
	list = slices.Clone(list)
	slices.SortStableFunc(list, func(a, b Club) int { return cmp.Compare(a.Length, b.Length) })
	i := slices.IndexFunc(list, func(c Club) bool { return c.Name == name })
	if i < 0 {
		return Club{}, false
	}
	for _, c := range list[i+1:] {
		if c.Length > list[i].Length {
			return c, true
		}
	}
	return Club{}, false
}

// Offer is the next longer club of a player's list, and why: short irons come
// first, and verdicts are kept per club, so that a rung that is passed with one
// club is to be passed with the next. It is offered once the rung where the
// player stands with the longer club is passed with the shorter one.
func (l Ladder) Offer(sets []Set, list []Club, club string) (next Club, why string, ok bool) {
	if next, ok = Longer(list, club); !ok {
		return Club{}, "", false
	}
	short, long := l.Stand(sets, club), l.Stand(sets, next.Name)
	i := long.Here
	if !short.Rungs[i].Passed || long.Rungs[i].Passed {
		return Club{}, "", false
	}
	share := short.Rungs[i].Last
	for _, d := range slices.Backward(short.Said) {
		if d.Drill == l.Rungs[i].ID && d.Outcome == Passed {
			share = d.Share
			break
		}
	}
	return next, fmt.Sprintf("Rung %d is passed with this club, %s (%s in line and swung). The next longer club of the list is %s, %.0f cm: it begins on rung %d.",
		l.Rungs[i].Rung, club, share, next.Name, next.Length*100, l.Rungs[i].Rung), true
}
