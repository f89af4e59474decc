package runner

import (
	"math"
	"time"

	"drillbay/camera/frame"
	"drillbay/camera/lookback"
	"drillbay/camera/sight"
)

// Options holds what a runner works with.
type Options struct {
	Ring    *lookback.Ring
	Analyse func(Take) Analysis // the full reading; runs off the runner's goroutine
	// Beside holds the other camera's pictures of a time, s, and says how much
	// later, s, they show the same; nil where there is none.
	Beside  func(from, to float64) (loop *lookback.Loop, later float64)
	Store   Store
	Speaker Speaker
	// Now is the capture clock in seconds, the one that the glances carry.
	Now func() float64
	// Began is the wall time at 0 of the capture clock.
	Began time.Time
	// NewID names sessions and reps; nil: random (UUID version 4).
	NewID func() string
}

const (
	stillMotion = 0.02 // of a glance, under which a picture is still: 6 cm a second
	signalAfter = 0.5  // s without a picture until it is told
	slowAfter   = 1.2  // s after the trigger until a slow reading is told
	retryFirst  = 0.5  // s, then doubled
	retryMost   = 5.0  // s
	strikesKept = 8
)

// session is the state machine of a session. Its methods are called by one
// goroutine, with the time; what is to be done outside is left in out.
type session struct {
	o   Options
	now float64
	out []effect

	id      string
	player  Player
	bay     string
	drill   Drill   // of the rep to come
	mix     []Drill // the drills of a mixed set, rep by rep; empty in a set of one
	holds   bool    // a rep was caught and is not over
	ready   bool    // the cautions were seen
	paused  bool
	phase   sight.Phase
	since   float64
	sets    []*tally // those that are not over, the one that is shown first
	before  *tally   // the one that was over before a rep of the shown one was told
	latest  int      // the number of the set that was begun last
	setDone bool     // the shown one is over
	all     []Done
	records map[string]Record

	reading  []*pending // reps to be read, the first one is being read
	further  int        // reps that are being read by the other camera as well
	saving   []*job     // records to be saved, the first one is being saved
	inFlight bool       // the first of saving is with the store
	tries    int
	retryAt  float64
	hurried  bool     // the end comes: what is not read yet is stored without
	growing  *pending // its loop still lacks the end
	current  *pending // the rep seen last
	look     Lookback
	this     compare
	last     compare
	best     compare
	strikes  []float64
	notices  []Notice
	beat     Beat
	frameAt  float64 // when the last picture came
	counters Counters
	changed  bool
}

// effect is one thing that is to be done outside; exactly one field is set.
type effect struct {
	read    *pending
	further *pending
	save    *job
	tell    *Moment
}

type compare struct {
	id     string
	rep    Done
	loop   *lookback.Loop
	beside *lookback.Loop // of the other camera, which shows the same later, s
	later  float64
}

func newSession(o Options) *session {
	return &session{o: o, frameAt: math.NaN(), since: 0, changed: true, records: map[string]Record{}}
}

func (s *session) running() bool { return s.id != "" }

func (s *session) tell(m Moment) {
	m.At, m.Drill, m.Player = s.now, s.drill, s.player
	s.out = append(s.out, effect{tell: &m})
	s.changed = true
}

// see takes a picture and what was seen in it.
func (s *session) see(p *frame.Picture, g sight.Glance) {
	s.now = max(s.now, g.At)
	s.frameAt = g.At
	s.counters.Frames++
	if p != nil {
		if err := s.o.Ring.Add(p, Still(g)); err != nil {
			s.counters.Refused++
		}
	}
	if s.noticed(NoPicture) {
		s.clear(NoPicture)
	}
	if g.Bumped {
		s.raise("bumped", "The camera was moved.", "Press L and set the lens again.")
	} else if g.Phase == sight.Address {
		s.clear("bumped")
	}
	if g.Phase != s.phase {
		s.enter(g)
	}
	if g.Caught && s.takes() && s.drill.Kind != Ordinary {
		s.tell(Moment{Kind: CatchSeen})
		s.begin(g)
		s.holds = true
	}
	if g.Ended && s.takes() {
		s.end(g)
		s.holds = false
		s.over()
	}
	s.grow()
	s.tick(s.now)
}

