package runner

import (
	"context"
	"math"
	"runtime"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"drillbay/camera/frame"
	"drillbay/camera/sight"
	"drillbay/drills"
)

func notice(s *Snapshot, key string) string {
	for _, n := range s.Notices {
		if n.Key == key {
			return n.Text + " " + n.To
		}
	}
	return ""
}

func TestAFullDiskLosesNoRepAndTellsItOnlyOnceStored(t *testing.T) {
	b := newBench()
	s := NewStepper(b.options())
	s.Order(catching(10))
	s.Order(Command{Do: Ready})
	b.fail = 3
	b.address(s)
	span := b.swing(s)
	require.Empty(t, s.Snapshot().Reps, "not stored, not told")
	require.Equal(t, 1, s.Snapshot().Waiting)
	require.Contains(t, notice(s.Snapshot(), "save"), "Rep 1 is not saved: disk full.")
	require.Contains(t, notice(s.Snapshot(), "save"), "room on the disk")
	require.False(t, s.Snapshot().Lookback.Known)
	b.hold(s, span)
	b.address(s)
	span = b.swing(s)
	b.hold(s, span)
	b.address(s) // the back-off of 0.5, 1 and 2 s has passed by now
	for range 4 {
		b.now++
		s.Tick()
	}
	snap := s.Snapshot()
	require.Empty(t, notice(snap, "save"))
	require.Len(t, snap.Reps, 2)
	require.Equal(t, []string{"caught", "not saved b", "not saved b", "not saved b", "saved b", "told b", "saved c", "told c"},
		without(b.log, "caught", 1))
	require.Equal(t, 3, snap.Counters.Retries)
}

// without drops all but the first n entries of a kind.
func without(log []string, what string, n int) (out []string) {
	for _, l := range log {
		if l == what {
			if n--; n < 0 {
				continue
			}
		}
		out = append(out, l)
	}
	return out
}

func TestNoSignalIsToldWithinHalfASecondAndClears(t *testing.T) {
	b := newBench()
	s := NewStepper(b.options())
	s.Order(catching(10))
	s.Order(Command{Do: Ready})
	b.address(s)
	b.now += 0.49
	s.Tick()
	require.Empty(t, s.Snapshot().Notices)
	b.now += 0.05
	s.Tick()
	s.Tick()
	require.Len(t, s.Snapshot().Notices, 1)
	require.Contains(t, notice(s.Snapshot(), "signal"), "comes back by itself")
	require.Equal(t, "No picture", s.Snapshot().Cue)
	s.s.raise(NoPicture, "Camera \"a\" is in use.", "")
	s.Tick()
	require.Len(t, s.Snapshot().Notices, 1, "one sentence")
	require.Contains(t, notice(s.Snapshot(), NoPicture), "in use")
	b.n = int64(b.now*rate) + 1
	b.show(s, sight.Address, 0.1, nil)
	require.Empty(t, s.Snapshot().Notices)
	require.Contains(t, b.kinds(), NoticeCleared)
}

func TestAMovedCameraIsTold(t *testing.T) {
	b := newBench()
	s := NewStepper(b.options())
	s.Order(catching(10))
	s.Order(Command{Do: Ready})
	b.show(s, sight.Settling, 0.1, func(g *sight.Glance) { g.Bumped = true })
	require.Contains(t, notice(s.Snapshot(), "bumped"), "Press L")
	b.address(s)
	require.Empty(t, notice(s.Snapshot(), "bumped"))
}

func TestAReadingThatFailsIsARepWithoutAReading(t *testing.T) {
	b := newBench()
	b.next = func(Take) Analysis { panic("index out of range") }
	s := NewStepper(b.options())
	s.Order(catching(10))
	s.Order(Command{Do: Ready})
	b.address(s)
	b.swing(s)
	require.Len(t, s.Snapshot().Reps, 1)
	got := s.Snapshot().Reps[0].Rep
	require.Equal(t, drills.NoReading, got.Verdict)
	require.Contains(t, got.Why, "index out of range")
}

// until waits for a snapshot by its signal, never by counting.
func until(t *testing.T, r *Runner, what string, ok func(*Snapshot) bool) {
	t.Helper()
	deadline := time.After(10 * time.Second)
	for !ok(r.Snapshot()) {
		select {
		case <-r.Changes():
		case <-deadline:
			require.FailNow(t, "never came: "+what)
		}
	}
}

// paced is a runner that is never more than a few pictures behind: a test
// sends them much faster than a camera.
type paced struct{ *Runner }

func (p paced) See(f *frame.Picture, g sight.Glance) {
	for len(p.seen) > queueSeen/2 {
		runtime.Gosched()
	}
	p.Runner.See(f, g)
}

func TestASlowReadingNeverHoldsUpCapture(t *testing.T) {
	b := newBench()
	gate := make(chan struct{})
	b.next = func(x Take) Analysis {
		<-gate
		return read(2, drills.Swung)(x)
	}
	r := paced{New(b.options())}
	r.Order(catching(10))
	r.Order(Command{Do: Ready})
	until(t, r.Runner, "session", func(s *Snapshot) bool { return s.Ready })
	for rep := range 5 {
		b.address(r)
		span := b.swing(r)
		until(t, r.Runner, "rep seen", func(s *Snapshot) bool { return s.Counters.Reps == rep+1 })
		b.hold(r, span)
	}
	until(t, r.Runner, "notice", func(s *Snapshot) bool { return notice(s, "slow") != "" })
	require.Empty(t, r.Snapshot().Reps)
	require.True(t, r.Snapshot().Lookback.On, "the lookback does not wait for the reading")
	close(gate)
	until(t, r.Runner, "five reps", func(s *Snapshot) bool { return len(s.Reps) == 5 && len(s.Notices) == 0 })
	require.NoError(t, r.Close(context.Background()))
	require.Len(t, b.saved, 5)
	require.Zero(t, b.ring.Stats().Refused)
}

