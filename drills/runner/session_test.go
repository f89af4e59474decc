package runner

import (
	"math"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/require"

	"drillbay/camera/frame"
	"drillbay/camera/sight"
	"drillbay/drills"
)

func TestASetOfCatches(t *testing.T) {
	b := newBench()
	s := NewStepper(b.options())
	s.Order(catching(3))
	s.Order(Command{Do: Ready})
	require.Equal(t, "Step in when ready", s.Snapshot().Cue)
	for rep := 1; rep <= 3; rep++ {
		b.address(s)
		require.Equal(t, "Swing it forward", s.Snapshot().Cue)
		span := b.swing(s)
		snap := s.Snapshot()
		require.Len(t, snap.Reps, rep, "the verdict is there while the catch is held")
		require.Equal(t, drills.InLine, snap.Reps[rep-1].Rep.Verdict)
		require.Equal(t, rep, snap.Reps[rep-1].Rep.Number)
		require.True(t, snap.Lookback.On)
		require.True(t, snap.Lookback.Known)
		require.InDelta(t, span.Catch, snap.Lookback.Player.Moment(), 1e-9)
		b.hold(s, span)
		require.Len(t, s.Snapshot().Reps, rep, "the end of a hold is not another rep")
		require.True(t, s.Snapshot().Lookback.On, "it stays until the next address")
	}
	require.True(t, s.Snapshot().SetDone)
	require.Equal(t, "3 of 3 counted", s.Snapshot().Cue)
	require.Equal(t, []string{
		"caught", "saved b", "told b", "caught", "saved c", "told c",
		"caught", "saved d", "told d", "set done",
	}, b.log, "a rep is stored before it is told")
	b.address(s)
	require.False(t, s.Snapshot().Lookback.On, "the next address ends it")
	b.swing(s)
	snap := s.Snapshot()
	require.Equal(t, 2, snap.Set, "the next rep begins the next set")
	require.Len(t, snap.Reps, 1)
	require.Equal(t, 1, snap.Reps[0].Rep.Number)
	require.Len(t, snap.All, 4)
	s.Close()
	b.ring.Clear()
	require.Zero(t, b.ring.Stats().Held, "all pictures are given back")
}

func TestTheLoopRunsFromBeforeTheTurnToAfterTheCatch(t *testing.T) {
	b := newBench()
	s := NewStepper(b.options())
	s.Order(catching(10))
	s.Order(Command{Do: Ready})
	b.address(s)
	span := b.swing(s)
	first := s.Snapshot().Lookback.Loop.Times()
	require.InDelta(t, span.BackStart-0.2, first[0], 1/rate+1e-6)
	require.InDelta(t, b.now, first[len(first)-1], 1e-6, "it starts with what there is")
	still := s.Snapshot().Lookback.Loop.Still()
	require.NotNil(t, still, "a picture of address is held besides")
	require.InDelta(t, span.Start-0.25, still.Seconds(), 0.11)
	still.Release()
	b.hold(s, span)
	times := s.Snapshot().Lookback.Loop.Times()
	require.InDelta(t, span.Catch+0.3, times[len(times)-1], 1/rate+1e-6)
	for i := 1; i < len(times); i++ {
		require.InDelta(t, 1/rate, times[i]-times[i-1], 1e-6, "no picture is missing")
	}
}

func TestTheReadingGetsThePicturesFromAddressOn(t *testing.T) {
	b := newBench()
	var got Take
	b.next = func(t Take) Analysis {
		got = t
		for _, p := range t.Frames {
			p.Seconds() // still held here
		}
		return read(0, drills.Swung)(t)
	}
	s := NewStepper(b.options())
	s.Order(catching(10))
	s.Order(Command{Do: Ready})
	s.Heard(0.5)
	b.address(s)
	span := b.swing(s)
	require.Equal(t, span.Catch, got.Span.Catch)
	require.Equal(t, []float64{0.5}, got.Strikes)
	require.InDelta(t, span.From, got.Frames[0].Seconds(), 0.1, "address too, thinned")
	moving := 0
	for _, p := range got.Frames {
		if p.Seconds() >= span.Start-1e-6 {
			moving++
		}
	}
	require.Equal(t, int(math.Round((0.4+0.6+0.2)*rate)), moving, "all of the motion")
	require.Equal(t, "Marta", got.Player.Name)
}

