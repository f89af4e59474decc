package main

import (
	"encoding/json"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/camera/frame"
	"drillbay/camera/virtual"
	"drillbay/drills/clips"
)

// A clip of the virtual bay as a phone has it, H.264 and slow motion, is
// measured like the clip itself.
func TestMeasureTakesAPhonesClip(t *testing.T) {
	for _, tool := range []string{"ffmpeg", "ffprobe"} {
		if _, err := exec.LookPath(tool); err != nil {
			t.Skipf("%s is not installed: clips of phones are not read", tool)
		}
	}
	dir := t.TempDir()
	own := filepath.Join(dir, "own.avi")
	drawn(t, own)
	asked := false
	measured := func(args ...string) (o struct {
		Width, Height int
		FPS           float64
		Reps          []struct {
			Catch float64 `json:"catch_s"`
			Line  float64 `json:"shaft_line_deg"`
			Sigma float64 `json:"shaft_line_sigma_deg"`
		}
	}) {
		t.Helper()
		status, out, problems := command(append([]string{"measure", "--json", "--distance", "3.2", "--fov", "70"}, args...)...)
		require.Equal(t, exitDone, status, problems)
		asked = strings.Contains(problems, "Was it slow motion?")
		require.NoError(t, json.Unmarshal([]byte(out), &o))
		return o
	}
	want := measured(own)
	require.Len(t, want.Reps, 1)
	for name, args := range map[string][]string{
		"phone.mp4": {"-vf", "scale=1920:1080"},
		"slow.mov":  {"-vf", "setpts=8*PTS", "-r", "3.75", "-movflags", "use_metadata_tags", "-metadata", "recorder.capture.fps=30"},
	} {
		path := filepath.Join(dir, name)
		all := append(append([]string{"-v", "error", "-i", own}, args...), "-c:v", "libx264", "-preset", "ultrafast", "-crf", "10", "-pix_fmt", "yuv420p", path)
		out, err := exec.Command("ffmpeg", all...).CombinedOutput()
		require.NoError(t, err, string(out))
		got := measured(path)
		require.Len(t, got.Reps, 1, name)
		require.InDelta(t, want.Reps[0].Catch, got.Reps[0].Catch, 0.05, name)
		require.InDelta(t, 0, got.Reps[0].Line, 3*got.Reps[0].Sigma, "%s: as drawn", name)
		require.InDelta(t, 30, got.FPS, 0.2, name)
		require.Equal(t, name == "phone.mp4", asked, "%s: one clip says how fast it was taken, the other does not", name)
		if name == "phone.mp4" {
			require.Equal(t, [2]int{1920, 1080}, [2]int{got.Width, got.Height}, "the clip's own size")
		}
	}
}

// drawn writes a clip of one rep on the virtual bay.
func drawn(t *testing.T, path string) {
	t.Helper()
	s := virtual.Default()
	s.Width, s.Height = 640, 360
	s.Reps = []virtual.RepSpec{{Still: 0.8, Hold: 0.7}}
	b, err := virtual.New(s)
	require.NoError(t, err)
	var pics []*frame.Picture
	for i := range b.Frames() {
		p := frame.New(s.Width, s.Height, frame.Sub420)
		require.NoError(t, b.Draw(i, p))
		pics = append(pics, p)
	}
	require.NoError(t, clips.WriteClip(path, pics))
}
