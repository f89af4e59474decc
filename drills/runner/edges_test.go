package runner

import (
	"errors"
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"drillbay/camera/frame"
	"drillbay/camera/lookback"
	"drillbay/camera/sight"
	"drillbay/drills"
)

func TestWhatToDoNow(t *testing.T) {
	at := func(p sight.Phase, change func(s *Snapshot)) string {
		s := &Snapshot{Session: "x", Ready: true, Phase: p}
		if change != nil {
			change(s)
		}
		return cue(s)
	}
	require.Equal(t, "Catch it", at(sight.Back, nil))
	require.Equal(t, "Swing", at(sight.Back, func(s *Snapshot) { s.Drill.Kind = Ordinary }))
	require.Equal(t, "Hold and look", at(sight.Hold, nil))
	require.Equal(t, "Look, then turn", at(sight.Hold, func(s *Snapshot) { s.Drill.Kind = CatchTurnStrike }))
	require.Equal(t, "Swing it back", at(sight.Address, nil))
	require.Equal(t, "Hold the finish", at(sight.Finish, nil))
	full := func(waiting int) func(s *Snapshot) {
		return func(s *Snapshot) { s.SetFull, s.Waiting = true, waiting }
	}
	for _, p := range []sight.Phase{sight.Away, sight.Settling, sight.Address} {
		require.Equal(t, "1 still to read", at(p, full(1)))
		require.NotContains(t, at(p, full(0)), "still to read")
		require.NotContains(t, at(p, func(s *Snapshot) { s.Waiting = 1 }), "still to read")
	}
	require.Equal(t, "Catch it", at(sight.Back, full(1)))
	require.Equal(t, "No picture", at(sight.Back, func(s *Snapshot) { s.Notices = []Notice{{Key: "slow"}, {Key: NoPicture}} }))
	require.Equal(t, drills.Band, Drill{}.Width())
	require.Equal(t, 0.5, Drill{Band: 0.5}.Width())
}

// A picture is still below 0.02 of motion, unless the club swings.
func TestWhatIsStill(t *testing.T) {
	require.True(t, Still(sight.Glance{Motion: 0.019, Phase: sight.Address}))
	require.False(t, Still(sight.Glance{Motion: 0.02, Phase: sight.Address}))
	require.False(t, Still(sight.Glance{Phase: sight.Back}))
	require.False(t, Still(sight.Glance{Phase: sight.Forward}))
	require.True(t, Still(sight.Glance{Phase: sight.Hold}))
}

// A loop runs from a little before the turn-round to a little after the stop, of
// the first of them that is known, and no longer than a rep can be.
func TestWhereALoopBeginsAndEnds(t *testing.T) {
	nan := math.NaN()
	for name, c := range map[string]struct {
		span     sight.Span
		from, to float64
	}{
		"all known":       {sight.Span{From: 98, Start: 99, BackStart: 99.5, Catch: 100, End: 101}, 99.5, 100},
		"no turn-round":   {sight.Span{From: 98, Start: 99, BackStart: nan, Catch: 100, End: 101}, 99, 100},
		"no start":        {sight.Span{From: 98, Start: nan, BackStart: nan, Catch: 100, End: 101}, 98, 100},
		"nothing known":   {sight.Span{From: nan, Start: nan, BackStart: nan, Catch: nan, End: nan}, 104, 105},
		"no catch":        {sight.Span{From: 98, Start: 99, BackStart: 99.5, Catch: nan, End: 101}, 99.5, 101},
		"too long to see": {sight.Span{From: 60, Start: 60, BackStart: 60, Catch: 100, End: 101}, 100 - lookback.LongestRep + lookback.Lead, 100},
	} {
		p := &pending{span: c.span, known: 105}
		from, to := p.lookedAt()
		require.InDelta(t, c.from-lookback.Lead, from, 1e-9, name)
		require.InDelta(t, c.to+lookback.Tail, to, 1e-9, name)
	}
}

func TestTheLastEightStrikesAreKept(t *testing.T) {
	s := newSession(newBench().options())
	for i := range 11 {
		s.heard(float64(i))
	}
	require.Equal(t, []float64{3, 4, 5, 6, 7, 8, 9, 10}, s.strikes)
}

