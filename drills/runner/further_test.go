package runner

import (
	"context"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drillbay/camera/frame"
	"drillbay/camera/lookback"
	"drillbay/drills"
)

// twice is a reading that the other camera adds the hips to, once it may.
func twice(may <-chan struct{}) func(Take) Analysis {
	return func(t Take) Analysis {
		r := read(2, drills.Swung)(t)
		first := r.Rep
		r.Further = func() (Analysis, bool) {
			<-may
			front := first
			front.Why, front.Verdict, front.ShaftLine = drills.SeenFaceOn, drills.NoReading, drills.None()
			front.Body[drills.HipsBack] = drills.Reading{Value: 3, Sigma: 1}
			return Analysis{Rep: drills.Together(first, front, 0), Beside: Overlay{Hands: Dot{1, 2, 3}}}, true
		}
		return r
	}
}

func open() chan struct{} { c := make(chan struct{}); close(c); return c }

// What the other camera reads is added to the rep that was told: it is stored
// again under its id, and counted once.
func TestWhatTheOtherCameraReadsIsAdded(t *testing.T) {
	b := newBench()
	may := make(chan struct{})
	b.next = twice(may)
	r := New(b.options())
	c := catching(3)
	r.Order(c)
	r.Order(Command{Do: Ready})
	require.Eventually(t, func() bool { return r.Snapshot().Ready }, time.Second, time.Millisecond)
	b.address(r)
	b.swing(r)
	require.Eventually(t, func() bool { return len(r.Snapshot().Reps) == 1 }, 2*time.Second, time.Millisecond, "the verdict does not wait for it")
	d := r.Snapshot().Reps[0]
	require.False(t, d.Rep.Body[drills.HipsBack].Known())
	r.Order(Command{Do: Mark, ID: d.ID, Note: "elbow"})
	close(may)
	require.Eventually(t, func() bool { return r.Snapshot().Reps[0].Rep.Views.Two() }, 2*time.Second, time.Millisecond)
	snap := r.Snapshot()
	require.NoError(t, r.Close(context.Background()))
	assert.Len(t, snap.Reps, 1)
	assert.Len(t, snap.All, 1)
	assert.Equal(t, "elbow", snap.Reps[0].Note)
	assert.Equal(t, Dot{1, 2, 3}, snap.Lookback.Rep.Beside.Hands)
	last := b.saved[len(b.saved)-1]
	assert.Equal(t, d.ID, last.ID)
	assert.Equal(t, "elbow", last.Note, "the coach's words stay")
	assert.Equal(t, 3.0, last.Rep.Body[drills.HipsBack].Value)
	assert.Equal(t, drills.FaceOn, last.Rep.Views.Body[drills.HipsBack])
	assert.Equal(t, 1, count(b.told, RepDone), "it is told once")
	for _, s := range b.saved {
		assert.Equal(t, d.ID, s.ID)
	}
}

// A rep that was taken back, whose session is over, or that the disk did not take
// at once gets its second reading all the same, and nothing is counted anew.
func TestAFurtherReadingChangesNothingElse(t *testing.T) {
	b := newBench()
	var further []func() (Analysis, bool)
	b.next = func(take Take) Analysis {
		r := twice(open())(take)
		f := r.Further
		r.Further = func() (Analysis, bool) { return Analysis{}, false }
		further = append(further, f)
		return r
	}
	s := NewStepper(b.options())
	s.Order(catching(5))
	s.Order(Command{Do: Ready})
	var pendings []*pending
	for range 2 {
		b.address(s)
		b.hold(s, b.swing(s))
		pendings = append(pendings, s.s.current)
	}
	s.Order(Command{Do: TakeBack})
	amend := func(i int) {
		s.s.further++
		r, ok := further[i]()
		s.s.amend(pendings[i], r, ok)
		s.carryOut()
	}
	amend(1)
	require.True(t, b.saved[len(b.saved)-1].Taken, "taken back it stays")
	require.Len(t, s.Snapshot().Reps, 1)
	first := s.Snapshot().Session
	s.Order(catching(5))
	s.Order(Command{Do: Ready})
	amend(0)
	last := b.saved[len(b.saved)-1]
	assert.Equal(t, first, last.Session, "the session before is where it belongs")
	assert.True(t, last.Rep.Views.Two())
	assert.Empty(t, s.Snapshot().All)

	b.fail = 1
	b.next = twice(open())
	b.address(s)
	b.hold(s, b.swing(s))
	for range 40 {
		b.mu.Lock()
		b.now += 0.5
		b.mu.Unlock()
		s.Tick()
	}
	require.Len(t, s.Snapshot().All, 1)
	require.True(t, s.Snapshot().All[0].Rep.Views.Two(), "told late, with what was added")
	require.True(t, b.saved[len(b.saved)-1].Rep.Views.Two())
	s.Close()
}

