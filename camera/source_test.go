package camera

import (
	"image"
	"io/fs"
	"testing"
	"testing/synctest"
	"time"

	"github.com/pion/mediadevices/pkg/driver"
	_ "github.com/pion/mediadevices/pkg/driver/videotest"
	mediaframe "github.com/pion/mediadevices/pkg/frame"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drillbay/camera/frame"
)

// The module's own test camera, which knows nothing of this package.
func TestVideotestCamera(t *testing.T) {
	s, err := Open(Config{Name: "VideoTest", Pool: frame.NewPool(8 << 20)})
	require.NoError(t, err)
	var last time.Duration = -1
	for i := range 4 {
		p := <-s.Frames()
		assert.Equal(t, 640, p.Width)
		assert.Equal(t, 480, p.Height)
		assert.Equal(t, frame.Sub420, p.Sub)
		assert.False(t, p.Full, "YUYV is limited range")
		assert.Greater(t, p.At, last)
		if i == 0 {
			// The second of its seven bars, 75 % yellow.
			assert.Equal(t, uint8(210*75/100), p.Y[100*p.YStride+140])
			assert.Equal(t, uint8(16), p.Cb[50*p.CStride+70])
			assert.Equal(t, uint8(146), p.Cr[50*p.CStride+70])
		}
		last = p.At
		p.Release()
	}
	require.NoError(t, s.Close())
	require.NoError(t, s.Close())
	_, more := <-s.Frames()
	assert.False(t, more)
	assert.Equal(t, Closed, s.State().State)
	nothingLeft(t)
}

func TestUnpluggedCameraIsFoundAgainByName(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		first := newScript()
		unplug := plug(t, first, "range camera;usb-1", "video0")
		s, clock := start(t, "range camera")
		first.reads <- reading{img: i420(64, 48, 1)}
		p := <-s.Frames()
		before := p.At
		p.Release()
		until(t, s, clock, Live)
		unplug()
		first.reads <- reading{err: errUnplugged}
		e := until(t, s, clock, NoSignal)
		assert.ErrorIs(t, e.Err, errUnplugged)
		e = until(t, s, clock, Searching)
		assert.ErrorContains(t, e.Err, "not connected")

		second := newScript()
		plug(t, newScript(), "another camera", "video1")
		plug(t, second, "range camera;usb-2", "video2")
		stepUntil(t, clock, func() bool { return second.times() == 1 })
		second.reads <- reading{img: i420(64, 48, 2)}
		p = <-s.Frames()
		until(t, s, clock, Live)
		assert.Equal(t, uint8(2), p.Y[0])
		assert.Greater(t, p.At, before, "the capture clock goes on")
		p.Release()
		shut(s, clock)
		first.wasClosed(t, 1)
		second.wasClosed(t, 1)
	})
}

func TestStalledCameraIsNoSignalInHalfASecondAndReopened(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		c := newScript()
		plug(t, c, "stalling camera", "stall0")
		s, clock := start(t, "stalling camera")
		c.reads <- reading{img: i420(64, 48, 1)}
		(<-s.Frames()).Release()
		lost := clock.Now()
		e := until(t, s, clock, NoSignal)
		assert.LessOrEqual(t, e.At-lost, 600*time.Millisecond, "half a second, and at most two looks of the watch")
		assert.ErrorContains(t, e.Err, "cable")

		// It recovers by itself.
		c.reads <- reading{img: i420(64, 48, 2)}
		(<-s.Frames()).Release()
		until(t, s, clock, Live)

		// It stalls for good, and is closed and opened again.
		until(t, s, clock, NoSignal)
		stepUntil(t, clock, func() bool { return c.times() == 2 })
		c.reads <- reading{img: i420(64, 48, 3)}
		(<-s.Frames()).Release()
		until(t, s, clock, Live)
		shut(s, clock)
		assert.Equal(t, 2, c.opened)
		c.wasClosed(t, 2)
		assert.Zero(t, s.Stats().Abandoned)
	})
}

// A driver may block for ever in Read and in Close.
func TestHungDriverIsAbandoned(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		c := newScript()
		c.deaf, c.closeOK = true, make(chan struct{})
		plug(t, c, "hanging camera", "hang0")
		s, clock := start(t, "hanging camera")
		c.reads <- reading{img: i420(64, 48, 1)}
		(<-s.Frames()).Release()
		shut(s, clock)
		assert.Equal(t, 1, s.Stats().Abandoned)
		assert.Less(t, clock.Now(), 3*time.Second)
		// What it still delivers goes nowhere, and it ends.
		c.reads <- reading{img: i420(64, 48, 2)}
		close(c.closeOK)
	})
}

// A camera that takes longer to open than is waited for is not lost for that:
// once it opens, its pictures come.
func TestACameraThatOpensLateIsNotLost(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		c := newScript()
		c.openOK = make(chan struct{})
		plug(t, c, "late camera", "late0")
		s, clock := start(t, "late camera")
		stepUntil(t, clock, func() bool { return s.Stats().Abandoned > 0 })
		close(c.openOK)
		go func() { c.reads <- reading{img: i420(64, 48, 1)} }()
		stepUntil(t, clock, func() bool {
			select {
			case p := <-s.Frames():
				p.Release()
				return true
			default:
				return false
			}
		})
		until(t, s, clock, Live)
		shut(s, clock)
	})
}

