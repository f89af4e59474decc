package laptop

import (
	"testing"
	"time"

	_ "github.com/pion/mediadevices/pkg/driver/videotest"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drillbay/camera"
	"drillbay/camera/frame"
)

// The module's own test camera, at 30 frames a second.
func TestWatchCamera(t *testing.T) {
	clock := camera.NewSystemClock()
	src, err := camera.Open(camera.Config{Name: "VideoTest", Pool: frame.NewPool(8 << 20), Clock: clock})
	require.NoError(t, err)
	c := WatchCamera(src, clock, 200*time.Millisecond, 20*time.Second)
	require.NoError(t, src.Close())
	require.NoError(t, c.Err)
	assert.Equal(t, "VideoTest", c.Name)
	assert.Equal(t, 640, c.Mode.Width)
	assert.GreaterOrEqual(t, c.Frames, 4)
	assert.Positive(t, c.Rate)
}

// impatient is a clock whose waits are over at once.
type impatient struct{ camera.SystemClock }

func (impatient) After(time.Duration) (<-chan time.Time, func()) {
	c := make(chan time.Time, 1)
	c <- time.Time{}
	return c, func() {}
}

func TestWatchCameraGivesUp(t *testing.T) {
	src, err := camera.Open(camera.Config{Name: "nobody's camera", Pool: frame.NewPool(1 << 20)})
	require.NoError(t, err)
	c := WatchCamera(src, impatient{camera.NewSystemClock()}, time.Second, time.Second)
	require.NoError(t, src.Close())
	assert.Error(t, c.Err)
	assert.NotEqual(t, Good, JudgeCamera(c).Grade)
}
