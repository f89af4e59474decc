package virtual

import (
	"image"
	"io"
	"testing"

	"github.com/pion/mediadevices/pkg/driver"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drillbay/camera/frame"
)

func named(name string) []driver.Driver {
	return driver.GetManager().Query(func(d driver.Driver) bool {
		return d.Info().Label == Label && d.Info().Name == name
	})
}

func TestBayIsACamera(t *testing.T) {
	s := small(RepSpec{})
	s.Name = "bay under test"
	dev, err := NewDevice(s, AsRead)
	require.NoError(t, err)
	remove, err := Register(dev)
	require.NoError(t, err)
	found := named(s.Name)
	require.Len(t, found, 1)
	d := found[0]
	assert.Nil(t, d.Properties(), "modes are known once it is open")
	require.NoError(t, d.Open())
	modes := d.Properties()
	require.Len(t, modes, 1)
	assert.Equal(t, 320, modes[0].Width)
	r, err := d.(driver.VideoRecorder).VideoRecord(modes[0])
	require.NoError(t, err)

	b := open(t, s)
	want, got := frame.New(320, 180, frame.Sub420), frame.New(320, 180, frame.Sub420)
	for i := range 3 {
		img, release, err := r.Read()
		require.NoError(t, err)
		require.NoError(t, got.CopyImage(img))
		release()
		require.NoError(t, b.Draw(i, want))
		assert.Equal(t, want.Y, got.Y)
		assert.Equal(t, want.Cb, got.Cb)
		assert.Equal(t, image.YCbCrSubsampleRatio420, img.(*image.YCbCr).SubsampleRatio)
	}
	for i := 3; i < b.Frames(); i++ {
		_, _, err := r.Read()
		require.NoError(t, err)
	}
	_, _, err = r.Read()
	assert.Equal(t, io.EOF, err, "the reps are over")
	require.NoError(t, d.Close())
	require.NoError(t, d.Close())
	remove()
	assert.Empty(t, named(s.Name))
}

func TestClosedBayEndsItsStream(t *testing.T) {
	s := small(RepSpec{})
	s.Loop = true
	dev, err := NewDevice(s, nil)
	require.NoError(t, err)
	_, err = dev.VideoRecord(dev.Properties()[0])
	assert.Error(t, err, "not open yet")
	require.NoError(t, dev.Open())
	r, err := dev.VideoRecord(dev.Properties()[0])
	require.NoError(t, err)
	_, _, err = r.Read()
	require.NoError(t, err)
	require.NoError(t, dev.Close())
	_, _, err = r.Read()
	assert.Equal(t, io.EOF, err)
}

func TestDemoShowsGoodRepsAndFaults(t *testing.T) {
	s := Demo(7, DemoRungs(4))
	s.Width, s.Height = 320, 180
	b := open(t, s)
	events := b.Events()
	require.Len(t, events, 12)
	inside, swings := 0, 0
	for _, e := range events {
		if e.LevelShaftLineDeg > 8 {
			inside++
		}
		if e.Drill == Ordinary {
			swings++
			assert.InDelta(t, 0.25, e.Impact-e.Top, 1e-9)
		}
	}
	assert.GreaterOrEqual(t, inside, 3, "each rung shows a miss")
	assert.Equal(t, 4, swings)

	s.Loop = true
	b = open(t, s)
	assert.NotEqual(t, b.Events()[0].LevelShaftLineDeg, newTimeline(&b.setup, 1).events[0].LevelShaftLineDeg)
	assert.Equal(t, b.Events()[0].Catch, newTimeline(&b.setup, 1).events[0].Catch)
}
