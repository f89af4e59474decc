package app

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"drillbay/drills/book"
)

func TestCameraModeAndTapsAreChosenAndKept(t *testing.T) {
	a := newTrial()
	fast := book.CameraMode{Width: 1280, Height: 720, Rate: 60, Format: "MJPEG"}
	a.d.Cameras = func() []CameraLine {
		return []CameraLine{{Name: "Front", Modes: []book.CameraMode{{Width: 1280, Height: 720, Rate: 30, Format: "YUYV"}}}, {Name: "Bay cam", Modes: []book.CameraMode{{Width: 1920, Height: 1080, Rate: 30, Format: "MJPEG"}, fast}}}
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
	require.Equal(t, book.Setup{}.Mode, a.kept[len(a.kept)-1].Mode, "a mode is one camera's")
}

func TestAModeOfTheCameraInUseIsChosenWithoutChoosingItFirst(t *testing.T) {
	a := newTrial()
	a.d.Cameras = func() []CameraLine {
		return []CameraLine{{Name: "Front"}, {Name: "Bay cam", InUse: true, Modes: []book.CameraMode{{Width: 1280, Height: 720, Rate: 60, Format: "MJPEG"}, {Width: 1280, Height: 720, Rate: 30, Format: "YUYV"}}}}
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

// Voice, beat and tones are each made quieter, and heard at once so.
func TestEachSoundHasItsLoudness(t *testing.T) {
	a := marta()
	var tried []int
	var at []book.Quieter
	a.d.Try = func(kind int, s book.Setup) { tried, at = append(tried, kind), append(at, s.Quieter) }
	a.key(Settings)
	for range loudRow {
		a.key(Next)
	}
	require.Empty(t, tried)
	a.key(Left)
	a.key(Next)
	a.key(Left)
	a.key(Left)
	a.key(Right)
	require.Equal(t, []int{0, 1, 1, 1}, tried)
	require.Equal(t, book.Quieter{Voice: 1, Beat: 1}, at[3])
	require.Equal(t, book.Quieter{Voice: 1, Beat: 2}, at[2])
	a.key(Go)
	require.Equal(t, book.Quieter{Voice: 1, Beat: 1}, a.kept[len(a.kept)-1].Quieter)
	require.InDelta(t, 0.7079, book.Quieter{}.Share(1), 1e-4, "3 dB (IEC 60027-3: 20 times the logarithm of a ratio of amplitudes)")
	require.Equal(t, 1.0, book.Quieter{}.Share(0))
}
