package clip

import (
	"errors"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"drillbay/camera/frame"
)

// painted is a picture whose brightness rises to the right and with n.
func painted(n int, full bool) *frame.Picture {
	p := frame.New(64, 48, frame.Sub420)
	for i := range p.Y {
		p.Y[i] = byte(40 + i%64*2 + n*5)
	}
	for i := range p.Cb {
		p.Cb[i], p.Cr[i] = 120, 140
	}
	p.Full, p.At = full, time.Duration(float64(n)/25*float64(time.Second))
	return p
}

func written(t *testing.T, full bool, places ...int) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "rep.avi")
	w, err := NewWriter(path, 64, 48, 25)
	require.NoError(t, err)
	for _, n := range places {
		require.NoError(t, w.Add(painted(n, full)))
	}
	_, err = os.Stat(path)
	require.ErrorIs(t, err, os.ErrNotExist, "not there under its name before it is whole")
	require.NoError(t, w.Close())
	require.NoError(t, w.Close())
	return path
}

func readAll(t *testing.T, path string) (info Info, out []*frame.Picture) {
	t.Helper()
	r, err := Open(path, 0, nil)
	require.NoError(t, err)
	defer r.Close()
	for {
		p, err := r.Next()
		if errors.Is(err, io.EOF) {
			return r.Info(), out
		}
		require.NoError(t, err)
		out = append(out, p)
	}
}

func TestAClipComesBackAsItWasWritten(t *testing.T) {
	path := written(t, true, 0, 1, 2, 3, 4)
	info, pics := readAll(t, path)
	require.Equal(t, Info{Name: "rep.avi", Width: 64, Height: 48, FPS: 25, Frames: 5, Shrunk: 1}, info)
	for n, p := range pics {
		want := painted(n, true)
		require.Equal(t, want.At, p.At)
		for i, y := range want.Y {
			require.InDelta(t, float64(y), float64(p.Y[i]), 6, "frame %d, pixel %d", n, i)
		}
	}
	entries, err := os.ReadDir(filepath.Dir(path))
	require.NoError(t, err)
	require.Len(t, entries, 1, "nothing else is left")
}

// A gap is filled with the frame before it, so that the time stays true; a
// frame that comes twice is written once.
func TestAClipKeepsItsTime(t *testing.T) {
	_, pics := readAll(t, written(t, true, 10, 11, 11, 15))
	require.Len(t, pics, 6)
	for i, n := range []int{10, 11, 11, 11, 11, 15} {
		require.InDelta(t, float64(painted(n, true).Y[0]), float64(pics[i].Y[0]), 6)
	}
}

// Limited range is widened: 16 is black and 235 white (ITU-R BT.601).
func TestALimitedRangeIsWidened(t *testing.T) {
	_, pics := readAll(t, written(t, false, 3))
	for i, y := range painted(3, false).Y {
		require.InDelta(t, (float64(y)-16)*255/219, float64(pics[0].Y[i]), 7)
	}
}

func TestOrdinaryProgramsPlayTheClip(t *testing.T) {
	probe, err := exec.LookPath("ffprobe")
	if err != nil {
		t.Skip("ffprobe is not installed")
	}
	path := written(t, true, 0, 1, 2, 3, 4, 5, 6, 7)
	out, err := exec.Command(probe, "-v", "error", "-count_frames", "-select_streams", "v", "-show_entries",
		"stream=codec_name,width,height,avg_frame_rate,nb_read_frames", "-of", "csv=p=0", path).CombinedOutput()
	require.NoError(t, err, string(out))
	require.Equal(t, "mjpeg,64,48,25/1,8", strings.TrimSpace(string(out)))
}

func TestAClipThatCannotBeWrittenLeavesNothing(t *testing.T) {
	dir := t.TempDir()
	w, err := NewWriter(filepath.Join(dir, "a.avi"), 64, 48, 25)
	require.NoError(t, err)
	require.ErrorContains(t, w.Add(frame.New(32, 48, frame.Sub420)), "32 × 48")
	require.Error(t, w.Close())
	w, err = NewWriter(filepath.Join(dir, "b.avi"), 64, 48, 25)
	require.NoError(t, err)
	require.ErrorContains(t, w.Close(), "no frame")
	w, err = NewWriter(filepath.Join(dir, "c.avi"), 64, 48, 25)
	require.NoError(t, err)
	require.NoError(t, w.Add(painted(0, true)))
	w.Drop()
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	require.Empty(t, entries)
	_, err = NewWriter(filepath.Join(dir, "nowhere", "d.avi"), 64, 48, 25)
	require.ErrorContains(t, err, "d.avi")
	_, err = NewWriter(filepath.Join(dir, "d.avi"), 64, 48, 0)
	require.Error(t, err)
}
