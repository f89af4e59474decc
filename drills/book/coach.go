package book

import (
	"context"
	"slices"
	"time"

	"drillbay/drills"
	"drillbay/drills/ledger"
	"drillbay/drills/pattern"
)

// View tells how a player stands: on the ladder with the club practised last,
// in the pattern of the newest session, and over all sessions.
type View struct {
	Standing drills.Standing
	Pattern  pattern.Pattern
	Progress pattern.Progress
	Last     []pattern.Rep // of the newest session with enough readings
}

// Drills is the ladder that is practised, the coach's own drills with it.
func (b *Book) Drills() drills.Ladder { return b.ladder }

// Faults lists what could not be read, such as drill files or a clinic that was going on, a
// sentence each.
func (b *Book) Faults() []error { return b.faults }

// View works out how a player stands. It is remembered until a rep or a mark
// is added.
func (b *Book) View(player string) View {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.view(player)
}

func (b *Book) view(player string) View {
	if w := b.worked[player]; w.view != nil {
		return *w.view
	}
	reps := b.counted(player)
	looks := b.looks(reps)
	last, earlier := pattern.Latest(looks)
	club := b.standsWith(player)
	beside := b.beside(last, earlier, reps)
	beside.FaceOn = slices.DeleteFunc(pattern.LatestFaceOn(looks), func(r pattern.Rep) bool { return len(last) > 0 && r.Session == last[0].Session })
	v := View{
		Standing: b.ladder.Stand(b.setsOf(player), club), Last: last,
		Pattern: pattern.Of(last, beside), Progress: pattern.ProgressOf(looks),
	}
	w := b.worked[player]
	w.view = &v
	b.worked[player] = w
	return v
}

// Plan is a session of so many minutes for a player.
func (b *Book) Plan(player string, minutes float64, now time.Time) ([]drills.Item, error) {
	v := b.View(player)
	w := drills.Wish{Ladder: b.ladder, Standing: v.Standing, Minutes: minutes, Now: now}
	if d := v.Pattern.Evidence.Drift; d.Found {
		w.DriftFrom = d.After
	}
	if len(v.Pattern.Causes) > 0 {
		w.Cause = &v.Pattern.Causes[0].Cause
	}
	return drills.Plan(w)
}

// PutMark keeps a mark or an answer of the coach's.
func (b *Book) PutMark(ctx context.Context, player string, m ledger.Mark) error {
	b.changes.Lock()
	defer b.changes.Unlock()
	id, err := b.ledger.PutMark(ctx, m)
	if err != nil {
		return err
	}
	m.ID = id
	b.mu.Lock()
	defer b.mu.Unlock()
	b.marks[m.Rep] = append(slices.Clone(b.marks[m.Rep]), m)
	b.changed(player)
	return nil
}
