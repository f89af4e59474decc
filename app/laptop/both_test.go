package laptop

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drillbay/camera"
	"drillbay/drills/stage"
)

func TestGradesOfTwoCameras(t *testing.T) {
	lost := hd(30)
	lost.Missed = 8
	gone := CameraFigures{Err: errors.New("no space left on the bus")}
	for _, c := range []struct {
		name          string
		alone, first  CameraFigures
		second        CameraFigures
		want          Grade
		says, figures string
	}{
		{"both keep their rate", hd(30), hd(29.9), hd(30), Good, "", "29.9 and 30.0 frames a second together"},
		{"the first one slows down", hd(30), hd(27), hd(30), Poor, "30.0 frames a second alone", "27.0 and 30.0"},
		{"the second one is slow", hd(30), hd(30), hd(12), Poor, "the second camera: switch on more light", "30.0 and 12.0"},
		{"the second one loses pictures", hd(30), hd(30), lost, Poor, "the second camera: frames are lost", "0 and 8 lost"},
		{"the first one loses pictures", hd(30), lost, hd(30), Poor, "the first camera: frames are lost", "8 and 0 lost"},
		{"the bus is full", hd(30), hd(30), gone, Poor, "the second camera shows no picture while both are open (no space left on the bus)", ""},
		{"a slow one alone", hd(25), hd(25), hd(30), Fair, "the first camera: more light", ""},
		{"no camera", CameraFigures{Err: camera.ErrNoCamera}, gone, gone, NotRun, "shows no picture", ""},
	} {
		f := JudgeBoth(BothFigures{c.alone, c.first, c.second})
		assert.Equal(t, c.want, f.Grade, c.name)
		assert.Contains(t, f.Remedy, c.says, c.name)
		assert.Contains(t, f.Figure, c.figures, c.name)
	}
}

// Both cameras of a drawn bay are watched at once, each at its own rate.
func TestTwoCamerasAreWatchedAtOnce(t *testing.T) {
	if testing.Short() {
		t.Skip("watches cameras for some seconds")
	}
	s := stage.Practice(1, 160, 90, 30)
	remove, err := stage.Register(s, func() bool { return false })
	require.NoError(t, err)
	defer remove()
	clock := camera.NewSystemClock()
	alone, err := LookAtCamera(stage.Drawn, clock)
	require.NoError(t, err)
	_, err = LookAtBoth(alone, stage.Drawn, clock)
	require.ErrorContains(t, err, "cannot show both views")
	from := clock.Now()
	b, err := LookAtBoth(alone, stage.DrawnOther, clock)
	require.NoError(t, err)
	require.Less(t, clock.Now()-from, 2*watchCamera, "at once")
	for _, c := range []CameraFigures{b.First, b.Second} {
		require.NoError(t, c.Err)
		require.Greater(t, c.Frames, 30)
		require.Equal(t, 160, c.Mode.Width)
	}
	require.Equal(t, stage.DrawnOther, b.Second.Name)
	t.Log(JudgeBoth(b).Figure)
}

// The verdict with both views is that of a window that practises before two cameras.
func TestTheVerdictOfTwoCamerasIsTimed(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("the window is a script of the shell here")
	}
	path := filepath.Join(t.TempDir(), "drillbay-window")
	require.NoError(t, os.WriteFile(path, []byte("#!/bin/sh\n[ \"$*\" = \"--timed --size 640x360 --rate 30 --both\" ] && echo 1.7"), 0o755))
	f := TimeBothVerdict(io.Discard, path, camera.Mode{Width: 640, Height: 360, Rate: 30})
	require.Equal(t, Finding{Check: "verdict, both", Figure: "1.7 s after the catch, in the window", Grade: Poor, Remedy: f.Remedy}, f)
	require.Contains(t, f.Remedy, "practise with one view")
	require.Equal(t, NotRun, TimeBothVerdict(io.Discard, "", camera.Mode{}).Grade)
	require.Greater(t, 1700*time.Millisecond, VerdictLimit)
}
