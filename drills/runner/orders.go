package runner

import "drillbay/drills"

// order carries out a command.
func (s *session) order(c Command) {
	s.changed = true
	switch c.Do {
	case Begin:
		s.finish()
		s.id, s.player, s.bay, s.paused = s.o.NewID(), c.Player, c.Bay, false
		s.ready = false
		s.all, s.latest, s.drill, s.mix = nil, 0, c.Drill, c.Order
		s.records = map[string]Record{}
		s.newSet()
		s.setBeat(c.Drill.Beat)
		s.tell(Moment{Kind: Began})
	case Ready:
		s.ready = true
		if s.running() && len(s.mix) > 0 {
			s.tell(Moment{Kind: DrillChanged}) // which one is first
		}
	case Enough:
		s.ready = false
	case Finish:
		s.finish()
	case Pause:
		s.pause()
	case Change:
		s.drill, s.mix = c.Drill, c.Order
		s.newSet()
		s.setBeat(c.Drill.Beat)
		s.tell(Moment{Kind: DrillChanged})
	case NewSet:
		s.newSet()
		s.turnTo()
	case Say:
		if n := len(s.all); n > 0 {
			s.tell(Moment{Kind: RepAgain, Rep: s.all[n-1]})
		}
	case TakeBack:
		s.takeBack()
	case LookBack:
		if s.current != nil {
			s.show(s.current)
			s.look.Stays = s.look.On
		}
	case LookOn:
		s.look.On = false
	case Stay:
		s.look.Stays = s.look.On
	case Tempo:
		if c.Number > 0 {
			s.setBeat(c.Number)
		} else {
			s.beat.On = !s.beat.On && s.beat.Rate > 0
			s.beat.Zero = s.now
			s.tell(Moment{Kind: BeatChanged, Beat: s.beat})
		}
	case BeatStart:
		s.beat.Zero = c.Number
	case Mark:
		s.mark(c)
	}
}

func (s *session) finish() {
	if !s.running() {
		return
	}
	s.tell(Moment{Kind: Ended, Counted: counted(s.all), Of: len(s.all)})
	s.id, s.look.On, s.beat.On = "", false, false
	s.clear("bumped")
}

func (s *session) pause() {
	if !s.running() {
		return
	}
	s.paused = !s.paused
	if s.paused {
		s.tell(Moment{Kind: Paused})
		return
	}
	s.tell(Moment{Kind: GoneOn})
}

// setBeat goes on in step where the rate stays: so does what is heard.
func (s *session) setBeat(rate float64) {
	zero := s.now
	if rate == s.beat.Rate {
		zero = s.beat.Zero
	}
	s.beat = Beat{On: rate > 0, Rate: rate, Zero: zero, Whole: s.drill.Kind == Ordinary}
	s.tell(Moment{Kind: BeatChanged, Beat: s.beat})
}

// takeBack strikes the last rep out of the set; it stays on record, marked.
func (s *session) takeBack() {
	n := len(s.all)
	if n == 0 {
		return
	}
	d := s.all[n-1]
	s.all = s.all[: n-1 : n-1]
	s.uncount(d)
	if s.best.id == d.ID {
		s.best.loop.Release()
		s.best = compare{}
	}
	r := s.records[d.ID]
	r.Taken = true
	s.queue(&job{record: r})
	s.tell(Moment{Kind: RepTaken, Rep: d})
	s.turnTo()
}

// mark puts the coach's marks on a rep.
func (s *session) mark(c Command) {
	r, ok := s.records[c.ID]
	if !ok {
		return
	}
	if c.Coach != "" {
		if _, err := drills.ParseVerdict(c.Coach); err != nil {
			return
		}
	}
	r.Coach, r.Note, r.Kept = c.Coach, c.Note, c.Kept
	s.queue(&job{record: r})
	s.put(c.ID, func(d *Done) { d.Coach, d.Note, d.Kept = c.Coach, c.Note, c.Kept })
}
