package book

import (
	"slices"

	"drillbay/drills"
	"drillbay/drills/ledger"
	"drillbay/drills/pattern"
)

// Set are the reps of a set of a player's session that are on the disk, without
// those taken back, in the order of their numbers; ok is false where nothing is
// stored.
func (b *Book) Set(player, session string, set int) (out []drills.Rep, ok bool) {
	b.mu.Lock()
	defer b.mu.Unlock()
	// Those of a session lie together, the newest last.
	list := b.reps[player]
	for i := len(list) - 1; i >= 0 && (list[i].Session == session || len(list)-i < shownReps); i-- {
		if r := list[i]; r.Session == session && r.Set == set && !r.Taken {
			out = append(out, r.Rep)
		}
	}
	slices.SortStableFunc(out, func(a, b drills.Rep) int { return a.Number - b.Number })
	return out, true
}

// setsOf are the sets of a player's reps, in the order they ended. A mixed set comes as
// the reps of each of its drills, and then as a whole: a set of the ladder's
// mixed practice.
func (b *Book) setsOf(player string) []drills.Set {
	w := b.worked[player]
	if w.sets == nil {
		w.sets = b.workedSets(player)
		b.worked[player] = w
	}
	return w.sets
}

func (b *Book) workedSets(player string) []drills.Set {
	mixed := b.mixedDrill()
	type key struct {
		session, drill string
		number         int
		whole          bool
	}
	index := map[key]int{}
	var out []drills.Set
	put := func(k key, r ledger.Record) {
		i, ok := index[k]
		if !ok {
			i = len(out)
			index[k] = i
			out = append(out, drills.Set{Drill: k.drill, Club: b.clubOf(r), Kind: r.Kind, Began: r.At})
		}
		s := &out[i]
		s.Ended = r.At
		s.Reps = append(s.Reps, r.Counts())
	}
	for _, r := range b.counted(player) {
		if r.Rep.FaceOn() {
			continue // it says nothing of the line, for or against
		}
		put(key{r.Session, r.Drill, r.Set, false}, r)
		if r.Kind == drills.Mixed && mixed != "" && r.Drill != mixed {
			put(key{r.Session, mixed, r.Set, true}, r)
		}
	}
	slices.SortStableFunc(out, func(a, b drills.Set) int {
		if d := a.Ended.Compare(b.Ended); d != 0 {
			return d
		}
		return len(a.Reps) - len(b.Reps) // the whole after its last part
	})
	return out
}

// mixedDrill is the ladder's mixed practice, "" without one.
func (b *Book) mixedDrill() string {
	if i := b.ladder.Mixed(); i >= 0 {
		return b.ladder.Rungs[i].ID
	}
	return ""
}

// looks are reps as patterns see them, with the coach's marks on them.
func (b *Book) looks(reps []ledger.Record) []pattern.Rep {
	out := make([]pattern.Rep, len(reps))
	for i, r := range reps {
		p := pattern.Rep{Rep: r.Rep, Drill: r.Drill, Session: r.Session, Kind: r.Kind, At: r.At}
		if d, ok := b.ladder.Drill(r.Drill); ok {
			p.Form = d.Form
		}
		if r.Coach != "" {
			p.Coach, _ = drills.ParseVerdict(r.Coach)
		}
		for _, m := range b.marks[r.ID] {
			switch m.Kind {
			case ledger.FaceMark:
				p.Face = faceOf(m, r.Player.Hand)
			case ledger.ShoulderMark:
				p.Shoulder = drills.Reading{Value: underOf(m), Sigma: shoulderSigma}
			}
		}
		p.Coached = ledger.Coached(b.marks[r.ID])
		p.Body = p.Body.With(p.Coached)
		if p.Coached[drills.HandsUnder].Known() {
			p.Shoulder = drills.Reading{} // the same tap, read with all that the picture shows
		}
		out[i] = p
	}
	return out
}

// faceOf reads a mark: its word, or its points (heel, toe, hip, neck).
func faceOf(m ledger.Mark, hand drills.Hand) drills.Face {
	if m.Value != "" {
		f, _ := drills.ParseFace(m.Value)
		return f
	}
	if points(m, 4) == nil {
		return drills.Unmarked // rubbed out
	}
	dot := func(i int) drills.Pixel { return drills.Pixel{X: m.Points[i][0], Y: m.Points[i][1]} }
	f, _ := drills.FaceOf(dot(0), dot(1), dot(2), dot(3), hand, 0)
	return f
}

// beside gathers what is known in addition to the reps of a session; of the coach's
// answers, the last ones given.
func (b *Book) beside(last, earlier []pattern.Rep, reps []ledger.Record) pattern.Beside {
	a := pattern.Beside{Earlier: earlier, Bands: map[drills.BodyPart]drills.Watch{}}
	if len(last) == 0 {
		return a
	}
	for _, r := range reps {
		if r.Session != last[0].Session {
			continue
		}
		a.Band = r.Band
		if d, ok := b.ladder.Drill(r.Drill); ok {
			for _, w := range b.watches(d) {
				a.Bands[w.Part] = w
			}
		}
		for _, m := range b.marks[r.ID] {
			switch m.Kind {
			case ledger.FaceAnswer:
				a.Face, _ = drills.ParseFace(m.Value)
			case ledger.RiseAnswer:
				a.Rise = map[string]pattern.Rise{"soon": pattern.RisesSoon, "late": pattern.RisesLate, "never": pattern.NeverHigh}[m.Value]
			}
		}
	}
	return a
}
