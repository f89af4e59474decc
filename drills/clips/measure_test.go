package clips

import (
	"context"
	"math"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"drillbay/camera/frame"
	"drillbay/camera/lookback"
	"drillbay/drills"
)

// A clip of our own is opened as the window does it.
func TestAClipIsMeasuredForTheWindow(t *testing.T) {
	path := filepath.Join("..", "..", "testdata", "catch.avi")
	job := Job{Path: path, Distance: 3.2, Field: 70}
	last := 0.0
	reps, err := Measure(context.Background(), job, func(share float64) {
		require.GreaterOrEqual(t, share, last)
		last = share
	})
	require.NoError(t, err)
	require.InDelta(t, 1, last, 0.05, "it is told how far it is")
	require.NotEmpty(t, reps)
	for _, r := range reps {
		require.NotNil(t, r.Picture)
		m := r.Rep.Moments
		require.InDelta(t, drills.FirstOf(m.Level, m.Catch, m.Top, m.Start), r.Picture.Seconds(), 0.05, "the picture is that of the level moment")
		require.NotEmpty(t, r.Overlay.Trace)
		times := r.Loop.Times()
		require.InDelta(t, m.BackStart-lookback.Lead, times[0], 0.05, "from before the turn-round")
		require.InDelta(t, m.Catch+lookback.Tail, times[len(times)-1], 0.15, "to after the catch")
		require.InDelta(t, 30, float64(len(times)-1)/(times[len(times)-1]-times[0]), 0.5, "every picture of it")
		shows := r.Loop.Frame(r.Picture.Seconds())
		require.InDelta(t, r.Picture.Seconds(), shows.Seconds(), 1e-6)
		off := 0.0
		for i, y := range r.Picture.Y {
			off += math.Abs(float64(y) - float64(shows.Y[i]))
		}
		require.Less(t, off/float64(len(shows.Y)), 3.0, "the same picture")
		shows.Release()
		r.Loop.Release()
		require.NotContains(t, r.Rep.Why, asPlayed, "our own clips say it")
		r.Picture.Release()
	}

	ctx, cancel := context.WithCancel(context.Background())
	_, err = Measure(ctx, job, func(float64) { cancel() })
	require.ErrorIs(t, err, context.Canceled)
	job.Path = filepath.Join(t.TempDir(), "none.mp4")
	_, err = Measure(context.Background(), job, func(float64) {})
	require.Error(t, err)
	if _, err := exec.LookPath("ffmpeg"); err == nil {
		job.Path = filepath.Join(t.TempDir(), "phone.mp4")
		out, err := exec.Command("ffmpeg", "-v", "error", "-i", path, "-c:v", "libx264", "-preset", "ultrafast", "-crf", "10", "-pix_fmt", "yuv420p", job.Path).CombinedOutput()
		require.NoError(t, err, string(out))
		reps, err = Measure(context.Background(), job, func(float64) {})
		require.NoError(t, err)
		require.NotEmpty(t, reps)
		for _, r := range reps {
			require.Contains(t, r.Rep.Why, asPlayed)
			r.Picture.Release()
		}
		// As slow motion that does not say so, until it is told what was taken.
		slow := job
		slow.Path, slow.Rate = filepath.Join(t.TempDir(), "slow.mp4"), 30
		out, err = exec.Command("ffmpeg", "-v", "error", "-i", path, "-vf", "setpts=4*PTS", "-fps_mode", "passthrough", "-c:v", "libx264", "-preset", "ultrafast", "-crf", "10", "-pix_fmt", "yuv420p", slow.Path).CombinedOutput()
		require.NoError(t, err, string(out))
		told, err := Measure(context.Background(), slow, func(float64) {})
		require.NoError(t, err)
		require.Len(t, told, len(reps))
		for i, r := range told {
			require.NotContains(t, r.Rep.Why, asPlayed)
			require.InDelta(t, reps[i].Rep.Moments.Catch, r.Rep.Moments.Catch, 0.05)
			r.Picture.Release()
		}
	}
	job.Path, job.Distance = path, 400
	_, err = Measure(context.Background(), job, func(float64) {})
	require.Error(t, err, "no lens stands so far away")
}

func TestLoopsOfAClipKeepToTheirMemory(t *testing.T) {
	var pictures []*frame.Picture
	for i := range 40 {
		p := frame.New(64, 36, frame.Sub420)
		for k := range p.Y {
			p.Y[k] = byte(k*k*7 + i)
		}
		p.At = time.Duration(i) * time.Second / 30
		pictures = append(pictures, p)
	}
	whole := squeeze(pictures, 0, 2, 1<<20)
	require.Len(t, whole.Times(), 40)
	half := squeeze(pictures, 0, 2, whole.bytes*2/3)
	require.Len(t, half.Times(), 20)
	require.Nil(t, squeeze(pictures, 0, 2, whole.bytes/10))
	require.Nil(t, squeeze(pictures, 5, 6, 1<<20), "no picture, no loop")
}
