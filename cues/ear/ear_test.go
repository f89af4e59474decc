package ear

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"drillbay/cues/sound"
	"drillbay/cues/soundtest"
)

// fed is an ear whose microphone is a test: give hands samples to it as they
// would come, late by up to 8 ms.
type fed struct {
	e   *Ear
	l   *listener
	now float64
	s   *stream
	r   *rand.Rand
}

func newFed(o Options) *fed {
	f := &fed{r: rand.New(rand.NewPCG(8, 8))}
	o.Now = func() float64 { return f.now }
	f.e = newEar(o)
	f.l = newListener(f.e)
	f.s = &stream{e: f.e, number: 1}
	return f
}

func (f *fed) give(samples []float32) (heard []Heard) {
	began := f.now
	for from := 0; from < len(samples); from += 480 {
		part := samples[from:min(from+480, len(samples))]
		raw := make([]byte, 4*len(part))
		for i, x := range part {
			binary.LittleEndian.PutUint32(raw[4*i:], math.Float32bits(x))
		}
		f.now = began + float64(from+len(part))/Rate + 0.008*f.r.Float64()
		f.s.take(raw)
		for len(f.e.chunks) > 0 {
			c := <-f.e.chunks
			f.l.take(c)
			f.e.free <- c
		}
		for len(f.e.heard) > 0 {
			heard = append(heard, <-f.e.heard)
		}
	}
	return heard
}

func TestAStrikeCountsInADownswingOnly(t *testing.T) {
	samples, at := mixed(31, 12, 15)
	times := make([]float64, len(at))
	for i, a := range at {
		times[i] = 100 + float64(a)/Rate
	}
	// Every third is the neighbour's: no downswing was seen then.
	swinging := func(when float64) bool {
		for i, s := range times {
			if i%3 != 0 && math.Abs(when-s) < 0.1 {
				return true
			}
		}
		return false
	}
	f := newFed(Options{Downswing: swinging, Distance: 3.432})
	f.now = 100
	heard := f.give(samples)
	require.Len(t, heard, 8)
	k := 0
	for i, s := range times {
		if i%3 == 0 {
			continue
		}
		require.Equal(t, Strike, heard[k].Kind)
		require.InDelta(t, s-0.01, heard[k].At, 0.003, "3.43 m away it is heard 10 ms late")
		k++
	}
	require.Zero(t, f.e.missed.Load())
}

// claps makes pairs of claps, a second apart each pair's first, in noise.
func claps(seconds int, at ...float64) []float32 {
	samples := make([]float32, seconds*Rate)
	newNoise(2).fill(samples)
	r := rand.New(rand.NewPCG(5, 5))
	for i := range samples {
		samples[i] *= 0.003
	}
	for _, s := range at {
		for i, x := range strike(r) {
			samples[int(s*Rate)+i] += float32(0.05 * x)
		}
	}
	return samples
}

func TestTwoTapsAreHeardWhenSwitchedOn(t *testing.T) {
	never := func(float64) bool { return false }
	f := newFed(Options{Downswing: never, Taps: true})
	heard := f.give(claps(8, 2, 2.3, 5))
	require.Len(t, heard, 1)
	require.Equal(t, Taps, heard[0].Kind)
	require.InDelta(t, 2.3, heard[0].At, 0.02)

	f = newFed(Options{Downswing: never})
	require.Empty(t, f.give(claps(8, 2, 2.3)), "switched off")
	own := func(at, within float64) bool { return at > 1.9 && at < 2.5 }
	f = newFed(Options{Downswing: never, Taps: true, Own: own})
	require.Empty(t, f.give(claps(8, 2, 2.3)), "our own sound")
	f = newFed(Options{Taps: true, Speaking: own})
	require.Len(t, f.give(claps(8, 2, 2.3, 5)), 1, "strikes that are our own voice")
}