func TestPhasesComeFromTheDrill(t *testing.T) {
	end := func(b *bench, s *Stepper, span sight.Span) {
		b.show(s, sight.Finish, 0.8, func(g *sight.Glance) {
			span.End = g.At
			g.Ended, g.Span = true, span
		})
	}
	t.Run("catch, turn and strike", func(t *testing.T) {
		b := newBench()
		s := NewStepper(b.options())
		c := catching(5)
		c.Drill.Kind = CatchTurnStrike
		s.Order(c)
		s.Order(Command{Do: Ready})
		b.address(s)
		span := b.swing(s)
		require.Len(t, s.Snapshot().Reps, 1, "the verdict comes at the catch")
		require.False(t, s.Snapshot().Lookback.On)
		end(b, s, span)
		require.Len(t, s.Snapshot().Reps, 1)
		require.True(t, s.Snapshot().Lookback.On, "the lookback after the finish")
		require.True(t, s.Snapshot().Lookback.Known)
	})
	t.Run("ordinary", func(t *testing.T) {
		b := newBench()
		s := NewStepper(b.options())
		c := catching(5)
		c.Drill.Kind = Ordinary
		s.Order(c)
		s.Order(Command{Do: Ready})
		b.address(s)
		span := b.swing(s) // a pause at the top is no catch here
		require.Empty(t, s.Snapshot().Reps)
		end(b, s, span)
		require.Len(t, s.Snapshot().Reps, 1)
		require.True(t, s.Snapshot().Lookback.On)
		require.True(t, s.Snapshot().Beat.Whole)
	})
	t.Run("a later day", func(t *testing.T) {
		b := newBench()
		s := NewStepper(b.options())
		c := catching(5)
		c.Drill.Later = true
		s.Order(c)
		s.Order(Command{Do: Ready})
		b.address(s)
		b.swing(s)
		require.Len(t, s.Snapshot().Reps, 1)
		require.False(t, s.Snapshot().Lookback.On)
	})
}

func TestARepWhoseCatchWasMissedIsNotLost(t *testing.T) {
	b := newBench()
	s := NewStepper(b.options())
	s.Order(catching(5))
	s.Order(Command{Do: Ready})
	b.address(s)
	nan := math.NaN()
	span := sight.Span{From: nan, To: nan, Start: b.now, BackStart: nan, Catch: nan, Address: nan}
	b.show(s, sight.Back, 0.6, nil)
	b.hold(s, span)
	require.Len(t, s.Snapshot().Reps, 1)
}

func TestAWaggleThatTheReadingRejectsIsDropped(t *testing.T) {
	b := newBench()
	b.next = func(Take) Analysis { return Analysis{Void: true} }
	s := NewStepper(b.options())
	s.Order(catching(5))
	s.Order(Command{Do: Ready})
	b.address(s)
	b.hold(s, b.swing(s))
	snap := s.Snapshot()
	require.Empty(t, snap.All)
	require.False(t, snap.Lookback.On)
	require.Empty(t, b.saved)
	b.next = read(20, drills.Swung)
	b.address(s)
	b.swing(s)
	require.Equal(t, 1, s.Snapshot().Reps[0].Rep.Number)
	require.Equal(t, drills.Inside, s.Snapshot().Reps[0].Rep.Verdict)
}

func TestPausedCountsNothing(t *testing.T) {
	b := newBench()
	s := NewStepper(b.options())
	s.Order(catching(5))
	s.Order(Command{Do: Ready})
	s.Order(Command{Do: Pause})
	b.address(s)
	b.hold(s, b.swing(s))
	require.Empty(t, s.Snapshot().All)
	require.Equal(t, "Paused", s.Snapshot().Cue)
	s.Order(Command{Do: Pause})
	b.address(s)
	b.swing(s)
	require.Len(t, s.Snapshot().All, 1)
}

func TestNothingCountsBeforeTheCautionsWereSeen(t *testing.T) {
	b := newBench()
	s := NewStepper(b.options())
	s.Order(catching(5))
	require.Equal(t, "Read the cautions", s.Snapshot().Cue)
	b.address(s)
	b.hold(s, b.swing(s))
	require.Empty(t, s.Snapshot().All)
}

// A clinic's turn is over: what is swung before the next player is called is nobody's.
func TestAfterEnoughNothingCountsUntilReady(t *testing.T) {
	b := newBench()
	s := NewStepper(b.options())
	s.Order(catching(5))
	s.Order(Command{Do: Ready})
	b.address(s)
	b.hold(s, b.swing(s))
	s.Order(Command{Do: Enough})
	b.address(s)
	b.hold(s, b.swing(s))
	require.Len(t, s.Snapshot().All, 1)
	s.Order(Command{Do: Ready})
	b.address(s)
	b.swing(s)
	require.Len(t, s.Snapshot().All, 2)
}

func TestNothingIsCountedWithoutASession(t *testing.T) {
	b := newBench()
	s := NewStepper(b.options())
	b.address(s)
	b.hold(s, b.swing(s))
	require.Empty(t, s.Snapshot().All)
	require.Empty(t, b.told)
	require.NotNil(t, b.ring.Newest(), "the picture goes on all the same")
}

