package book

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"math"

	"drillbay/drills"
	"drillbay/drills/runner"
)

// watchedKey is the setting under which is kept what a coach chose to be watched
// in a drill, in place of what its file says.
func watchedKey(drill string) string { return "watched " + drill }

// watchKept is a watch as it is kept: an end that is left out is open.
type watchKept struct {
	Part string   `json:"part"`
	From *float64 `json:"from,omitempty"`
	To   *float64 `json:"to,omitempty"`
}

// readWatched reads what a coach chose for each drill. What cannot be read is
// told, and the drill's file counts.
func (b *Book) readWatched(ctx context.Context) error {
	b.watched = map[string][]drills.Watch{}
	var faults []error
	for _, d := range append(append([]drills.Drill{}, b.ladder.Rungs...), b.ladder.Beside...) {
		text, err := b.ledger.Setting(ctx, watchedKey(d.ID))
		if err != nil {
			return err
		}
		if text == "" {
			continue
		}
		list, err := watchedOf(text)
		if err != nil {
			faults = append(faults, fmt.Errorf("what you chose to be watched in %q cannot be read, its file counts: %w", d.Name, err))
			continue
		}
		b.watched[d.ID] = list
	}
	b.faults = append(b.faults, faults...)
	return nil
}

func watchedOf(text string) ([]drills.Watch, error) {
	var kept []watchKept
	if err := json.Unmarshal([]byte(text), &kept); err != nil {
		return nil, err
	}
	list := []drills.Watch{}
	for _, k := range kept {
		p, err := drills.ParseBodyPart(k.Part)
		if err != nil {
			return nil, err
		}
		w := drills.Watch{Part: p, Low: math.Inf(-1), High: math.Inf(1)}
		if k.From != nil {
			w.Low = *k.From
		}
		if k.To != nil {
			w.High = *k.To
		}
		if err := w.Check(); err != nil {
			return nil, err
		}
		list = append(list, w)
	}
	if len(list) > drills.MostWatched {
		return nil, errors.New("more than two things")
	}
	return list, nil
}

// watches lists what a drill watches: as the coach chose on the screen, else as
// its file says.
func (b *Book) watches(d drills.Drill) []drills.Watch {
	if list, ok := b.watched[d.ID]; ok {
		return list
	}
	return d.Watched
}

// Watched are the things that a drill watches of the body.
func (b *Book) Watched(drill string) []drills.Watch {
	b.mu.Lock()
	defer b.mu.Unlock()
	d, _ := b.ladder.Drill(drill)
	return b.watches(d)
}

// Watch chooses what a drill watches, drills.MostWatched things at most.
func (b *Book) Watch(drill string, list []drills.Watch) error {
	if len(list) > drills.MostWatched {
		return fmt.Errorf("%d things are watched at most: leave one out, nobody can attend to more at once", drills.MostWatched)
	}
	kept := []watchKept{}
	for _, w := range list {
		if err := w.Check(); err != nil {
			return err
		}
		k := watchKept{Part: w.Part.String()}
		if !math.IsInf(w.Low, 0) {
			k.From = &w.Low
		}
		if !math.IsInf(w.High, 0) {
			k.To = &w.High
		}
		kept = append(kept, k)
	}
	text, err := json.Marshal(kept)
	if err != nil {
		return err
	}
	b.changes.Lock()
	defer b.changes.Unlock()
	if err := b.ledger.PutSetting(context.Background(), watchedKey(drill), string(text)); err != nil {
		return err
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	b.watched[drill] = list
	for _, p := range b.players {
		b.changed(p.ID) // their plans hold drills
	}
	return nil
}

// forRunner gives the session what it needs of a drill, with what is watched in it.
func (b *Book) forRunner(d drills.Drill) runner.Drill {
	r := forRunner(d, len(b.ladder.Rungs))
	r.Watched = drills.WatchedOf(b.watches(d))
	return r
}
