package laptop

import (
	"context"
	"errors"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drillbay/camera"
)

func hd(rate float64) CameraFigures {
	return CameraFigures{Name: "a", Mode: camera.Mode{Width: 1280, Height: 720, Rate: 30}, Rate: rate, Frames: 100}
}

func TestGrades(t *testing.T) {
	with := func(c CameraFigures, change func(*CameraFigures)) CameraFigures { change(&c); return c }
	disk := DiskFigures{Free: 50e9, Write: 200e6, Sync: Timing{5 * time.Millisecond, 9 * time.Millisecond}}
	sound := SoundFigures{Output: "loudspeaker", Input: "microphone", Delay: 0.06, Off: 0.004}
	laptop := ScreenFigures{1920, 1080, 15.6, 3, true}
	for _, c := range []struct {
		name string
		f    Finding
		want Grade
		says string
	}{
		{"camera good", JudgeCamera(hd(29.97)), Good, ""},
		{"camera in the dark", JudgeCamera(hd(15)), Poor, "light"},
		{"camera a little slow", JudgeCamera(hd(25)), Fair, "light"},
		{"camera loses frames", JudgeCamera(with(hd(30), func(c *CameraFigures) { c.Missed = 10 })), Poor, "hub"},
		{"camera loses one", JudgeCamera(with(hd(30), func(c *CameraFigures) { c.Missed = 1 })), Fair, "lost"},
		{"camera small", JudgeCamera(with(hd(30), func(c *CameraFigures) { c.Mode.Height = 480 })), Fair, "720"},
		{"camera tiny", JudgeCamera(with(hd(30), func(c *CameraFigures) { c.Mode.Height = 240 })), Poor, "720"},
		{"no camera", JudgeCamera(CameraFigures{Err: camera.ErrNoCamera}), NotRun, "virtual bay"},
		{"camera broken", JudgeCamera(CameraFigures{Err: errors.New("busy")}), Poor, "busy"},

		{"analysis quick", JudgeAnalysis(Timing{20 * time.Millisecond, 35 * time.Millisecond}, 12), Good, ""},
		{"analysis tight", JudgeAnalysis(Timing{30 * time.Millisecond, 60 * time.Millisecond}, 12), Fair, "power"},
		{"analysis slow", JudgeAnalysis(Timing{90 * time.Millisecond, 120 * time.Millisecond}, 12), Poor, "too slow"},

		{"sound good", JudgeSound(sound), Good, ""},
		{"sound late", JudgeSound(SoundFigures{Output: "a", Input: "b", Delay: 0.3}), Good, ""}, // the beat is shown as late
		{"sound too late", JudgeSound(SoundFigures{Output: "a", Input: "b", Delay: 0.7}), Fair, "wireless"},
		{"no microphone", JudgeSound(SoundFigures{Output: "a", Delay: math.NaN()}), Fair, "microphone"},
		{"delay not known", JudgeSound(SoundFigures{Output: "a", Input: "b", Delay: math.NaN()}), Fair, "measure"},
		{"delay not found", JudgeSound(SoundFigures{Output: "a", Input: "b", Delay: math.NaN(), NoDelay: errors.New("turn the sound up")}), Fair, "turn the sound up"},
		// The beat against the picture: 45 ms early and 125 ms late can be
		// noticed, 90 and 185 are not acceptable (ITU-R BT.1359-1).
		{"beat early", JudgeSound(SoundFigures{Output: "a", Input: "b", Off: -0.05}), Fair, "noticed"},
		{"beat too early", JudgeSound(SoundFigures{Output: "a", Input: "b", Off: -0.1}), Poor, "shown"},
		{"beat late", JudgeSound(SoundFigures{Output: "a", Input: "b", Off: 0.13}), Fair, "noticed"},
		{"beat too late", JudgeSound(SoundFigures{Output: "a", Input: "b", Off: 0.19}), Poor, "shown"},
		{"no output", JudgeSound(SoundFigures{}), Poor, "loudspeaker"},
		{"delay not in time", JudgeSound(SoundFigures{Output: "speaker", Input: "mic", Delay: math.NaN(), Off: math.NaN(), NoDelay: context.DeadlineExceeded}), Fair, "in time"},
		{"output broken", JudgeSound(SoundFigures{Err: errors.New("no card")}), Poor, "no card"},

		{"disk good", JudgeDisk(disk), Good, ""},
		{"disk full", JudgeDisk(DiskFigures{Free: 1e8}), Poor, "free"},
		{"disk nearly full", JudgeDisk(DiskFigures{Free: 2e9, Write: 2e8}), Fair, "clips"},
		{"disk slow", JudgeDisk(DiskFigures{Free: 50e9, Write: 1e6}), Fair, "own disk"},
		{"disk slow to sync", JudgeDisk(DiskFigures{Free: 50e9, Write: 1e8, Sync: Timing{time.Second, time.Second}}), Poor, "late"},
		{"disk fails", JudgeDisk(DiskFigures{Err: os.ErrPermission}), Poor, "permission"},

		{"screen good", JudgeScreen(laptop), Good, ""},
		{"screen small", JudgeScreen(ScreenFigures{1280, 720, 10, 4, true}), Fair, "larger"},
		{"screen tiny", JudgeScreen(ScreenFigures{800, 480, 5, 4, true}), Poor, "nearer"},
		{"screen's size not known", JudgeScreen(ScreenFigures{1920, 1080, 0, 3, true}), Fair, "diagonal"},
		{"screen that cannot be asked", JudgeScreen(ScreenFigures{There: true}), NotRun, "settings"},
		{"no screen", JudgeScreen(ScreenFigures{}), NotRun, "spoken"},
	} {
		assert.Equal(t, c.want, c.f.Grade, "%s: %+v", c.name, c.f)
		assert.Contains(t, c.f.Remedy, c.says, c.name)
		if c.want == Good {
			assert.Empty(t, c.f.Remedy, c.name)
			assert.NotEmpty(t, c.f.Figure, c.name)
		} else {
			assert.NotEmpty(t, c.f.Remedy, c.name)
		}
	}
}

