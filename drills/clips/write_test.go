package clips

import (
	"errors"
	"io"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"drillbay/camera/clip"
	"drillbay/camera/frame"
)

func TestAClipKeepsHowFastItWas(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.avi")
	var pics []*frame.Picture
	for _, n := range []int{0, 1, 2, 6, 7} { // still pictures were thinned
		p := frame.New(64, 48, frame.Sub420)
		p.At = time.Duration(n) * time.Second / 50
		pics = append(pics, p)
	}
	require.NoError(t, WriteClip(path, pics))
	r, err := clip.Open(path, 0, nil)
	require.NoError(t, err)
	defer r.Close()
	require.InDelta(t, 50, r.Info().FPS, 1e-3)
	n := 0
	for ; ; n++ {
		if _, err := r.Next(); errors.Is(err, io.EOF) {
			break
		}
	}
	require.Equal(t, 8, n)
	require.Error(t, WriteClip(path, pics[:1]))
}

// Pictures that came two at a time, as from a laptop that has much to do, do not make a
// clip of many times their number.
func TestAClipOfUnevenPicturesIsNotBlownUp(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.avi")
	var pics []*frame.Picture
	for i := range 60 {
		p := frame.New(64, 48, frame.Sub420)
		p.At = time.Duration(i/2)*time.Second/15 + time.Duration(i%2)*4*time.Millisecond
		pics = append(pics, p)
	}
	require.NoError(t, WriteClip(path, pics))
	r, err := clip.Open(path, 0, nil)
	require.NoError(t, err)
	defer r.Close()
	n := 0
	for ; ; n++ {
		if _, err := r.Next(); errors.Is(err, io.EOF) {
			break
		}
	}
	require.LessOrEqual(t, n, 2*len(pics))
	last := pics[len(pics)-1].Seconds()
	require.InDelta(t, last, float64(n-1)/r.Info().FPS, 0.04, "it lasts as long")
}
