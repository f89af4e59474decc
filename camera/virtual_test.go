package camera_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drillbay/camera"
	"drillbay/camera/frame"
	"drillbay/camera/virtual"
)

// The virtual bay goes through the same source as a webcam.
func TestVirtualBayThroughTheSource(t *testing.T) {
	s := virtual.Default()
	s.Name, s.Width, s.Height, s.Loop = "bay in a source", 320, 180, true
	s.Reps = []virtual.RepSpec{{}}
	dev, err := virtual.NewDevice(s, virtual.AsRead)
	require.NoError(t, err)
	remove, err := virtual.Register(dev)
	require.NoError(t, err)
	defer remove()
	src, err := camera.Open(camera.Config{Name: s.Name, Pool: frame.NewPool(4 << 20)})
	require.NoError(t, err)
	for range 5 {
		p := <-src.Frames()
		assert.Equal(t, 320, p.Width)
		assert.True(t, p.Full)
		p.Release()
	}
	assert.Equal(t, camera.Live, src.State().State)
	assert.Equal(t, camera.Mode{Width: 320, Height: 180, Rate: 30, Format: "I420"}, src.State().Mode)
	require.NoError(t, src.Close())
	assert.Equal(t, virtual.Label, camera.DrawnLabel, "its range is known by its label")
}
