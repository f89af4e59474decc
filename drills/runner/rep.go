package runner

import (
	"math"
	"slices"
	"time"

	"drillbay/camera/lookback"
	"drillbay/camera/sight"
	"drillbay/drills"
)

// pending is a rep that was seen and is not told yet.
type pending struct {
	id, session string
	bay         string
	player      Player
	drill       Drill
	set, number int
	span        sight.Span
	known       float64 // s, when it became known
	take        *lookback.Loop
	reading     Analysis
	records     map[string]Record // of its session, once it is read
	void        bool
}

// lookedAt returns the beginning and the end of the loop of a rep, s.
func (p *pending) lookedAt() (from, to float64) {
	turn := drills.FirstOf(p.span.BackStart, p.span.Start, p.span.From, p.known-1)
	stop := drills.FirstOf(p.span.Catch, p.span.End, p.known)
	return max(turn-lookback.Lead, stop-lookback.LongestRep), stop + lookback.Tail
}

// begin starts the reading of a rep that became known, and its lookback.
func (s *session) begin(g sight.Glance) {
	set, number := s.take()
	s.counters.Reps++
	p := &pending{
		id: s.o.NewID(), session: s.id, bay: s.bay, player: s.player, drill: s.coming(number),
		set: set, number: number, span: g.Span, known: s.now,
	}
	from := drills.FirstOf(g.Span.From, drills.FirstOf(g.Span.Start, s.now-2)-1)
	p.take = s.o.Ring.Take(max(from, s.now-lookback.LongestRep-1), s.now)
	s.current = p
	s.shift(s.cut(p))
	s.growing = p
	if p.drill.Kind != CatchTurnStrike {
		s.show(p)
	}
	s.reading = append(s.reading, p)
	switch {
	case s.hurried:
		s.hurry()
	case len(s.reading) == 1:
		s.out = append(s.out, effect{read: p})
	}
	s.changed = true
}

// cut holds the pictures of a rep for its lookback.
func (s *session) cut(p *pending) compare {
	from, to := p.lookedAt()
	c := compare{id: p.id, loop: s.o.Ring.Cut(from, to)}
	if c.loop != nil {
		c.loop.KeepStill(p.addressed())
	}
	if s.o.Beside != nil {
		c.beside, c.later = s.besides(p)
	}
	return c
}

// addressed is an instant at which the player stands at address before a rep, s; NaN where
// none was seen.
func (p *pending) addressed() float64 {
	const before = 0.25 // the first motion is known to less
	at := p.span.Start - before
	if p.span.Address > at {
		at = p.span.Address
	}
	return at
}

// besides holds the other camera's pictures of a rep, which show the same later, s.
func (s *session) besides(p *pending) (*lookback.Loop, float64) {
	loop, later := s.o.Beside(p.lookedAt())
	if loop != nil {
		loop.KeepStill(p.addressed() + later)
	}
	return loop, later
}

// abreast holds the other camera's pictures of a rep anew where its reading told
// that they come later by another time.
func (s *session) abreast(p *pending) {
	if s.o.Beside == nil || s.this.id != p.id || s.this.beside == nil {
		return
	}
	loop, later := s.besides(p)
	switch {
	case loop == nil:
		return
	case later == s.this.later:
		loop.Release()
		return
	}
	s.this.aside()
	s.this.beside, s.this.later = loop, later
	if s.look.ID == p.id {
		s.look.Beside, s.look.Later = loop, later
	}
}

// aside lets go of the other camera's pictures.
func (c *compare) aside() {
	if c.beside != nil {
		c.beside.Release()
		c.beside = nil
	}
}

// end closes the rep that is going on; a rep whose catch the live pass did
// not notice begins here, late rather than never.
func (s *session) end(g sight.Glance) {
	p := s.current
	// Two spans are one rep when they share their catch or their beginning.
	const near = 0.3
	same := p != nil && (math.Abs(drills.FirstOf(p.span.Start, p.known)-drills.FirstOf(g.Span.Start, g.At)) < near ||
		math.Abs(p.span.Catch-g.Span.Catch) < near)
	if !same {
		s.begin(g)
		p = s.current
	}
	p.span.End = g.Span.End
	if p.drill.Kind == CatchTurnStrike {
		s.show(p)
	}
}