// Still reports whether nothing that matters moves in a picture: a ring may thin such
// pictures.
func Still(g sight.Glance) bool {
	return g.Motion < stillMotion && g.Phase != sight.Forward && g.Phase != sight.Back
}

// takes reports whether reps are counted now.
func (s *session) takes() bool { return s.running() && s.ready && !s.paused }

// enter follows the live pass into another phase.
func (s *session) enter(g sight.Glance) {
	was := s.phase
	s.phase, s.since, s.changed = g.Phase, g.Since, true
	s.turnIn(was)
	switch g.Phase {
	case sight.Address, sight.Forward:
		if s.look.On && !s.look.Stays && (s.current == nil || g.At > s.current.known) {
			s.look.On = false
		}
		if g.Phase == sight.Address && s.takes() {
			s.tell(Moment{Kind: AddressTaken})
		}
	case sight.Back:
		if s.takes() {
			s.tell(Moment{Kind: TurnedRound})
		}
	}
}

// heard takes the time of a strike.
func (s *session) heard(at float64) {
	if len(s.strikes) == strikesKept {
		copy(s.strikes, s.strikes[1:])
		s.strikes = s.strikes[:strikesKept-1]
	}
	s.strikes = append(s.strikes, at)
}

// tick lets time pass without a picture.
func (s *session) tick(now float64) {
	s.now = max(s.now, now)
	if !math.IsNaN(s.frameAt) && s.now-s.frameAt > signalAfter && !s.noticed(NoPicture) {
		s.raise(NoPicture, "No picture from the camera.", "Check its cable; it comes back by itself.")
	}
	if len(s.reading) > 0 && s.now-s.reading[0].known > slowAfter && !s.reading[0].void {
		s.raise("slow", "Verdicts are slow.", "Close other programs, or choose a smaller camera mode in the settings.")
	}
	if len(s.saving) > 0 && !s.inFlight && s.now >= s.retryAt {
		s.save()
	}
}

func (s *session) noticed(key string) bool {
	for _, n := range s.notices {
		if n.Key == key {
			return true
		}
	}
	return false
}

// raise puts a notice up; one that is up with the same text stays as it is.
func (s *session) raise(key, text, to string) {
	n := Notice{Key: key, Text: text, To: to, Since: s.now}
	for i, old := range s.notices {
		if old.Key != key {
			continue
		}
		if old.Text != text || old.To != to {
			n.Since = old.Since
			s.notices = append(append([]Notice{}, s.notices[:i]...), s.notices[i:]...)
			s.notices[i], s.changed = n, true
		}
		return
	}
	s.notices = append(s.notices[:len(s.notices):len(s.notices)], n)
	s.tell(Moment{Kind: NoticeRaised, Notice: n})
}

func (s *session) clear(key string) {
	for i, n := range s.notices {
		if n.Key == key {
			s.notices = append(append([]Notice{}, s.notices[:i]...), s.notices[i+1:]...)
			s.tell(Moment{Kind: NoticeCleared, Notice: n})
			return
		}
	}
}

// snapshot is the state as it is published.
func (s *session) snapshot() *Snapshot {
	s.changed = false
	out := &Snapshot{
		At: s.now, Session: s.id, Player: s.player, Bay: s.bay, Drill: s.drill,
		Ready: s.ready, Paused: s.paused, Phase: s.phase, Since: s.since, Set: s.shown().set, SetDone: s.setDone, SetFull: s.full() && !s.setDone,
		Reps: s.shown().reps, All: s.all[:len(s.all):len(s.all)],
		Waiting: s.waiting(), Lookback: s.look,
		Notices: s.notices[:len(s.notices):len(s.notices)], Beat: s.beat, Counters: s.counters,
	}
	out.Cue = cue(out)
	for _, c := range []struct {
		label string
		compare
	}{{"last", s.last}, {"best", s.best}} {
		if c.loop != nil && c.rep.ID != "" && c.id != s.this.id {
			out.Against = append(out.Against, Compare{c.label, c.rep, c.loop})
		}
	}
	return out
}

func (s *session) waiting() int {
	n := 0
	for _, p := range s.reading {
		if p.session == s.id {
			n++
		}
	}
	for _, j := range s.saving {
		if j.pending != nil && j.pending.session == s.id {
			n++
		}
	}
	return n
}
