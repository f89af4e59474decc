package lookback

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"drillbay/camera/frame"
)

// camera fills a ring from a pool as a live source does.
type camera struct {
	t    *testing.T
	pool *frame.Pool
	ring *Ring
	rate float64
	n    int64
	w, h int
}

func newCamera(t *testing.T, rate float64, w, h, budget int) *camera {
	// The source has a handful of pictures in flight beyond the ring.
	return &camera{
		t: t, rate: rate, w: w, h: h,
		pool: frame.NewPool(budget + 4*w*h*3/2),
		ring: NewRing(budget, Capacity(budget, w, h)),
	}
}

func (c *camera) now() float64 { return float64(c.n) / c.rate }

// run captures for a time in s and returns the times of the pictures.
func (c *camera) run(seconds float64, still bool) (times []float64) {
	c.t.Helper()
	for range int(math.Round(seconds * c.rate)) {
		p := c.pool.Get(c.w, c.h, frame.Sub420)
		require.NotNil(c.t, p, "the source ran out of memory at %.2f s", c.now())
		p.At = time.Duration(c.now() * float64(time.Second))
		p.Index = c.n
		require.NoError(c.t, c.ring.Add(p, still))
		times = append(times, p.Seconds())
		p.Release()
		c.n++
	}
	return times
}

func TestBudgetLeavesRoomForTheProgram(t *testing.T) {
	// 512 MiB at 720p30 and 800 MiB at 720p60 for the whole program.
	require.LessOrEqual(t, Budget(1280, 720, 30), (512-128)<<20)
	require.LessOrEqual(t, Budget(1280, 720, 60), (800-128)<<20)
	for _, rate := range []float64{25, 30, 60} {
		frames := Capacity(Budget(1280, 720, rate), 1280, 720)
		require.GreaterOrEqual(t, float64(frames)/rate, LongestRep, "%v fps", rate)
	}
	require.LessOrEqual(t, Budget(3840, 2160, 60), ringFast)
	require.Positive(t, Budget(640, 480, 15))
}

func TestFiveRepsBackToBackLoseNothing(t *testing.T) {
	for _, rate := range []float64{30, 60} {
		// The counts of 720p pictures, at a size that keeps the test small.
		const w, h = 64, 36
		count := Capacity(Budget(1280, 720, rate), 1280, 720)
		budget := count * w * h * 3 / 2
		c := newCamera(t, rate, w, h, budget)
		var before *Loop
		for rep := range 5 {
			c.run(0.5, true) // address
			start := c.now()
			moving := c.run(1.4, false) // forward and back
			held := c.run(Tail, true)   // the catch
			turn, catch := start+0.4, moving[len(moving)-1]
			loop := c.ring.Cut(turn-Lead, catch+Tail)
			require.NotNil(t, loop)
			require.False(t, loop.Thinned)
			var want []float64
			for _, at := range append(moving, held...) {
				if at >= turn-Lead && at <= catch+Tail {
					want = append(want, at)
				}
			}
			require.Equal(t, want, loop.Times(), "rep %d at %v fps", rep+1, rate)
			for _, at := range want {
				p := loop.Frame(at)
				require.InDelta(t, at, p.Seconds(), 1e-9)
				p.Release()
			}
			c.run(1.0, true) // the hold, while the loop plays
			if before != nil {
				before.Release() // this rep is seen against the one before
			}
			before = loop
		}
		s := c.ring.Stats()
		require.Zero(t, s.Refused)
		require.LessOrEqual(t, s.Peak, budget)
		require.LessOrEqual(t, c.pool.InUse(), budget+4*w*h*3/2)
	}
}

func TestLongestRepFits(t *testing.T) {
	const w, h, rate = 64, 36, 60
	count := Capacity(Budget(1280, 720, rate), 1280, 720)
	c := newCamera(t, rate, w, h, count*w*h*3/2)
	c.run(1.5, false)
	last := c.ring.Cut(c.now()-1.3, c.now())
	c.run(5, true) // a long address
	moving := c.run(2, false)
	c.run(1, true)
	from, to, ok := c.ring.Span()
	require.True(t, ok)
	require.GreaterOrEqual(t, to-from, LongestRep-0.1)
	got := c.ring.Frames(moving[0], moving[len(moving)-1])
	require.Len(t, got, len(moving), "the moving part is at full rate")
	for _, p := range got {
		p.Release()
	}
	last.Release()
}

func TestStillPicturesAreThinnedAndMovingOnesKept(t *testing.T) {
	c := newCamera(t, 30, 8, 8, 1000*96)
	c.run(3, true)
	c.run(1, false)
	require.Zero(t, c.ring.Stats().Evicted)
	// 3 s of stills at one in 0.1 s, but for the newest part.
	still := c.ring.Frames(0, 2.95)
	require.Less(t, len(still), 3*30/2)
	require.GreaterOrEqual(t, len(still), 28)
	for i := 1; i < len(still); i++ {
		require.LessOrEqual(t, still[i].Seconds()-still[i-1].Seconds(), stillStep+1.0/30+1e-6)
	}
	for _, p := range still {
		p.Release()
	}
}

func TestLoopKeepsItsPicturesWhileCaptureGoesOn(t *testing.T) {
	const w, h = 8, 8
	c := newCamera(t, 30, w, h, 30*w*h*3/2)
	c.run(0.5, false)
	loop := c.ring.Cut(0, 0.25)
	mark := loop.Frame(0)
	mark.Release()
	c.run(10, false)
	p := loop.Frame(0)
	require.EqualValues(t, 0, p.Index)
	require.Same(t, mark, p)
	p.Release()
	loop.Release()
	loop.Release()
	require.Nil(t, loop.Frame(0))
	require.Nil(t, loop.Frames())
	c.ring.Clear()
	require.Zero(t, c.ring.Stats().Held)
	_, _, ok := c.ring.Span()
	require.False(t, ok)
	require.Nil(t, c.ring.Newest())
}

