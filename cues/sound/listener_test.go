package sound

import (
	"bufio"
	"encoding/binary"
	"fmt"
	"io"
	"math"
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/cues"
	"drillbay/cues/soundtest"
)

// TestHelperPlays is no test: it plays a metronome at two tempos until its
// input ends.
func TestHelperPlays(t *testing.T) {
	soundtest.Helper(t)
	o := Open(nil)
	defer o.Close()
	in := bufio.NewScanner(os.Stdin)
	for in.Scan() {
		var rate float64
		if _, err := fmt.Sscanf(in.Text(), "beat %g", &rate); err == nil {
			b := cues.Plain(rate)
			o.Metronome(&b)
		}
		fmt.Println("state", o.State(), o.Err())
	}
}

// onsets finds where sounds begin, in samples, with a detector of its own: the
// first sample over a share of the loudest, after 50 ms without one.
func onsets(x []float64) []int {
	loudest := 0.0
	for _, v := range x {
		loudest = max(loudest, math.Abs(v))
	}
	var out []int
	last := -1 << 30
	for i, v := range x {
		if math.Abs(v) < loudest/8 {
			continue
		}
		if i-last > 2400 {
			out = append(out, i)
		}
		last = i
	}
	return out
}

// line fits y = a + b·k and gives the largest deviation.
func line(y []int) (a, b, worst float64) {
	n := float64(len(y))
	var sk, sy, skk, sky float64
	for k, v := range y {
		sk, sy, skk, sky = sk+float64(k), sy+float64(v), skk+float64(k)*float64(k), sky+float64(k)*float64(v)
	}
	b = (n*sky - sk*sy) / (n*skk - sk*sk)
	a = (sy - b*sk) / n
	for k, v := range y {
		worst = max(worst, math.Abs(float64(v)-a-b*float64(k)))
	}
	return a, b, worst
}

// record reads so many seconds of the server's monitor.
func record(t *testing.T, from io.Reader, seconds float64) []float64 {
	t.Helper()
	raw := make([]byte, int(seconds*cues.Rate)*2)
	_, err := io.ReadFull(from, raw)
	require.NoError(t, err)
	out := make([]float64, len(raw)/2)
	for i := range out {
		out[i] = float64(int16(binary.LittleEndian.Uint16(raw[2*i:]))) / 32768
	}
	return out
}

// What a listener hears is a beat with no more than 1 ms of error over the
// whole recording, once constant delay and clock rate are taken out, and with
// no beat missing. DRILLBAY_LONG=1 listens for ten minutes. What was heard
// while the machine itself was overloaded, its own clock's ticks late, says
// nothing: it is listened to again.
func TestAListenerHearsTheBeat(t *testing.T) {
	if testing.Short() {
		t.Skip("listening takes 40 s")
	}
	s := soundtest.New(t)
	s.Start()
	seconds := 18.0
	if os.Getenv("DRILLBAY_LONG") != "" {
		seconds = 300
	}
	player := s.Program("TestHelperPlays")
	in, err := player.StdinPipe()
	require.NoError(t, err)
	player.Stderr = os.Stderr
	require.NoError(t, player.Start())
	t.Cleanup(func() { in.Close(); player.Wait() })
	heard := s.Listen()
	for _, rate := range []float64{72, 113} {
		_, err := fmt.Fprintf(in, "beat %g\n", rate)
		require.NoError(t, err)
		soundtest.Listens()
		for try := 1; ; try++ {
			record(t, heard, 3) // until the tempo is on
			stood := soundtest.Stalls()
			at := onsets(record(t, heard, seconds))
			still := stood()
			_, period, worst := line(at)
			want := 60 * cues.Rate / rate
			t.Logf("%g beats a minute: %d beats in %g s, period %.3f samples (%+.1f ppm), worst error %.3f ms; the machine stood still for %v at most",
				rate, len(at), seconds, period, (period/want-1)*1e6, worst/48, still)
			if worst > 48 && still > soundtest.Overloaded {
				if try == 4 {
					soundtest.Busy(t, "its clock's ticks came up to %v late", still)
					break
				}
				continue
			}
			require.InDelta(t, seconds*rate/60, float64(len(at)), 1.01, "no beat is missing, none is doubled")
			require.InDelta(t, 1, period/want, 1e-4)
			require.LessOrEqual(t, worst, 48.0, "1 ms")
			break
		}
	}
}