func TestWhatIsMissedShiftsNothing(t *testing.T) {
	f := newFed(Options{})
	samples := claps(12, 3, 9)
	heard := f.give(samples[:5*Rate])
	for range cap(f.e.free) { // the listener is behind: nothing is free
		<-f.e.free
	}
	f.give(samples[5*Rate : 6*Rate])
	require.Equal(t, int64(Rate), f.e.missed.Load())
	for range cap(f.e.free) {
		f.e.free <- &chunk{}
	}
	f.now = 6
	heard = append(heard, f.give(samples[6*Rate:])...)
	var at []float64
	for _, h := range heard {
		at = append(at, h.At)
	}
	require.Len(t, at, 2)
	require.InDelta(t, 3, at[0], 0.01)
	require.InDelta(t, 9, at[1], 0.01)
}

func TestANewMicrophoneBeginsAnew(t *testing.T) {
	f := newFed(Options{})
	require.Len(t, f.give(claps(4, 2)), 1)
	f.s = &stream{e: f.e, number: 2}
	f.now = 50
	heard := f.give(claps(4, 2))
	require.Len(t, heard, 1)
	require.InDelta(t, 52, heard[0].At, 0.01)
}

// pretended is a microphone that fails when it is told to.
type pretended struct{ fault error }

func (p *pretended) err() error   { return p.fault }
func (p *pretended) close()       {}
func (p *pretended) name() string { return "pretended" }

func TestALostMicrophoneIsOpenedAgain(t *testing.T) {
	now, works := 5.0, true
	e := newEar(Options{Now: func() float64 { return now }})
	var last *pretended
	var take func([]byte)
	w := &watcher{e: e, wait: retryFirst, open: func(_ string, f func([]byte)) (source, error) {
		if !works {
			return nil, errors.New("there is no microphone")
		}
		last, take = &pretended{}, f
		return last, nil
	}}
	w.try(now)
	require.Equal(t, Listening, e.State())
	require.Equal(t, "pretended", listenedTo(e))
	last.fault, works = errStopped, false
	w.look(now)
	require.Equal(t, Deaf, e.State())
	require.Equal(t, errStopped, e.Err())
	take(make([]byte, 400))
	require.Empty(t, e.chunks, "what a lost one still gives is not taken")
	for range 50 {
		now += 0.1
		w.look(now)
	}
	require.EqualError(t, e.Err(), "there is no microphone")
	works = true
	for tries := 0; e.State() == Deaf && tries < 200; tries++ {
		now += 0.1
		w.look(now)
	}
	require.Equal(t, Listening, e.State())
	now += wakeWithin - 0.1
	w.look(now)
	require.NoError(t, e.Err(), "one that wakes up slowly")
	now += 0.2
	w.look(now)
	require.Equal(t, errSlow, e.Err())
}

// wait asks until something is so.
func wait(t *testing.T, what string, so func() bool) {
	t.Helper()
	again := time.NewTicker(20 * time.Millisecond)
	defer again.Stop()
	for range 1000 {
		if so() {
			return
		}
		<-again.C
	}
	t.Fatal("waited in vain: " + what)
}

// listenedTo gives the name of the microphone that is open, "" without one.
func listenedTo(e *Ear) string {
	e.mu.Lock()
	defer e.mu.Unlock()
	return e.device
}