func TestTakeBackSayAgainAndMarks(t *testing.T) {
	b := newBench()
	s := NewStepper(b.options())
	s.Order(catching(2))
	s.Order(Command{Do: Ready})
	for range 2 {
		b.address(s)
		b.hold(s, b.swing(s))
	}
	s.Order(Command{Do: Mark, ID: "c", Coach: "outside", Note: "face shut", Kept: true})
	s.Order(Command{Do: Mark, ID: "c", Coach: "left a bit"})
	s.Order(Command{Do: Mark, ID: "unknown", Coach: "inside"})
	last, _ := s.Snapshot().Last()
	require.Equal(t, "outside", last.Coach)
	require.Equal(t, "face shut", b.saved[len(b.saved)-1].Note)
	before := s.Snapshot()
	s.Order(Command{Do: TakeBack})
	require.Len(t, before.Reps, 2, "what was published does not change")
	snap := s.Snapshot()
	require.Len(t, snap.Reps, 1)
	require.False(t, snap.SetDone)
	require.True(t, b.saved[len(b.saved)-1].Taken)
	require.Equal(t, "c", b.saved[len(b.saved)-1].ID)
	s.Order(Command{Do: Say})
	require.Equal(t, RepAgain, b.told[len(b.told)-1].Kind)
	require.Equal(t, "b", b.told[len(b.told)-1].Rep.ID)
	b.address(s)
	b.swing(s)
	require.Equal(t, 2, s.Snapshot().Reps[1].Rep.Number)
}

func TestOtherRepsToLookAt(t *testing.T) {
	b := newBench()
	s := NewStepper(b.options())
	s.Order(catching(10))
	s.Order(Command{Do: Ready})
	for _, line := range []float64{5, 1, 12} {
		b.next = read(line, drills.Swung)
		b.address(s)
		b.hold(s, b.swing(s))
	}
	against := s.Snapshot().Against
	require.Len(t, against, 2)
	require.Equal(t, "last", against[0].Label)
	require.Equal(t, "best", against[1].Label)
	for _, a := range against {
		require.Equal(t, 1.0, a.Rep.Rep.ShaftLine.Value)
		p := a.Loop.Frame(a.Rep.Rep.Moments.Level)
		require.NotNil(t, p)
		p.Release()
	}
	require.Zero(t, b.ring.Stats().Refused)
}

func TestLookbackByKey(t *testing.T) {
	b := newBench()
	s := NewStepper(b.options())
	s.Order(Command{Do: LookBack})
	require.False(t, s.Snapshot().Lookback.On)
	s.Order(catching(10))
	s.Order(Command{Do: Ready})
	b.address(s)
	b.hold(s, b.swing(s))
	s.Order(Command{Do: LookOn})
	require.False(t, s.Snapshot().Lookback.On)
	s.Order(Command{Do: LookBack})
	require.True(t, s.Snapshot().Lookback.Known)
	b.address(s)
	require.True(t, s.Snapshot().Lookback.On, "asked for by key, it stays until a key ends it")
	s.Order(Command{Do: LookOn})
	require.False(t, s.Snapshot().Lookback.On)
}

func TestTheMetronome(t *testing.T) {
	b := newBench()
	s := NewStepper(b.options())
	s.Order(catching(10))
	s.Order(Command{Do: Ready})
	require.Equal(t, Beat{On: true, Rate: 72}, s.Snapshot().Beat)
	s.Order(Command{Do: Tempo})
	require.False(t, s.Snapshot().Beat.On)
	b.now = 3
	s.Order(Command{Do: Tempo, Number: 80})
	require.Equal(t, Beat{On: true, Rate: 80, Zero: 3}, s.Snapshot().Beat)
	s.Order(Command{Do: BeatStart, Number: 3.25})
	require.Equal(t, 3.25, s.Snapshot().Beat.Zero)
	b.now = 7
	s.Order(Command{Do: Tempo, Number: 80})
	require.Equal(t, 3.25, s.Snapshot().Beat.Zero, "in step with what is heard")
	c := catching(3)
	c.Do, c.Drill.Beat = Change, 0
	s.Order(c)
	s.Order(Command{Do: Ready})
	require.False(t, s.Snapshot().Beat.On)
	s.Order(Command{Do: Tempo})
	require.False(t, s.Snapshot().Beat.On, "a drill without a beat has none to switch on")
}

// longestCue is the number of letters that fit on one line read from the mat.
const longestCue = 18

func TestEveryCueIsReadableFromTheMat(t *testing.T) {
	for phase := sight.Away; phase <= sight.Finish; phase++ {
		for kind := Catch; kind <= Ordinary; kind++ {
			for _, moving := range []bool{false, true} {
				got := cue(&Snapshot{Session: "x", Ready: true, Phase: phase, Drill: Drill{Kind: kind, MovingStart: moving}})
				require.NotEmpty(t, got)
				require.LessOrEqual(t, utf8.RuneCountInString(got), longestCue, got)
			}
		}
	}
	full := &Snapshot{Session: "x", Ready: true, SetDone: true, Reps: make([]Done, 20)}
	require.LessOrEqual(t, utf8.RuneCountInString(cue(full)), longestCue)
}

func TestThePicturePathAllocatesNothing(t *testing.T) {
	b := newBench()
	s := NewStepper(b.options())
	s.Order(catching(10))
	s.Order(Command{Do: Ready})
	b.address(s)
	g := sight.Glance{At: b.now, Phase: sight.Address, Since: b.now, HandsX: math.NaN()}
	got := testing.AllocsPerRun(400, func() {
		b.n++
		g.At = float64(b.n) / rate
		p := b.pool.Get(8, 8, frame.Sub420)
		p.At = 0
		s.See(nil, g)
		p.Release()
	})
	require.Zero(t, got)
}
