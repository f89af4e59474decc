package app

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

func TestCameraModeAndTapsAreChosenAndKept(t *testing.T) {
	a := newTrial()
	fast := CameraMode{1280, 720, 60, "MJPEG"}
	a.d.Cameras = func() []CameraLine {
		return []CameraLine{{Name: "Front", Modes: []CameraMode{{1280, 720, 30, "YUYV"}}}, {Name: "Bay cam", Modes: []CameraMode{{1920, 1080, 30, "MJPEG"}, fast}}}
	}
	a.key(Settings)
	for end := time.Now().Add(10 * time.Second); a.step().Says("looking for cameras"); {
		require.True(t, time.Now().Before(end))
	}
	require.True(t, a.step().Says("the best one"))
	for range cameraRow {
		a.key(Down)
	}
	a.key(Right)
	require.True(t, a.key(Right).Says("Bay cam"))
	a.key(Down)
	a.key(Right)
	require.True(t, a.key(Right).Says("1280 × 720, 60/s, MJPEG"))
	a.key(Down)
	a.key(Right)
	a.key(Go)
	kept := a.kept[len(a.kept)-1]
	require.Equal(t, "Bay cam", kept.Camera)
	require.Equal(t, fast, kept.Mode)
	require.True(t, kept.Taps)

	a.key(Settings) // a camera that was unplugged stays chosen, and is said to be away
	a.d.Cameras = func() []CameraLine { return nil }
	a.key(Back)
	a.key(Settings)
	for end := time.Now().Add(10 * time.Second); !a.step().Says("Bay cam, not here"); {
		require.True(t, time.Now().Before(end))
	}
	for range cameraRow {
		a.key(Down)
	}
	require.True(t, a.key(Left).Says("the best one"))
	a.key(Go)
	require.Equal(t, Setup{}.Mode, a.kept[len(a.kept)-1].Mode, "a mode is one camera's")
}

func TestAModeOfTheCameraInUseIsChosenWithoutChoosingItFirst(t *testing.T) {
	a := newTrial()
	a.d.Cameras = func() []CameraLine {
		return []CameraLine{{Name: "Front"}, {Name: "Bay cam", InUse: true, Modes: []CameraMode{{1280, 720, 60, "MJPEG"}, {1280, 720, 30, "YUYV"}}}}
	}
	a.key(Settings)
	for end := time.Now().Add(10 * time.Second); a.step().Says("looking for cameras"); {
		require.True(t, time.Now().Before(end))
	}
	for range cameraRow + 1 {
		a.key(Down)
	}
	a.key(Right)
	v := a.key(Right)
	require.True(t, v.Says("1280 × 720, 30/s, YUYV"))
	require.True(t, v.Says("Bay cam"), "a mode is one camera's")
}
