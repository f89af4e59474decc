package live

import (
	"context"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/app"
)

// A clip of our own is opened as the window does it.
func TestAClipIsMeasuredForTheWindow(t *testing.T) {
	path := filepath.Join("..", "..", "..", "testdata", "catch.avi")
	job := app.ClipJob{Path: path, Distance: 3.2, Field: 70}
	last := 0.0
	reps, err := measureClip(context.Background(), job, func(share float64) {
		require.GreaterOrEqual(t, share, last)
		last = share
	})
	require.NoError(t, err)
	require.InDelta(t, 1, last, 0.05, "it is told how far it is")
	require.NotEmpty(t, reps)
	for _, r := range reps {
		require.NotNil(t, r.Picture)
		m := r.Rep.Moments
		require.InDelta(t, FirstOf(m.Level, m.Catch, m.Top, m.Start), r.Picture.Seconds(), 0.05, "the picture is that of the level moment")
		require.NotEmpty(t, r.Overlay.Trace)
		require.NotContains(t, r.Rep.Why, asPlayed, "our own clips say it")
		r.Picture.Release()
	}

	ctx, cancel := context.WithCancel(context.Background())
	_, err = measureClip(ctx, job, func(float64) { cancel() })
	require.ErrorIs(t, err, context.Canceled)
	job.Path = filepath.Join(t.TempDir(), "none.mp4")
	_, err = measureClip(context.Background(), job, func(float64) {})
	require.Error(t, err)
	if _, err := exec.LookPath("ffmpeg"); err == nil {
		job.Path = filepath.Join(t.TempDir(), "phone.mp4")
		out, err := exec.Command("ffmpeg", "-v", "error", "-i", path, "-c:v", "libx264", "-preset", "ultrafast", "-crf", "10", "-pix_fmt", "yuv420p", job.Path).CombinedOutput()
		require.NoError(t, err, string(out))
		reps, err = measureClip(context.Background(), job, func(float64) {})
		require.NoError(t, err)
		require.NotEmpty(t, reps)
		for _, r := range reps {
			require.Contains(t, r.Rep.Why, asPlayed)
			r.Picture.Release()
		}
	}
	job.Path, job.Distance = path, 400
	_, err = measureClip(context.Background(), job, func(float64) {})
	require.Error(t, err, "no lens stands so far away")
}