// What could not be stored is tried again after half a second, then after twice as
// long each time, five seconds at most.
func TestWhenTheStoreIsTriedAgain(t *testing.T) {
	s := newSession(newBench().options())
	s.now = 100
	s.queue(&job{record: Record{ID: "a"}})
	for _, wait := range []float64{0.5, 1, 2, 4, 5, 5, 5, 5, 5, 5, 5, 5} {
		before := s.now
		s.saved(s.saving[0], errors.New("full"))
		require.InDelta(t, before+wait, s.retryAt, 1e-9)
		require.False(t, s.inFlight)
		s.tick(s.retryAt - 0.01)
		require.False(t, s.inFlight, "not before")
		s.tick(s.retryAt)
		require.True(t, s.inFlight)
	}
	require.Equal(t, 12, s.counters.Retries)
	require.True(t, s.noticed("save"))
	s.saved(s.saving[0], nil)
	require.Equal(t, 1, s.counters.Stored)
	require.Empty(t, s.saving)
	require.False(t, s.noticed("save"))
	require.Equal(t, 0, s.tries)
	s.queue(&job{record: Record{ID: "b"}})
	s.saved(s.saving[0], nil)
	require.Equal(t, 2, s.counters.Stored)
	require.Equal(t, 12, s.counters.Retries)
}

// A rep that could not be stored at once is told as soon as it is, and counts like
// any other.
func TestARepThatIsStoredLateIsToldThen(t *testing.T) {
	b := newBench()
	s := NewStepper(b.options())
	s.Order(catching(10))
	s.Order(Command{Do: Ready})
	b.address(s)
	b.hold(s, b.swing(s))
	require.Len(t, s.Snapshot().All, 1)
	b.fail = 1
	b.address(s)
	b.hold(s, b.swing(s))
	require.Len(t, s.Snapshot().All, 2)
	b.address(s)
	b.hold(s, b.swing(s))
	require.Len(t, s.Snapshot().All, 3)
	require.Equal(t, 3, s.Snapshot().Counters.Stored)
	require.Equal(t, 3, s.Snapshot().Counters.Reps)
	require.Equal(t, 1, s.Snapshot().Counters.Retries)
}

// The signal is lost half a second after the last picture; a reading is slow 1.2 s
// after the catch.
func TestWhenSomethingIsTold(t *testing.T) {
	s := newSession(newBench().options())
	s.tick(50)
	require.False(t, s.noticed(NoPicture), "no picture was there yet")
	s.see(nil, sight.Glance{At: 60})
	s.tick(60.5)
	require.False(t, s.noticed(NoPicture))
	s.tick(60.51)
	require.True(t, s.noticed(NoPicture))
	s.see(nil, sight.Glance{At: 61})
	require.False(t, s.noticed(NoPicture))

	s.reading = []*pending{{known: 61}}
	s.tick(62.19)
	require.False(t, s.noticed("slow"))
	s.tick(62.21)
	require.True(t, s.noticed("slow"))
	s.clear("slow")
	s.reading[0].void = true
	s.tick(70)
	require.False(t, s.noticed("slow"))

	s.raise("a", "one", "do this")
	s.now = 80
	s.raise("b", "two", "do that")
	s.raise("a", "one", "do more")
	require.Equal(t, "do more", s.notices[1].To)
	require.Less(t, s.notices[1].Since, 80.0, "it is up since then")
	s.clear("a")
	require.Equal(t, "b", s.notices[len(s.notices)-1].Key)
	s.clear("none")
	require.True(t, s.noticed("b"))
}

// Two spans that share their beginning, or their catch, to less than 0.3 s are one
// rep.
func TestWhenTwoSpansAreOneRep(t *testing.T) {
	nan := math.NaN()
	for name, c := range map[string]struct {
		start, catch float64
		want         int
	}{
		"both":              {100, 101, 1},
		"the beginning":     {100.29, 105, 1},
		"the catch":         {90, 101.29, 1},
		"neither":           {100.31, 101.31, 2},
		"before either":     {99.69, 100.69, 2},
		"no catch":          {100.1, nan, 1},
		"nothing in common": {110, nan, 2},
	} {
		b := newBench()
		s := newSession(b.options())
		s.order(catching(10))
		s.order(Command{Do: Ready})
		s.now = 102
		s.begin(sight.Glance{At: 101.2, Span: sight.Span{From: 99, Start: 100, BackStart: 100.4, Catch: 101, End: nan}})
		s.end(sight.Glance{At: 103, Span: sight.Span{From: 99, Start: c.start, BackStart: 100.4, Catch: c.catch, End: 103}})
		require.Equal(t, c.want, s.counters.Reps, name)
		require.Equal(t, 103.0, s.current.span.End, name)
	}
}

