package drills

import (
	"cmp"
	"fmt"
	"slices"
)

// Ladder are the rungs, the first one first; Check is the list that is ticked
// before, Beside are drills that are on no rung.
type Ladder struct {
	Check  *Drill
	Rungs  []Drill
	Beside []Drill
}

// NewLadder puts drills in order. A later drill replaces one with its id; of
// equal rungs the later one comes later. Rungs are numbered anew from 1.
func NewLadder(list []Drill) (Ladder, error) {
	var l Ladder
	for i, d := range list {
		if slices.ContainsFunc(list[i+1:], func(later Drill) bool { return later.ID == d.ID }) {
			continue
		}
		switch {
		case d.Form == FormCheck:
			l.Check = &d
		case d.Rung > 0:
			l.Rungs = append(l.Rungs, d)
		default:
			l.Beside = append(l.Beside, d)
		}
	}
	if len(l.Rungs) == 0 {
		return Ladder{}, fmt.Errorf("no drill has a rung: give one of them rung: 1")
	}
	slices.SortStableFunc(l.Rungs, func(a, b Drill) int { return cmp.Compare(a.Rung, b.Rung) })
	for i := range l.Rungs {
		l.Rungs[i].Rung = i + 1
	}
	return l, nil
}

// Find is the place of a drill on the ladder, −1 when it has none.
func (l Ladder) Find(id string) int {
	return slices.IndexFunc(l.Rungs, func(d Drill) bool { return d.ID == id })
}

// Drill is a drill of the ladder or beside it.
func (l Ladder) Drill(id string) (Drill, bool) {
	for _, list := range [][]Drill{l.Rungs, l.Beside} {
		for _, d := range list {
			if d.ID == id {
				return d, true
			}
		}
	}
	return Drill{}, false
}

// Mixed is the rung of mixed practice, −1 without one.
func (l Ladder) Mixed() int {
	return slices.IndexFunc(l.Rungs, func(d Drill) bool { return d.Form == FormMixed })
}

// Ordinary is the highest rung of swings from address at a ball, the one that
// is tested on a later day; −1 without one.
func (l Ladder) Ordinary() int {
	for i := len(l.Rungs) - 1; i >= 0; i-- {
		if d := l.Rungs[i]; d.Form == FormOrdinary && d.Ball && !d.MovingStart {
			return i
		}
	}
	return -1
}

// For is the lowest rung that works on a cause; ok is false without one.
func (l Ladder) For(c Cause) (d Drill, ok bool) {
	for _, list := range [][]Drill{l.Rungs, l.Beside} {
		for _, d := range list {
			if slices.Contains(d.WorksOn, c) {
				return d, true
			}
		}
	}
	return Drill{}, false
}