func TestGarbageIsCountedAndModeChangesAreFollowed(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		c := newScript()
		plug(t, c, "odd camera", "odd0")
		s, clock := start(t, "odd camera")
		short := i420(64, 48, 1)
		short.Y = short.Y[:100]
		narrow := i420(64, 48, 1)
		narrow.YStride = -64
		var none *image.YCbCr
		for _, img := range []image.Image{nil, none, i420(2, 2, 1), image.NewRGBA(image.Rect(0, 0, 20000, 1)),
			short, narrow, i420(0, 0, 1)} {
			c.reads <- reading{img: img}
		}
		for _, img := range []image.Image{i420(64, 48, 1), i420(32, 24, 2), i420(63, 47, 3), image.NewRGBA(image.Rect(0, 0, 40, 30))} {
			c.reads <- reading{img: img}
			p := <-s.Frames()
			assert.Equal(t, img.Bounds().Size(), image.Pt(p.Width, p.Height))
			p.Release()
		}
		assert.Equal(t, 7, s.Stats().Bad)
		for range badLimit {
			c.reads <- reading{}
		}
		shut(s, clock)
	})
}

func TestSlowConsumerLosesTheOldest(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		c := newScript()
		plug(t, c, "fast camera", "fast0")
		s, clock := start(t, "fast camera")
		for i := range 10 {
			clock.set(time.Duration(i) * 33 * time.Millisecond)
			c.reads <- reading{img: i420(64, 48, uint8(i))}
		}
		require.NoError(t, waitFor(func() bool { return s.Stats().Frames == 10 }))
		for i := 6; i < 10; i++ {
			p := <-s.Frames()
			assert.Equal(t, uint8(i), p.Y[0])
			assert.EqualValues(t, i, p.Index)
			p.Release()
		}
		assert.Equal(t, 6, s.Stats().Dropped)
		shut(s, clock)
	})
}

func TestFullPoolDropsAndGoesOn(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		c := newScript()
		plug(t, c, "camera of a small pool", "pool0")
		clock := newHandClock()
		s, err := Open(Config{Name: "camera of a small pool", Pool: frame.NewPool(64*48*3/2 + 10), Clock: clock})
		require.NoError(t, err)
		c.reads <- reading{img: i420(64, 48, 1)}
		p := <-s.Frames()
		c.reads <- reading{img: i420(64, 48, 2)}
		require.NoError(t, waitFor(func() bool { return s.Stats().NoMemory == 1 }))
		p.Release()
		c.reads <- reading{img: i420(64, 48, 3)}
		p = <-s.Frames()
		assert.Equal(t, uint8(3), p.Y[0])
		assert.EqualValues(t, 2, p.Index, "the dropped frame is missing from the count")
		p.Release()
		shut(s, clock)
	})
}

func TestForbiddenCameraSaysWhatToDo(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		c := newScript()
		c.openErr = fs.ErrPermission
		plug(t, c, "locked camera", "lock0")
		s, clock := start(t, "locked camera")
		require.NoError(t, waitFor(func() bool { return s.State().Err != nil }))
		assert.ErrorContains(t, s.State().Err, "group video")
		assert.Equal(t, Searching, s.State().State)
		c.mu.Lock()
		c.openErr = nil
		c.mu.Unlock()
		stepUntil(t, clock, func() bool { return c.times() == 1 })
		c.reads <- reading{img: i420(64, 48, 1)}
		until(t, s, clock, Live)
		shut(s, clock)

		for _, d := range Devices() {
			if d.Name == "locked camera" {
				assert.NoError(t, d.Err)
				assert.Equal(t, []Mode{{64, 48, 30, "I420"}}, d.Modes)
			}
		}
	})
}

// A mode that promises 60 and gives 10 is left for one that keeps its word.
func TestModeThatFallsShortIsLeft(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		c := newScript(mode(1280, 720, 60, mediaframe.FormatYUYV), mode(1280, 720, 30, mediaframe.FormatMJPEG))
		plug(t, c, "boasting camera", "boast0")
		s, clock := start(t, "boasting camera")
		for i := 0; s.State().Mode.Rate != 30 && i < 100; i++ {
			clock.set(time.Duration(i) * 100 * time.Millisecond)
			c.reads <- reading{img: i420(64, 48, 1)}
			(<-s.Frames()).Release()
		}
		assert.Equal(t, Mode{1280, 720, 30, "MJPEG"}, s.State().Mode)
		assert.Equal(t, []Mode{{1280, 720, 60, "YUYV"}, {1280, 720, 30, "MJPEG"}}, s.Modes(), "all are offered while it is in use")
		shut(s, clock)
	})
}

func TestPickTellsEqualNamesByLabel(t *testing.T) {
	plug(t, newScript(), "twin", "twin-a")
	plug(t, newScript(), "twin", "twin-b")
	label := func(d driver.Driver) string { return d.Info().Label }
	assert.Equal(t, "twin-b", label(pick(registered(), "twin", "twin-b", 0)))
	assert.Equal(t, "twin-a", label(pick(registered(), "twin", "gone", 0)))
	assert.Nil(t, pick(registered(), "nobody", "", 0))
	assert.Nil(t, pick(nil, "", "", 3))
}

func TestRescanKeepsDrawnCameras(t *testing.T) {
	// A rescan forgets cameras that no system has, the module's test camera
	// among them: it is put back.
	m := driver.GetManager()
	tests := m.Query(func(d driver.Driver) bool { return d.Info().Label == "VideoTest" })
	t.Cleanup(func() {
		for _, d := range tests {
			require.NoError(t, m.Register(d, d.Info()))
		}
	})
	plug(t, newScript(), "drawn one", DrawnLabel)
	draws := 0
	draw := func() error {
		draws++
		plug(t, newScript(), "drawn one", DrawnLabel)
		return nil
	}
	for range 2 {
		require.NoError(t, Rescan(draw))
		assert.NotNil(t, pick(registered(), "drawn one", DrawnLabel, 0))
	}
	assert.LessOrEqual(t, draws, 2)
}
