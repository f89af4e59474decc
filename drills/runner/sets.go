package runner

// tally is a set that is not over: which numbers its reps have, and those that
// were told. A rep takes its number when it is caught and keeps it. A number
// is free again when its rep was none, or was taken back: the next one caught
// has it.
type tally struct {
	set   int // from 1
	of    int // reps of a whole one; 0: no end
	taken map[int]bool
	reps  []Done // told, in the order told
}

func newTally(set, of int) *tally { return &tally{set: set, of: of, taken: map[int]bool{}} }

// free is the lowest number that no rep has, 0 when the set is full.
func (t *tally) free() int {
	for n := 1; t.of == 0 || n <= t.of; n++ {
		if !t.taken[n] {
			return n
		}
	}
	return 0
}

// over reports whether all reps of the set were told.
func (t *tally) over() bool { return t.of > 0 && len(t.reps) >= t.of }

// newSet begins a set. What is still to be read of those before keeps its
// place in them.
func (s *session) newSet() {
	s.latest++
	s.sets, s.before, s.setDone = []*tally{newTally(s.latest, s.drill.Reps)}, nil, false
}

// shown is the set that is shown: the first that is not over, or the one that
// was over last.
func (s *session) shown() *tally {
	if len(s.sets) == 0 {
		return newTally(0, 0)
	}
	return s.sets[0]
}

// ofNumber is the set of a number, nil when it is over.
func (s *session) ofNumber(set int) *tally {
	for _, t := range s.sets {
		if t.set == set {
			return t
		}
	}
	return nil
}

// place returns the set of the rep that is caught next: the first set that has a number
// free, or one that follows them all.
func (s *session) place() (t *tally, number int) {
	if !s.setDone {
		for _, t := range s.sets {
			if n := t.free(); n > 0 {
				return t, n
			}
		}
	}
	return newTally(s.latest+1, s.drill.Reps), 1
}

// take gives a rep that was caught its set and its number.
func (s *session) take() (set, number int) {
	if s.setDone {
		s.newSet()
	}
	t, number := s.place()
	if t.set > s.latest {
		s.latest = t.set
		s.sets = append(s.sets, t)
	}
	t.taken[number] = true
	return t.set, number
}

// give makes a number free again, when its rep turned out to be none.
func (s *session) give(set, number int) {
	t := s.ofNumber(set)
	if t == nil {
		return
	}
	delete(t.taken, number)
	switch {
	case t.set != s.latest || len(t.taken) > 0:
	case len(s.sets) > 1: // it was never begun
		s.sets = s.sets[:len(s.sets)-1]
		s.latest--
	case s.before != nil: // what was over is shown again
		s.sets, s.before, s.setDone = []*tally{s.before}, nil, true
		s.latest--
	}
}

// count takes a rep that was told into its set, and tells a set whose last
// reading is in. The one that was begun meanwhile is shown then.
func (s *session) count(d Done) {
	if t := s.ofNumber(d.Set); t != nil && !(s.setDone && t == s.shown()) {
		t.reps = append(t.reps[:len(t.reps):len(t.reps)], d)
	}
	for !s.setDone && s.shown().over() {
		reps := s.shown().reps
		s.tell(Moment{Kind: SetDone, Counted: counted(reps), Of: judged(reps)})
		if len(s.sets) == 1 {
			s.setDone = true
			return
		}
		s.before, s.sets = s.sets[0], s.sets[1:]
	}
}

// uncount takes a rep out of its set again, unless that is over and another is
// shown.
func (s *session) uncount(d Done) {
	t := s.ofNumber(d.Set)
	if t == nil {
		return
	}
	kept := make([]Done, 0, len(t.reps))
	for _, r := range t.reps {
		if r.ID != d.ID {
			kept = append(kept, r)
		}
	}
	t.reps = kept
	delete(t.taken, d.Rep.Number)
	if t == s.shown() {
		s.setDone = false
	}
}

// full reports whether all reps of the shown set were caught.
func (s *session) full() bool { return s.shown().free() == 0 && s.shown().of > 0 }