// heardRight plays strikes and says what was heard wrong, "" when each was
// heard and the time between two is right to 6 ms, 3 ms each. An excuse is what
// the player or the machine's own clock says of itself: it stood still, so that
// the strikes were not played or not delivered in time.
func heardRight(s *soundtest.Server, e *Ear) (wrong, excuse string) {
	for len(e.Heard()) > 0 {
		<-e.Heard()
	}
	missed := e.missed.Load()
	samples, at := mixed(40, 5, 15)
	var raw bytes.Buffer
	for _, x := range samples {
		binary.Write(&raw, binary.LittleEndian, x)
	}
	stood := soundtest.Stalls()
	played := s.Play(&raw)
	var heard []float64
	silence := time.After(5 * time.Second)
	for range at {
		select {
		case h := <-e.Heard():
			heard = append(heard, h.At)
		case <-silence:
		}
	}
	still := stood()
	switch {
	case played.Underruns > 0:
		excuse = fmt.Sprintf("the player ran dry %d times", played.Underruns)
	case e.missed.Load() > missed:
		excuse = fmt.Sprintf("the ear came too late for %d samples", e.missed.Load()-missed)
	case still > soundtest.Overloaded:
		excuse = fmt.Sprintf("the machine stood still for %v", still)
	}
	if len(heard) < len(at) {
		return fmt.Sprintf("%d of %d strikes were heard", len(heard), len(at)), excuse
	}
	for i := 1; i < len(at); i++ {
		if off := heard[i] - heard[i-1] - float64(at[i]-at[i-1])/Rate; math.Abs(off) > 0.006 {
			return fmt.Sprintf("strike %d was heard %.1f ms off", i+1, off*1000), excuse
		}
	}
	return "", ""
}

// Strikes played through a sound server are heard where they were played, and
// the delay from output to microphone is measured.
func TestThroughASoundServer(t *testing.T) {
	if testing.Short() {
		t.Skip("listening takes 20 s")
	}
	s := soundtest.New(t)
	s.Start()
	s.Use(t)
	e := Open(Options{})
	t.Cleanup(e.Close)
	wait(t, "the microphone", func() bool { return e.State() == Listening })
	names, err := Microphones()
	require.NoError(t, err)
	require.NotEmpty(t, names)
	require.Equal(t, names[0], listenedTo(e))

	soundtest.Listens()
	for try := 1; ; try++ {
		wrong, excuse := heardRight(s, e)
		if wrong == "" {
			break
		}
		if excuse == "" {
			t.Fatal(wrong)
		}
		if try == 4 {
			soundtest.Busy(t, "%s, and %s", wrong, excuse)
			break
		}
		t.Logf("%s, and %s: played again", wrong, excuse)
	}

	out := sound.Open(e.o.Now)
	t.Cleanup(out.Close)
	wait(t, "the output", func() bool {
		return out.State() == sound.Playing
	})
	ctx := context.Background()
	first, ok := steadyDelay(t, e, out.Probe)
	if !ok {
		return
	}
	out.Late(first)
	second, ok := steadyDelay(t, e, out.Probe)
	if !ok {
		return
	}
	t.Logf("sound was heard %+.1f ms later than the output took it to be; once that was known, %+.1f ms", first*1000, second*1000)
	// ITU-R BT.1359-1: sound against picture is not noticed from 45 ms early
	// to 125 ms late.
	require.Less(t, second, 0.125)
	require.Greater(t, second, -0.045)
	gone, cancel := context.WithCancel(ctx)
	cancel()
	_, err = e.Delay(gone, out.Probe)
	require.Error(t, err)
}

// steadyDelay measures the delay, and again where it was not steady; ok is false
// where the machine is too busy for it.
func steadyDelay(t *testing.T, e *Ear, play func([]float64) float64) (seconds float64, ok bool) {
	t.Helper()
	soundtest.Listens()
	for try := 1; ; try++ {
		seconds, err := e.Delay(context.Background(), play)
		if err == nil {
			return seconds, true
		}
		require.ErrorIs(t, err, ErrUnsteady)
		if try == 2 {
			soundtest.Busy(t, "%v", err)
			return 0, false
		}
	}
}

func TestClosingEndsAtOnce(t *testing.T) {
	e := newEar(Options{Now: func() float64 { return 0 }})
	e.ended.Add(2)
	go e.watch(func(string, func([]byte)) (source, error) { return nil, errors.New("none") })
	go e.listen()
	e.Close()
	e.Close()
	_, err := e.Delay(context.Background(), func([]float64) float64 { return 0 })
	require.Error(t, err)
	require.Equal(t, Closed, e.State())
}
