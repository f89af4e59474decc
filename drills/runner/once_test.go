package runner

import (
	"context"
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"drillbay/camera/frame"
	"drillbay/camera/lookback"
	"drillbay/camera/sight"
	"drillbay/drills"
)

// Each moment is told once, and each record stored once, however many pictures and
// ticks come after it.
func TestEachMomentIsToldOnce(t *testing.T) {
	b := newBench()
	r := New(b.options())
	r.Order(catching(10))
	r.Order(Command{Do: Ready})
	until := func(done func(s *Snapshot) bool) {
		for !done(r.Snapshot()) {
			<-r.Changes()
		}
	}
	until(func(s *Snapshot) bool { return s.Ready })
	b.address(r)
	span := b.swing(r)
	until(func(s *Snapshot) bool { return len(s.All) == 1 })
	b.hold(r, span)
	for range 5 {
		r.Raise("a", "text", "to")
		until(func(s *Snapshot) bool { return len(s.Notices) == 1 })
		r.Clear("a")
		until(func(s *Snapshot) bool { return len(s.Notices) == 0 })
	}
	require.NoError(t, r.Close(context.Background()))
	b.mu.Lock()
	defer b.mu.Unlock()
	times := map[MomentKind]int{}
	for _, m := range b.told {
		times[m.Kind]++
	}
	for _, k := range []MomentKind{Began, BeatChanged, AddressTaken, TurnedRound, CatchSeen, RepDone, Ended} {
		require.Equal(t, 1, times[k], "moment %d", k)
	}
	require.Len(t, b.saved, 1)
	require.Positive(t, r.Snapshot().Counters.Frames)
	require.Zero(t, r.Snapshot().Counters.Dropped)
}

// What the live pass saw is told as it is: address only at address, and of a
// session that is under way.
func TestWhichPhasesAreTold(t *testing.T) {
	b := newBench()
	s := NewStepper(b.options())
	b.address(s)
	require.Empty(t, b.told)
	s.Order(catching(10))
	s.Order(Command{Do: Ready})
	n := len(b.told)
	b.show(s, sight.Forward, 0.2, nil)
	require.Len(t, b.told, n, "a swing forward is not told")
	b.show(s, sight.Back, 0.2, nil)
	require.Equal(t, TurnedRound, b.told[len(b.told)-1].Kind)
	b.address(s)
	require.Equal(t, AddressTaken, b.told[len(b.told)-1].Kind)
	require.Len(t, b.told, n+2)
	frames := s.Snapshot().Counters.Frames
	require.Equal(t, int(math.Round((0.6+0.2+0.2+0.6)*rate)), frames)
	require.Zero(t, s.Snapshot().Counters.Refused)
	p := frame.New(8, 8, frame.Sub420) // not of a pool, and of the past
	p.At = 0
	s.See(p, sight.Glance{At: b.now, Phase: sight.Address})
	require.Equal(t, frames+1, s.Snapshot().Counters.Frames)
}

// The reading gets the pictures from address on, where that is known; from a second
// before the first motion; or of the last three seconds; never of more than the
// longest rep and a second.
func TestFromWhenAReadingGetsPictures(t *testing.T) {
	nan := math.NaN()
	for name, c := range map[string]struct {
		span sight.Span
		want float64
	}{
		"from address":  {sight.Span{From: 14.5, Start: 15, BackStart: 15.4, Catch: 17.8, End: nan}, 14.5},
		"from a motion": {sight.Span{From: nan, Start: 15, BackStart: 15.4, Catch: 17.8, End: nan}, 14},
		"from neither":  {sight.Span{From: nan, Start: nan, BackStart: nan, Catch: 17.8, End: nan}, 15},
		"a long one":    {sight.Span{From: 2, Start: 3, BackStart: 4, Catch: 17.8, End: nan}, 18 - lookback.LongestRep - 1},
	} {
		b := newBench()
		b.ring = lookback.NewRing(700*96, 700)
		s := newSession(b.options())
		s.order(catching(10))
		s.order(Command{Do: Ready})
		for i := range int(18 * rate) {
			p := frame.New(8, 8, frame.Sub420)
			p.Index, p.At = int64(i), time.Duration(float64(i)/rate*float64(time.Second))
			require.NoError(t, b.ring.Add(p, false))
		}
		s.now = 18
		s.begin(sight.Glance{At: 18, Span: c.span})
		frames := s.takeOf(s.current).Frames
		require.InDelta(t, c.want, frames[0].Seconds(), 1/rate+1e-6, name)
		require.InDelta(t, 18, frames[len(frames)-1].Seconds(), 3/rate, name)
	}
}

// Records are stored one after the other, each as soon as the one before it is.
func TestRecordsAreStoredInTheirOrder(t *testing.T) {
	s := newSession(newBench().options())
	for _, id := range []string{"a", "b", "c"} {
		s.queue(&job{record: Record{ID: id}})
	}
	for _, id := range []string{"a", "b", "c"} {
		require.True(t, s.inFlight)
		require.Equal(t, id, s.saving[0].record.ID)
		s.saved(s.saving[0], nil)
	}
	require.False(t, s.inFlight)
	require.Equal(t, 3, s.counters.Stored)
	saves := 0
	for _, e := range s.out {
		if e.save != nil {
			saves++
		}
	}
	require.Equal(t, 3, saves)
}

func TestSetsWithoutAnEnd(t *testing.T) {
	endless, one := newTally(1, 0), newTally(1, 1)
	require.False(t, endless.over())
	require.Equal(t, 1, endless.free())
	require.False(t, one.over())
	for n := range 30 {
		endless.taken[n+1] = true
		endless.reps = append(endless.reps, Done{})
	}
	require.Equal(t, 31, endless.free())
	require.False(t, endless.over())
	one.taken[1], one.reps = true, []Done{{}}
	require.Zero(t, one.free())
	require.True(t, one.over())
	s := newSession(newBench().options())
	require.Equal(t, 0, s.shown().set)
	require.False(t, s.full())
	s.sets = []*tally{endless}
	require.False(t, s.full())
	s.sets = []*tally{one}
	require.True(t, s.full())
}

// A notice that is up with the same words is not told again.
func TestANoticeIsToldOnce(t *testing.T) {
	s := newSession(newBench().options())
	s.raise("a", "text", "to")
	s.changed = false
	s.raise("a", "text", "to")
	require.False(t, s.changed)
	s.raise("a", "other", "to")
	require.True(t, s.changed)
	require.Equal(t, "other", s.notices[0].Text)
	require.Len(t, s.notices, 1)
	told := 0
	for _, e := range s.out {
		if e.tell != nil && e.tell.Kind == NoticeRaised {
			told++
		}
	}
	require.Equal(t, 1, told)
}

// Taking back one rep of two leaves the other.
func TestTakingBackLeavesTheOthers(t *testing.T) {
	b := newBench()
	s := NewStepper(b.options())
	s.Order(catching(10))
	s.Order(Command{Do: Ready})
	for i := range 3 {
		b.next = read(float64(i), drills.Swung)
		b.address(s)
		b.hold(s, b.swing(s))
	}
	s.Order(Command{Do: TakeBack})
	var left []float64
	for _, d := range s.Snapshot().Reps {
		left = append(left, d.Rep.ShaftLine.Value)
	}
	require.Equal(t, []float64{0, 1}, left)
}
