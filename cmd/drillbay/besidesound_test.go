package main

import (
	"encoding/binary"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"drillbay/camera/clip"
	"drillbay/camera/frame"
	"drillbay/cues/ear"
)

// sounding writes a clip of some seconds in whose sound strikes are heard in the
// noise of a range, sounds of our own: 3 ms of noise that dies away (common practice
// for the length of a strike). The sound begins so much later than the pictures, s.
func sounding(t *testing.T, name string, seconds, late float64, strikes ...float64) string {
	t.Helper()
	ffmpeg, err := exec.LookPath("ffmpeg")
	if err != nil {
		t.Skip("ffmpeg is not installed")
	}
	dir := t.TempDir()
	silent, raw, out := filepath.Join(dir, "silent.avi"), filepath.Join(dir, "sound.raw"), filepath.Join(dir, name)
	w, err := clip.NewWriter(silent, 64, 48, 30)
	require.NoError(t, err)
	p := frame.New(64, 48, frame.Sub420)
	for i := range int(30 * seconds) {
		p.At = time.Duration(float64(i) / 30 * float64(time.Second))
		p.Y[i%len(p.Y)]++
		require.NoError(t, w.Add(p))
	}
	require.NoError(t, w.Close())
	dice := rand.New(rand.NewPCG(uint64(len(name)), 5))
	samples := make([]float32, int(ear.Rate*(seconds-late)))
	for i := range samples {
		samples[i] = float32(0.002 * dice.NormFloat64())
	}
	for _, s := range strikes {
		for k := range ear.Rate / 20 {
			if i := int(ear.Rate*(s-late)) + k; i < len(samples) {
				samples[i] += float32(0.5 * dice.NormFloat64() * math.Exp(-float64(k)/ear.Rate/0.003))
			}
		}
	}
	b := make([]byte, 4*len(samples))
	for i, v := range samples {
		binary.LittleEndian.PutUint32(b[4*i:], math.Float32bits(v))
	}
	require.NoError(t, os.WriteFile(raw, b, 0o600))
	said, err := exec.Command(ffmpeg, "-v", "error", "-y", "-i", silent, "-itsoffset", strconv.FormatFloat(late, 'f', -1, 64), "-f", "f32le", "-ar", strconv.Itoa(ear.Rate), "-ac", "1", "-i", raw, "-c:v", "mjpeg", "-c:a", "aac", "-b:a", "128k", out).CombinedOutput()
	require.NoError(t, err, string(said))
	return out
}

// Two clips whose clocks differ are laid on each other by the strikes in their sound,
// also where the sound of one begins later than its pictures.
func TestTwoClipsAreLaidOnEachOtherByTheStrikes(t *testing.T) {
	if testing.Short() {
		t.Skip("makes clips with sound")
	}
	for _, late := range []float64{0, 0.4} {
		a := sounding(t, "line.mp4", 9, 0, 1.5, 4.1, 7.3)
		b := sounding(t, "front.mov", 9, late, 1.5+0.735, 4.1+0.735, 7.3+0.735)
		out := filepath.Join(t.TempDir(), "both.avi")
		status, said, problems := command("beside", a, b, "--out", out)
		require.Equal(t, exitDone, status, problems)
		var offset float64
		var n, ms int
		_, err := fmt.Sscanf(said, "The same moment is %f s later in front.mov, by the sound of %d strikes (± %d ms).", &offset, &n, &ms)
		require.NoError(t, err, said)
		t.Log(said)
		require.InDelta(t, 0.735, offset, 0.03, "sound begins %v s late", late)
		require.Equal(t, 3, n)
	}
}

// One strike alone decides nothing: it is said why the motion is asked.
func TestOneStrikeAloneIsNotGoneBy(t *testing.T) {
	if testing.Short() {
		t.Skip("makes clips with sound")
	}
	a, b := sounding(t, "line.mp4", 4, 0, 1.5), sounding(t, "front.mov", 4, 0, 2.2)
	status, _, problems := command("beside", a, b, "--out", filepath.Join(t.TempDir(), "both.avi"))
	require.Equal(t, 1, status)
	require.Contains(t, problems, "one strike alone is heard in both")
	require.Contains(t, problems, "--offset")
}