// show starts the lookback of a rep.
func (s *session) show(p *pending) {
	if s.this.id != p.id || s.this.loop == nil || p.drill.Later {
		return
	}
	s.look = Lookback{
		On: true, ID: p.id, Number: p.number, Loop: s.this.loop, Beside: s.this.beside, Later: s.this.later,
		Player: lookback.NewPlayer(s.this.loop.Times(), p.span.Catch, s.now),
	}
	for _, d := range s.all {
		if d.ID == p.id {
			s.look.Rep, s.look.Known = d, true
			s.look.Player = s.look.Player.FreezeAt(d.Rep.Moments.Main(), s.now)
		}
	}
	s.changed = true
}

// grow lengthens the loop of a rep once its last pictures have come.
func (s *session) grow() {
	p := s.growing
	if p == nil {
		return
	}
	_, to := p.lookedAt()
	if s.now < to-1e-6 {
		return
	}
	s.growing = nil
	if s.this.id != p.id || s.this.loop == nil {
		return
	}
	longer := s.cut(p)
	if longer.loop == nil || longer.loop.Times()[0] != s.this.loop.Times()[0] {
		// The beginning has left the ring meanwhile: what is held is better.
		if longer.loop != nil {
			longer.loop.Release()
		}
		longer.aside()
		return
	}
	longer.rep = s.this.rep
	s.this.loop.Release()
	if longer.beside != nil {
		s.this.aside()
	} else {
		longer.beside, longer.later = s.this.beside, s.this.later
	}
	s.this = longer
	if s.look.ID == p.id {
		s.look.Loop, s.look.Beside, s.look.Later = longer.loop, longer.beside, longer.later
		s.look.Player = s.look.Player.Longer(longer.loop.Times(), s.now)
	}
	s.changed = true
}

// shift makes way for a new loop: this becomes last.
func (s *session) shift(next compare) {
	if s.last.loop != nil {
		s.last.loop.Release()
	}
	s.this.aside()
	s.last, s.this = s.this, next
	if s.last.loop != nil {
		s.last.loop = slim(s.last.loop)
	}
}

// better keeps this rep's loop as the best one when its reading is.
func (s *session) better(d Done) {
	if !d.Rep.Counts() || s.this.id != d.ID || s.this.loop == nil {
		return
	}
	if s.best.loop != nil {
		if math.Abs(s.best.rep.Rep.ShaftLine.Value) <= math.Abs(d.Rep.ShaftLine.Value) {
			return
		}
		s.best.loop.Release()
		s.best = compare{}
	}
	times := s.this.loop.Times()
	if own := s.o.Ring.Cut(times[0], times[len(times)-1]); own != nil {
		s.best = compare{id: d.ID, rep: d, loop: slim(own)}
	}
}

// slim thins a loop that is kept for comparison down to about 30 a second.
func slim(l *lookback.Loop) *lookback.Loop {
	times := l.Times()
	if n := len(times); n < 3 || (times[n-1]-times[0])/float64(n-1) > 1.0/35 {
		return l
	}
	return l.Thin()
}

// release lets go of all pictures that are held.
func (s *session) release() {
	for _, c := range []*compare{&s.this, &s.last, &s.best} {
		if c.loop != nil {
			c.loop.Release()
			c.loop = nil
		}
		c.aside()
	}
	s.look.On, s.look.Loop, s.look.Beside, s.growing = false, nil, nil, nil
}