func TestLoopsKeepToTheirShareByThinning(t *testing.T) {
	c := newCamera(t, 30, 8, 8, 90*96)
	c.run(1, false)
	first := c.ring.Cut(0, 2)
	require.False(t, first.Thinned)
	c.run(1, false)
	second := c.ring.Cut(1, 2)
	require.True(t, second.Thinned)
	require.LessOrEqual(t, c.ring.held[byLoop], int(90*heldShare)*96+2*96)
	require.GreaterOrEqual(t, len(second.Times()), 30/thinnest)
	require.Zero(t, c.ring.Stats().Refused)
}

func TestATakeThatIsReadDoesNotThinTheLoop(t *testing.T) {
	const w, h = 8, 8
	count := Capacity(Budget(1280, 720, 60), 1280, 720)
	c := newCamera(t, 60, w, h, count*w*h*3/2)
	var last, best *Loop
	for range 4 {
		c.run(1.2, true)
		c.run(1.2, false)
		c.run(0.2, true)
		catch := c.now() - 0.2
		take := c.ring.Take(catch-1.7, c.now())
		loop := c.ring.Cut(catch-1.1, c.now())
		require.False(t, take.Thinned)
		c.run(0.1, true)
		longer := c.ring.Cut(catch-1.1, c.now())
		require.False(t, longer.Thinned, "a loop grows while its take is read")
		require.Greater(t, len(longer.Times()), len(loop.Times()))
		loop.Release()
		c.run(0.5, true)
		take.Release()
		if last != nil {
			last.Release()
		}
		if best == nil {
			best = longer.Thin()
			last = nil
			continue
		}
		last = longer.Thin()
	}
	require.Zero(t, c.ring.Stats().Refused)
}

func TestAThinLoopHoldsHalf(t *testing.T) {
	c := newCamera(t, 30, 8, 8, 90*96)
	c.run(1, false)
	l := c.ring.Cut(0, 1)
	thin := l.Thin()
	require.Nil(t, l.Frame(0), "the full loop is released")
	require.Len(t, thin.Times(), (len(l.Times())+1)/2)
	require.Equal(t, len(thin.Times())*96, c.ring.held[byLoop])
	thin.Release()
	require.Zero(t, c.ring.held[byLoop])
}

func TestALoopIsHeldOnceMore(t *testing.T) {
	c := newCamera(t, 30, 8, 8, 90*96)
	c.run(1, false)
	l := c.ring.Cut(0, 1)
	again := l.Again()
	l.Release()
	require.Nil(t, l.Again(), "what was released is not held again")
	require.Len(t, again.Frames(), len(l.Times()))
	require.Equal(t, len(l.Times())*96, c.ring.held[byLoop])
	again.Release()
	require.Zero(t, c.ring.held[byLoop])
}

// A still of before is held besides: it is not played, every loop that is made of the loop
// has it as well, and it goes with the last of them.
func TestAStillIsHeldBesides(t *testing.T) {
	c := newCamera(t, 30, 8, 8, 90*96)
	c.run(2, false)
	l := c.ring.Cut(1, 2)
	n := len(l.Times())
	require.Nil(t, l.Still())
	l.KeepStill(math.NaN())
	l.KeepStill(-1)
	require.Nil(t, l.Still(), "the ring does not reach back so far")
	l.KeepStill(0.51)
	l.KeepStill(0.9)
	still := func(l *Loop) float64 {
		p := l.Still()
		require.NotNil(t, p)
		defer p.Release()
		return p.Seconds()
	}
	require.InDelta(t, 0.5, still(l), 1e-6)
	require.Len(t, l.Times(), n)
	require.Equal(t, (n+1)*96, c.ring.held[byLoop])
	again := l.Again()
	thin := l.Thin()
	require.Nil(t, l.Still(), "released")
	require.InDelta(t, 0.5, still(again), 1e-6)
	c.run(6, false) // it has left the ring
	require.InDelta(t, 0.5, still(thin), 1e-6)
	again.Release()
	require.InDelta(t, 0.5, still(thin), 1e-6)
	thin.Release()
	require.Zero(t, c.ring.held[byLoop])
}

func TestTheWrongPictureIsRefused(t *testing.T) {
	r := NewRing(1<<20, 10)
	p := frame.New(8, 8, frame.Sub420)
	p.At = time.Second
	require.NoError(t, r.Add(p, false))
	require.ErrorIs(t, r.Add(p, false), ErrOrder)
	require.ErrorIs(t, r.Add(frame.New(8, 8, frame.Sub422), false), ErrSubsampling)
	require.Nil(t, r.Cut(2, 3))
	require.Nil(t, r.Before(0.5))
}

func TestAddAllocatesNothing(t *testing.T) {
	r := NewRing(20*96, 20)
	pool := frame.NewPool(40 * 96)
	var n time.Duration
	got := testing.AllocsPerRun(300, func() {
		p := pool.Get(8, 8, frame.Sub420)
		n++
		p.At = n * 33 * time.Millisecond
		if err := r.Add(p, n%90 < 40); err != nil {
			t.Fatal(err)
		}
		p.Release()
	})
	require.Zero(t, got)
}