// A further reading that fails, or has nothing to add, leaves the rep as it was.
func TestAFurtherReadingThatFails(t *testing.T) {
	for _, f := range []func() (Analysis, bool){func() (Analysis, bool) { panic("broken") }, func() (Analysis, bool) { return Analysis{}, false }} {
		b := newBench()
		b.next = func(take Take) Analysis { r := read(2, drills.Swung)(take); r.Further = f; return r }
		s := NewStepper(b.options())
		s.Order(catching(5))
		s.Order(Command{Do: Ready})
		b.address(s)
		b.hold(s, b.swing(s))
		require.Len(t, s.Snapshot().All, 1)
		require.Equal(t, drills.InLine, s.Snapshot().All[0].Rep.Verdict)
		require.Len(t, b.saved, 1)
		s.Close()
	}
}

// A session that closes waits for a further reading, unless it is hurried.
func TestTheEndWaitsForAFurtherReading(t *testing.T) {
	for _, hurried := range []bool{false, true} {
		b := newBench()
		may := make(chan struct{})
		b.next = twice(may)
		r := New(b.options())
		r.Order(catching(3))
		r.Order(Command{Do: Ready})
		require.Eventually(t, func() bool { return r.Snapshot().Ready }, time.Second, time.Millisecond)
		b.address(r)
		b.swing(r)
		require.Eventually(t, func() bool { return len(r.Snapshot().Reps) == 1 }, 2*time.Second, time.Millisecond)
		if hurried {
			r.Hurry()
			require.NoError(t, r.Close(context.Background()))
			close(may)
			continue
		}
		ended := make(chan error, 1)
		go func() { ended <- r.Close(context.Background()) }()
		select {
		case <-ended:
			t.Fatal("it did not wait")
		case <-time.After(50 * time.Millisecond):
		}
		close(may)
		require.NoError(t, <-ended)
		require.True(t, b.saved[len(b.saved)-1].Rep.Views.Two())
	}
}

// The lookback has the other camera's pictures of the same time, and gives them
// back.
func TestTheLookbackHasBothPictures(t *testing.T) {
	b := newBench()
	o := b.options()
	later := 0.0 // until the first rep was read
	b.next = func(t Take) Analysis { later = 0.07; return read(2, drills.Swung)(t) }
	other := lookback.NewRing(1200*96, 1200)
	o.Beside = func(from, to float64) (*lookback.Loop, float64) { return other.Cut(from+later, to+later), later }
	s := NewStepper(o)
	for i := range 1100 {
		p := frame.New(8, 8, frame.Sub420)
		p.At = time.Duration(float64(i) / rate * float64(time.Second))
		require.NoError(t, other.Add(p, false))
	}
	s.Order(catching(5))
	s.Order(Command{Do: Ready})
	for range 4 {
		b.address(s)
		span := b.swing(s)
		require.Equal(t, 0.07, s.Snapshot().Lookback.Later, "as its reading told")
		b.hold(s, span)
		look := s.Snapshot().Lookback
		require.NotNil(t, look.Beside)
		require.Equal(t, later, look.Later)
		times, mine := look.Beside.Times(), look.Loop.Times()
		require.InDelta(t, mine[0]+later, times[0], 1/rate)
		require.InDelta(t, mine[len(mine)-1]+later, times[len(times)-1], 1/rate, "it has grown with the first's")
		home, besides := look.Loop.Still(), look.Beside.Still()
		require.NotNil(t, home)
		require.NotNil(t, besides, "at address as well")
		require.InDelta(t, home.Seconds()+later, besides.Seconds(), 0.11) // still pictures are thinned
		home.Release()
		besides.Release()
	}
	s.Close()
	other.Clear()
	require.Zero(t, other.Stats().Held, "all pictures are given back")
}

func count(told []Moment, kind MomentKind) (n int) {
	for _, m := range told {
		if m.Kind == kind {
			n++
		}
	}
	return n
}
