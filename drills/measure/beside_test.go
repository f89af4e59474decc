package measure

import (
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drillbay/camera/clip"
	"drillbay/camera/frame"
)

// shades writes a clip whose pictures are one even shade, brighter with time, and
// which begins so many s after 0.
func shades(t *testing.T, width, height int, begins, seconds float64) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "shades.avi")
	const fps = 30.0
	w, err := clip.NewWriter(file, width, height, fps)
	require.NoError(t, err)
	for i := range int(seconds * fps) {
		p := frame.New(width, height, frame.Sub420)
		for k := range p.Y {
			p.Y[k] = byte(40 + 50*(begins+float64(i)/fps))
		}
		for k := range p.Cb {
			p.Cb[k], p.Cr[k] = 128, 128
		}
		p.At = at(float64(i) / fps)
		require.NoError(t, w.Add(p))
	}
	require.NoError(t, w.Close())
	return file
}

// Each half shows the picture of the same moment; where the other clip has none
// its half is dark.
func TestTwoClipsStandSideBySideAtTheSameMoment(t *testing.T) {
	open := func(file string) clip.Reader {
		r, err := clip.Open(file, 0, nil)
		require.NoError(t, err)
		t.Cleanup(func() { r.Close() })
		return r
	}
	a, b := shades(t, 64, 48, 0, 2), shades(t, 80, 40, 0.5, 2)
	to := filepath.Join(t.TempDir(), "beside.avi")
	n, err := Beside(open(a), open(b), -0.5, to) // b begins at a's 0.5 s
	require.NoError(t, err)
	assert.Equal(t, 60, n)
	src := open(to)
	assert.Equal(t, 64+96, src.Info().Width)
	assert.Equal(t, 48, src.Info().Height)
	for i := range n {
		p, err := src.Next()
		require.NoError(t, err)
		left, right := float64(p.Y[24*p.YStride+30]), float64(p.Y[24*p.YStride+120])
		switch s := p.Seconds(); {
		case s < 0.2:
			assert.Less(t, right, 8.0, "the other had not begun, %.2f s", s)
		case s > 0.6:
			assert.InDelta(t, left, right, 5, "%.2f s", s)
		}
		assert.InDelta(t, 40+50*float64(i)/30, left, 5)
		p.Release()
	}
}