func TestCloseStoresWhatWasSeenAndLeavesNoGoroutine(t *testing.T) {
	b := newBench()
	gate := make(chan struct{})
	var once sync.Once
	b.next = func(x Take) Analysis {
		<-gate
		return read(2, drills.Swung)(x)
	}
	r := paced{New(b.options())}
	r.Order(catching(10))
	r.Order(Command{Do: Ready})
	until(t, r.Runner, "session", func(s *Snapshot) bool { return s.Ready })
	b.address(r)
	b.swing(r)
	until(t, r.Runner, "rep seen", func(s *Snapshot) bool { return s.Counters.Reps == 1 })
	go once.Do(func() { close(gate) })
	require.NoError(t, r.Close(context.Background()))
	require.NoError(t, r.Close(context.Background()), "twice is once")
	require.Len(t, b.saved, 1)
	r.See(nil, sight.Glance{})
	r.Order(Command{Do: Pause})
	r.Raise("a", "b", "c")
	stack := make([]byte, 1<<20)
	stack = stack[:runtime.Stack(stack, true)]
	require.NotContains(t, string(stack), "runner.(*Runner)")
	b.ring.Clear()
	require.Zero(t, b.ring.Stats().Held)
}

// A session that stands still while its queue is full holds nobody up, least
// of all at a catch, and takes the rep in when it goes on.
func TestAFullQueueNeverHoldsCaptureUp(t *testing.T) {
	b := newBench()
	gate, stands := make(chan struct{}), make(chan struct{})
	o := b.options()
	o.Speaker = standing{b, gate, stands}
	r := New(o)
	r.Order(catching(10))
	r.Order(Command{Do: Ready})
	until(t, r, "session", func(s *Snapshot) bool { return s.Ready })
	r.Order(Command{Do: Tempo, Number: 111})
	<-stands
	ended := make(chan struct{})
	go func() {
		defer close(ended)
		for i := range 10 * queueSeen {
			g := sight.Glance{At: 1 + float64(i)/30, Phase: sight.Away}
			if i == 4*queueSeen || i == 6*queueSeen {
				g.Phase, g.Caught = sight.Hold, true
				g.Span = sight.Span{Start: g.At - 0.8, BackStart: g.At - 0.5, Catch: g.At, End: math.NaN()}
			}
			r.See(nil, g)
			r.Raise("a", "b", "c")
			r.Clear("a")
		}
	}()
	select {
	case <-ended:
	case <-time.After(5 * time.Second):
		t.Fatal("capture was held up")
	}
	close(gate)
	until(t, r, "both reps", func(s *Snapshot) bool { return s.Counters.Reps == 2 })
	require.Positive(t, r.Snapshot().Counters.Dropped)
	require.NoError(t, r.Close(context.Background()))
}

// standing is a speaker that stands still at a beat of 111.
type standing struct {
	Speaker
	gate, stands chan struct{}
}

func (s standing) Tell(m Moment) {
	if m.Kind == BeatChanged && m.Beat.Rate == 111 {
		close(s.stands)
		<-s.gate
	}
}

func TestAHurriedEndStoresWhatIsNotRead(t *testing.T) {
	b := newBench()
	gate := make(chan struct{})
	defer close(gate)
	b.next = func(x Take) Analysis { <-gate; return read(2, drills.Swung)(x) }
	r := paced{New(b.options())}
	r.Order(catching(10))
	r.Order(Command{Do: Ready})
	until(t, r.Runner, "session", func(s *Snapshot) bool { return s.Ready })
	for range 2 {
		b.address(r)
		b.hold(r, b.swing(r))
	}
	until(t, r.Runner, "reps seen", func(s *Snapshot) bool { return s.Counters.Reps == 2 })
	began := time.Now()
	r.Hurry()
	require.NoError(t, r.Close(context.Background()))
	require.Less(t, time.Since(began), time.Second)
	require.Len(t, b.saved, 2)
	require.Equal(t, drills.NoReading, b.saved[1].Rep.Verdict)
	require.Contains(t, b.saved[1].Rep.Why, "the session ended before it was read")
}

func TestCloseGivesUpOnAStoreThatNeverAnswers(t *testing.T) {
	b := newBench()
	o := b.options()
	o.Store = stuck{}
	r := paced{New(o)}
	r.Order(catching(10))
	r.Order(Command{Do: Ready})
	until(t, r.Runner, "session", func(s *Snapshot) bool { return s.Ready })
	b.address(r)
	b.swing(r)
	until(t, r.Runner, "rep seen", func(s *Snapshot) bool { return s.Counters.Reps == 1 })
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	err := r.Close(ctx)
	require.ErrorContains(t, err, "1 reps could not be stored")
}

type stuck struct{}

func (stuck) Save(ctx context.Context, _ Record) error { <-ctx.Done(); return ctx.Err() }

func TestNoticesFromOutside(t *testing.T) {
	b := newBench()
	r := paced{New(b.options())}
	r.Raise("sound", "There is no sound output.", "Plug one in and press V.")
	until(t, r.Runner, "notice", func(s *Snapshot) bool { return strings.HasPrefix(notice(s, "sound"), "There is") })
	r.Raise("sound", "Sound is off.", "Press V.")
	until(t, r.Runner, "changed notice", func(s *Snapshot) bool { return len(s.Notices) == 1 && s.Notices[0].Text == "Sound is off." })
	r.Clear("sound")
	until(t, r.Runner, "cleared", func(s *Snapshot) bool { return len(s.Notices) == 0 })
	require.NoError(t, r.Close(context.Background()))
}