// A loop that is kept is thinned to 30 pictures a second or so.
func TestWhatIsKeptIsThinned(t *testing.T) {
	loop := func(rate float64, n int) *lookback.Loop {
		ring := lookback.NewRing(400*96, 400)
		pool := frame.NewPool(400 * 96)
		for i := range n {
			p := pool.Get(8, 8, frame.Sub420)
			p.Index, p.At = int64(i), time.Duration(float64(i)/rate*float64(time.Second))
			require.NoError(t, ring.Add(p, false))
			p.Release()
		}
		return ring.Cut(0, 100)
	}
	require.Len(t, slim(loop(60, 60)).Times(), 30)
	require.Len(t, slim(loop(30, 60)).Times(), 60)
	require.Len(t, slim(loop(34, 60)).Times(), 60)
	require.Len(t, slim(loop(36, 60)).Times(), 30)
	require.Len(t, slim(loop(60, 3)).Times(), 2)
	require.Len(t, slim(loop(60, 2)).Times(), 2)
}

func TestOrdersAtTheirEdges(t *testing.T) {
	b := newBench()
	s := NewStepper(b.options())
	s.Order(Command{Do: Say})
	require.Empty(t, b.told, "there is nothing to say again")
	s.Order(Command{Do: TakeBack})
	s.Order(catching(10))
	s.Order(Command{Do: Ready})
	require.NotContains(t, b.kinds(), DrillChanged, "one drill")
	b.address(s)
	b.hold(s, b.swing(s))
	s.Order(Command{Do: Say})
	require.Equal(t, RepAgain, b.told[len(b.told)-1].Kind)
	s.Order(Command{Do: Tempo, Number: 0.5})
	require.Equal(t, 0.5, s.Snapshot().Beat.Rate)
	require.True(t, s.Snapshot().Beat.On)
	s.Order(Command{Do: Tempo})
	s.Order(Command{Do: Tempo})
	require.True(t, s.Snapshot().Beat.On)
	s.Order(Command{Do: Stay})
	require.True(t, s.Snapshot().Lookback.Stays)
	s.Order(Command{Do: Finish})
	require.Equal(t, Ended, b.told[len(b.told)-1].Kind)
	require.Equal(t, 1, b.told[len(b.told)-1].Of)
	require.Equal(t, 1, b.told[len(b.told)-1].Counted)
	n := len(b.told)
	s.Order(Command{Do: Finish})
	s.Order(Command{Do: Pause})
	require.Len(t, b.told, n, "no session runs")
}

// When the best rep is taken back there is none; a rep that is as good does not
// take its place, a better one does.
func TestTheBestRep(t *testing.T) {
	b := newBench()
	s := NewStepper(b.options())
	s.Order(catching(10))
	s.Order(Command{Do: Ready})
	best := func() string { return s.s.best.id }
	swing := func(line float64, m drills.Manner) {
		b.next = read(line, m)
		b.address(s)
		b.hold(s, b.swing(s))
	}
	swing(3, drills.Swung)
	one := best()
	require.NotEmpty(t, one)
	swing(-3, drills.Swung)
	require.Equal(t, one, best())
	swing(0, drills.Placed)
	require.Equal(t, one, best())
	swing(-2, drills.Swung)
	two := best()
	require.NotEqual(t, one, two)
	swing(4, drills.Swung)
	s.Order(Command{Do: TakeBack})
	require.Equal(t, two, best(), "another was taken back")
	s.Order(Command{Do: TakeBack})
	require.Empty(t, best())
	require.True(t, b.saved[len(b.saved)-1].Taken)
	at := b.saved[0].At.Sub(time.Date(2025, 11, 15, 10, 0, 0, 0, time.UTC)).Seconds()
	require.InDelta(t, s.Snapshot().All[0].Rep.Moments.Catch, at, 1e-6, "a record has the time of its catch")
	s.Close()
	b.ring.Clear()
	require.Zero(t, b.ring.Stats().Held)
}
