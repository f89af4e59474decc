package camera

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestRank(t *testing.T) {
	for _, c := range []struct {
		name        string
		best, worse Mode
	}{
		{"rate first", Mode{1280, 720, 60, "MJPEG"}, Mode{1280, 720, 10, "YUYV"}},
		{"rate before size", Mode{640, 480, 60, "YUYV"}, Mode{1280, 720, 30, "YUYV"}},
		{"60 is enough", Mode{1280, 720, 60, "MJPEG"}, Mode{640, 480, 120, "MJPEG"}},
		{"720p before less", Mode{1280, 720, 30, "MJPEG"}, Mode{640, 480, 30, "YUYV"}},
		{"720p is enough", Mode{1280, 720, 30, "MJPEG"}, Mode{1920, 1080, 30, "MJPEG"}},
		{"else the larger", Mode{800, 600, 30, "MJPEG"}, Mode{640, 480, 30, "MJPEG"}},
		{"cheap format", Mode{1280, 720, 30, "NV12"}, Mode{1280, 720, 30, "MJPEG"}},
		{"29.97 is 30", Mode{1280, 720, 29.97, "NV12"}, Mode{1280, 720, 30, "MJPEG"}},
		{"too small to read", Mode{640, 480, 15, "MJPEG"}, Mode{320, 240, 60, "YUYV"}},
		{"unknown rate as 30", Mode{1280, 720, 0, "NV12"}, Mode{1280, 720, 25, "NV12"}},
	} {
		assert.Equal(t, []Mode{c.best, c.worse}, Rank([]Mode{c.worse, c.best}), c.name)
		assert.Equal(t, []Mode{c.best, c.worse}, Rank([]Mode{c.best, c.worse}), c.name)
	}
	assert.Empty(t, Rank([]Mode{{640, 480, 30, "Z16"}, {0, 480, 30, "YUYV"}}), "depth maps and nonsense")
}

func TestRange(t *testing.T) {
	assert.True(t, fullRange("video0", Mode{Format: "MJPEG"}))
	assert.False(t, fullRange("video0", Mode{Format: "NV12"}))
	assert.True(t, fullRange(DrawnLabel, Mode{Format: "I420"}))
}