// Capital height for 20 minutes of arc (ISO 9241-303), computed: 1080p of
// 13.3, 15.6 and 24 inches at 3 and 4 m.
func TestCapitalHeight(t *testing.T) {
	for _, c := range []struct{ inch, metres, px float64 }{
		{13.3, 3, 113.8}, {13.3, 4, 151.8}, {15.6, 3, 97.0}, {15.6, 4, 129.4}, {24, 3, 63.1}, {24, 4, 84.1},
	} {
		assert.InDelta(t, c.px, ScreenFigures{1920, 1080, c.inch, c.metres, true}.CapitalHeight(), 0.06)
	}
}

func TestTimeLeavesTheWarmUpOut(t *testing.T) {
	now, n := time.Duration(0), 0
	r := Time(100, func() time.Duration { return now }, func() {
		n++
		switch {
		case n <= 10:
			now += time.Second
		case n > 95:
			now += 9 * time.Millisecond
		default:
			now += 2 * time.Millisecond
		}
	})
	assert.Equal(t, Timing{2 * time.Millisecond, 9 * time.Millisecond}, r)
}

func TestDiskIsMeasuredAndLeftClean(t *testing.T) {
	folder := t.TempDir()
	now := time.Duration(0)
	d := WatchDisk(folder, func() time.Duration { now += time.Millisecond; return now })
	require.NoError(t, d.Err)
	assert.Positive(t, d.Free)
	assert.Equal(t, bulk/0.001, d.Write)
	assert.Equal(t, time.Millisecond, d.Sync.Median)
	left, err := os.ReadDir(folder)
	require.NoError(t, err)
	assert.Empty(t, left)
	assert.Error(t, WatchDisk(folder+"/nowhere", func() time.Duration { return 0 }).Err)
}

func TestTable(t *testing.T) {
	var b strings.Builder
	findings := []Finding{
		{"camera", "30.0 frames a second, 1280 × 720", Good, ""},
		{"sound", "", Poor, "connect a loudspeaker"},
	}
	require.NoError(t, Print(&b, findings))
	assert.Equal(t, strings.Join([]string{
		"check   figure                            grade",
		"camera  30.0 frames a second, 1280 × 720  good",
		"sound                                     poor",
		"        → connect a loudspeaker", asFound, ""}, "\n"), b.String())
	assert.Equal(t, Poor, Worst(findings))
	assert.Equal(t, Good, Worst(findings[:1]))
	assert.Equal(t, Fair, Worst([]Finding{{}}), "what was not run is not known to be good")
}

func TestTheVerdictIsTimed(t *testing.T) {
	for after, want := range map[time.Duration]Grade{600 * time.Millisecond: Good, 1300 * time.Millisecond: Fair, 1600 * time.Millisecond: Poor} {
		f := JudgeVerdict(after, "in the window", nil)
		require.Equal(t, want, f.Grade, after)
		require.Equal(t, fmt.Sprintf("%.1f s after the catch, in the window", after.Seconds()), f.Figure)
		require.Equal(t, want == Good, f.Remedy == "", "over the limit it says what to change")
	}
	require.Equal(t, Poor, JudgeVerdict(0, "", errors.New("no")).Grade)
}
