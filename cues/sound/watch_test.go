package sound

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"drillbay/cues"
	"drillbay/cues/soundtest"
)

// pretended is a sink that fails when it is told to.
type pretended struct {
	fault  error
	closed bool
}

func (p *pretended) err() error { return p.fault }
func (p *pretended) close()     { p.closed = true }

func TestALostOutputIsOpenedAgain(t *testing.T) {
	now := 10.0
	o := newOutput(func() float64 { return now })
	var sinks []*pretended
	var taps []*tap
	works := true
	once := func(tp *tap) (sink, error) {
		sinks, taps = append(sinks, &pretended{}), append(taps, tp)
		return sinks[len(sinks)-1], nil
	}
	again := func(tp *tap) (sink, error) {
		if !works {
			return nil, errors.New("no card")
		}
		return once(tp)
	}
	w := &watcher{o: o, openers: []opener{once, again}, wait: retryFirst}
	w.try(now)
	require.Equal(t, Playing, o.State())
	require.NoError(t, o.Err())
	b := cues.SwingAndCatch(60)
	o.Metronome(&b)
	draw := func(tp *tap, seconds float64) {
		for range int(seconds * 100) {
			tp.Read(make([]byte, 480*8))
			now += 0.01
		}
	}
	draw(taps[0], 1)
	w.look(now)
	require.Equal(t, Playing, o.State())
	require.InDelta(t, 1-buffered-float64(cues.Delay)/cues.Rate, o.Beat(now).Beats, 1e-6, "what is heard is late by what is buffered")

	sinks[0].fault, works = errors.New("the server is gone"), false
	w.look(now)
	require.Equal(t, Silent, o.State())
	wrong, remedy := o.Notice()
	require.Equal(t, "No sound can be played.", wrong)
	require.Contains(t, remedy, "loudspeaker")
	require.EqualError(t, o.Err(), "the server is gone")
	require.True(t, sinks[0].closed)
	at := o.desk.position()
	draw(taps[0], 0.1)
	require.Equal(t, at, o.desk.position(), "the lost one draws silence")

	before := o.Beat(now).Beats
	for range 100 {
		now += 0.02
		w.quiet(now)
		w.look(now)
	}
	require.Equal(t, Silent, o.State())
	require.InDelta(t, before+2, o.Beat(now).Beats, 0.12, "the beat goes on")
	works = true
	for tries := 0; o.State() == Silent && tries < 500; tries++ {
		now += 0.02
		w.quiet(now)
		w.look(now)
	}
	require.Equal(t, Playing, o.State())
	require.Len(t, sinks, 2)
	wrong, _ = o.Notice()
	require.Empty(t, wrong)

	now += wakeWithin - 0.5
	w.look(now)
	require.Equal(t, Playing, o.State(), "one that wakes up slowly")
	draw(taps[1], 1)
	w.look(now)
	require.Equal(t, Playing, o.State())
	now += stallAfter + 0.1
	w.look(now)
	require.Equal(t, Silent, o.State(), "an output that does not draw hangs")
	require.Equal(t, errSlow, o.Err())
}

func TestWithoutASoundCard(t *testing.T) {
	now := 0.0
	o := newOutput(func() float64 { return now })
	none := func(*tap) (sink, error) { return nil, errors.New("no card") }
	w := &watcher{o: o, openers: []opener{none, none}, wait: retryFirst}
	w.try(now)
	b := cues.SwingAndCatch(60)
	o.Metronome(&b)
	o.Play(cues.Tone{Name: "own", Notes: []cues.Note{{Pitch: 440, Length: 0.1, Level: -9}}})
	tries := 0
	w.openers = []opener{func(*tap) (sink, error) { tries++; return nil, errors.New("no card") }}
	for range 3000 {
		now += 0.02
		w.quiet(now)
		w.look(now)
	}
	require.Equal(t, Silent, o.State())
	require.InDelta(t, 60*cues.Rate, o.desk.position(), 2048)
	require.Greater(t, tries, 5)
	require.Less(t, tries, 15, "tried less and less often")
	require.InDelta(t, 60, o.Beat(now).Beats, 0.3)
	require.True(t, math.Mod(o.Beat(now).Zero, 1) < 0.3, "a beat a second, from the start")
}

func TestNoCallWaits(t *testing.T) {
	o := newOutput(func() float64 { return 0 }) // nobody talks, nobody draws
	for range 1000 {
		o.Say("inside", "8")
		o.Call("Marta", 3)
		o.Play(cues.Tone{})
		o.Hush()
		o.Metronome(nil)
		o.Metronome(&cues.Beat{})
	}
	require.Positive(t, o.dropped.Load())
	require.Equal(t, Beat{}, o.Beat(1))
	require.False(t, o.Sounding(0, 1))
}

// answers asks the helper for its state until it is the one wanted.
func answers(t *testing.T, in io.Writer, out *bufio.Scanner, want State) {
	t.Helper()
	again := time.NewTicker(100 * time.Millisecond)
	defer again.Stop()
	last := ""
	for range 300 {
		<-again.C
		fmt.Fprintln(in, "state")
		for out.Scan() {
			if last = out.Text(); strings.HasPrefix(last, "state ") {
				break
			}
		}
		if strings.HasPrefix(last, fmt.Sprintf("state %d ", want)) {
			return
		}
	}
	t.Fatalf("waited for state %d, last answer %q", want, last)
}

// The sound server is killed and comes back: the output says so, runs on in
// silence, and is heard again.
func TestTheSoundServerIsKilledAndComesBack(t *testing.T) {
	if testing.Short() {
		t.Skip("a sound server is started twice")
	}
	s := soundtest.New(t)
	s.Start()
	player := s.Program("TestHelperPlays")
	in, err := player.StdinPipe()
	require.NoError(t, err)
	pipe, err := player.StdoutPipe()
	require.NoError(t, err)
	player.Stderr = os.Stderr
	require.NoError(t, player.Start())
	t.Cleanup(func() { in.Close(); player.Wait() })
	out := bufio.NewScanner(pipe)
	fmt.Fprintln(in, "beat 120")
	answers(t, in, out, Playing)
	for range 2 {
		s.Stop()
		answers(t, in, out, Silent)
		s.Start()
		answers(t, in, out, Playing)
		require.GreaterOrEqual(t, len(onsets(record(t, s.Listen(), 3))), 5, "heard again")
	}
}

// Without any server the helper starts, answers and ends.
func TestWithoutASoundServer(t *testing.T) {
	s := soundtest.New(t) // not started
	player := s.Program("TestHelperPlays")
	in, err := player.StdinPipe()
	require.NoError(t, err)
	pipe, err := player.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, player.Start())
	answers(t, in, bufio.NewScanner(pipe), Silent)
	require.NoError(t, in.Close())
	io.Copy(io.Discard, pipe)
	require.NoError(t, player.Wait())
}