// read takes the result of a reading.
func (s *session) read(p *pending, r Analysis) {
	if p.take != nil {
		p.take.Release()
		p.take = nil
	}
	i := slices.Index(s.reading, p)
	if i < 0 {
		return // it was stored without: the session ended
	}
	s.reading = slices.Delete(s.reading, i, i+1)
	if len(s.reading) > 0 && !s.hurried {
		s.out = append(s.out, effect{read: s.reading[0]})
	}
	s.clear("slow")
	s.changed = true
	if r.Void {
		s.drop(p)
		return
	}
	r.Rep.Number = p.number
	p.reading, p.records = r, s.records
	s.abreast(p)
	if r.Further != nil && !s.hurried {
		s.further++
		s.out = append(s.out, effect{further: p})
	}
	at := s.o.Began.Add(time.Duration(drills.FirstOf(r.Rep.Moments.Catch, r.Rep.Moments.End, p.known) * float64(time.Second)))
	s.queue(&job{pending: p, record: Record{
		ID: p.id, Session: p.session, Set: p.set, Player: p.player, Bay: p.bay,
		Drill: p.drill, Rep: r.Rep, At: at,
	}})
}

// amend takes what the other camera read of a rep: its record is stored anew, and
// what is shown of it follows. Its number, its place in its set and what was told
// of it stay.
func (s *session) amend(p *pending, r Analysis, ok bool) {
	s.further--
	s.changed = true
	s.abreast(p)
	if !ok {
		return
	}
	r.Rep.Number = p.number
	p.reading.Rep, p.reading.Overlay, p.reading.Beside = r.Rep, r.Overlay, r.Beside
	record := p.records[p.id]
	record.Rep = r.Rep
	p.records[p.id] = record
	s.store(&job{record: record})
	s.put(p.id, func(d *Done) { d.Rep, d.Overlay, d.Beside = r.Rep, r.Overlay, r.Beside })
}

// put changes what is shown of a rep wherever it is.
func (s *session) put(id string, change func(*Done)) {
	in := func(list []Done) []Done {
		out := append([]Done{}, list...)
		for i := range out {
			if out[i].ID == id {
				change(&out[i])
			}
		}
		return out
	}
	s.all = in(s.all)
	for _, t := range s.sets {
		t.reps = in(t.reps)
	}
	if s.before != nil {
		s.before.reps = in(s.before.reps)
	}
	for _, d := range []*Done{&s.this.rep, &s.last.rep, &s.best.rep, &s.look.Rep} {
		if d.ID == id {
			change(d)
		}
	}
}

// hurry stores what is not read yet without a reading.
func (s *session) hurry() {
	s.hurried = true
	for _, p := range append([]*pending{}, s.reading...) {
		s.read(p, Analysis{Rep: Unread(Take{Number: p.number, Span: p.span}, "the session ended before it was read")})
	}
}

// drop forgets a motion that turned out to be no rep; its number is free again.
func (s *session) drop(p *pending) {
	if s.look.ID == p.id {
		s.look.On = false
	}
	if p.session != s.id {
		return
	}
	s.give(p.set, p.number)
	s.over()
}

// told makes a stored rep known.
func (s *session) told(p *pending) {
	if p.session != s.id {
		return
	}
	d := Done{ID: p.id, Set: p.set, Rep: p.reading.Rep, Overlay: p.reading.Overlay, Beside: p.reading.Beside}
	if !p.drill.Later {
		d.Lost = p.drill.Watched.Loss(d.Rep.Body)
	}
	s.all = append(s.all, d)
	if s.this.id == p.id {
		s.this.rep = d
	}
	if s.last.id == p.id {
		s.last.rep = d
	}
	s.better(d)
	if s.look.ID == p.id {
		s.look.Rep, s.look.Known = d, true
		s.look.Player = s.look.Player.FreezeAt(d.Rep.Moments.Main(), s.now)
	}
	s.tell(Moment{Kind: RepDone, Rep: d})
	s.count(d)
	s.over()
}

// judged counts the reps that have a shaft line to judge, or might have: all but those seen
// face-on.
func judged(reps []Done) int {
	n := 0
	for _, d := range reps {
		if !d.Rep.FaceOn() {
			n++
		}
	}
	return n
}

func counted(reps []Done) int {
	n := 0
	for _, d := range reps {
		if d.Rep.Counts() {
			n++
		}
	}
	return n
}
