package clips

import (
	"context"
	"errors"
	"image"
	"image/color"
	"image/gif"
	"image/jpeg"
	"io"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"drillbay/camera/clip"
	"drillbay/camera/frame"
	"drillbay/drills"
	"drillbay/drills/picture"
	"drillbay/drills/runner"
)

// loop are grey pictures at 30 a second.
func loop(n, width, height int) (out []*frame.Picture) {
	for i := range n {
		p := frame.New(width, height, frame.Sub420)
		p.At, p.Index, p.Full = time.Duration(i)*time.Second/30, int64(i), true
		for k := range p.Y {
			p.Y[k] = 90
		}
		for k := range p.Cb {
			p.Cb[k], p.Cr[k] = 128, 128
		}
		out = append(out, p)
	}
	return out
}

// someOverlay has its trace from the first picture on, its shaft at 0.5 s.
func someOverlay() *mark {
	return &mark{level: level, shaft: picture.White, Overlay: runner.Overlay{Target: runner.Dot{X: 320, Y: 150}, Hands: runner.Dot{X: 300, Y: 220}, Head: runner.Dot{X: 200, Y: 230},
		Trace: []runner.Dot{{At: 0, X: 400, Y: 300}, {At: 0.6, X: 200, Y: 230}}}}
}

const level = 0.5

func TestAPictureIsKeptWithTheOverlayOrWithout(t *testing.T) {
	pics := loop(30, 640, 360)
	read := func(over *mark, at float64) image.Image {
		name := filepath.Join(t.TempDir(), "rep.jpg")
		require.NoError(t, writeAs(context.Background(), name, pics, over, at))
		f, err := os.Open(name)
		require.NoError(t, err)
		defer f.Close()
		img, err := jpeg.Decode(f)
		require.NoError(t, err)
		require.Equal(t, image.Rect(0, 0, 640, 360), img.Bounds())
		return img
	}
	bright := func(img image.Image, x, y int) bool { r, _, _, _ := img.At(x, y).RGBA(); return r>>8 > 180 }
	require.False(t, bright(read(nil, 0.7), 250, 225), "without")
	require.True(t, bright(read(someOverlay(), 0.7), 250, 225), "the shaft is there from level on")
	require.False(t, bright(read(someOverlay(), 0.2), 250, 225))
	require.True(t, bright(read(someOverlay(), 0.7), 300, 220), "the hands")
}

func TestAClipIsKeptInEachForm(t *testing.T) {
	ctx := context.Background()
	for _, over := range []*mark{nil, someOverlay()} {
		pics := loop(30, 640, 360)
		name := filepath.Join(t.TempDir(), "rep.gif")
		require.NoError(t, writeAs(ctx, name, pics, over, 0))
		f, err := os.Open(name)
		require.NoError(t, err)
		g, err := gif.DecodeAll(f)
		f.Close()
		require.NoError(t, err)
		require.Equal(t, 480, g.Config.Width)
		require.Len(t, g.Image, 11, "a dozen a second")
		require.Equal(t, 20, g.Delay[0], "half as fast")

		endings := []string{"avi"}
		if CanMP4() {
			endings = append(endings, "mp4")
		} else {
			t.Log("MP4 is not tried: there is no ffmpeg")
		}
		for _, ending := range endings {
			name := filepath.Join(t.TempDir(), "rep."+ending)
			require.NoError(t, writeAs(ctx, name, pics, over, 0))
			in, err := clip.Open(name, 0, nil)
			require.NoError(t, err, ending)
			n := 0
			for {
				p, err := in.Next()
				if errors.Is(err, io.EOF) {
					break
				}
				require.NoError(t, err)
				n++
				p.Release()
			}
			require.NoError(t, in.Close())
			require.Equal(t, 30, n, ending)
		}
	}
	require.Error(t, writeAs(ctx, filepath.Join(t.TempDir(), "rep.bmp"), loop(2, 8, 8), nil, 0))
	require.Error(t, writeAs(ctx, filepath.Join(t.TempDir(), "rep.avi"), nil, nil, 0))
}

// The shaft of a kept clip has the colour of its side, as on the screens.
func TestAKeptShaftHasTheColourOfItsSide(t *testing.T) {
	pics := loop(1, 640, 360)
	defer frame.ReleaseAll(pics)
	for v, want := range map[drills.Verdict]color.RGBA{drills.Inside: picture.Trace, drills.Outside: picture.Shaft, drills.InLine: picture.White, drills.NoReading: picture.White} {
		d := runner.Done{Overlay: someOverlay().Overlay}
		d.Rep.Verdict, d.Rep.Moments = v, drills.NoMoments()
		require.Equal(t, want, drawn(pics[0], markOf(d)).RGBAAt(250, 225), "%v", v)
	}
}

func TestAKeptClipIsPlayedInEachForm(t *testing.T) {
	endings := []string{"avi", "gif", "jpg"}
	if CanMP4() {
		endings = append(endings, "mp4")
	}
	for _, e := range endings {
		name := filepath.Join(t.TempDir(), "rep."+e)
		require.NoError(t, writeAs(context.Background(), name, loop(30, 320, 180), nil, 0))
		pics, err := picturesOf(name)
		require.NoError(t, err, e)
		require.Len(t, pics, map[string]int{"avi": 30, "mp4": 30, "gif": 11, "jpg": 1}[e], e)
		if e != "jpg" {
			require.InDelta(t, 29.0/30, pics[len(pics)-1].Seconds(), 0.02, "%s plays in the time that the rep took", e)
		}
		require.Equal(t, 320, pics[0].Width, e)
		frame.ReleaseAll(pics)
	}
	_, err := picturesOf("keep_test.go")
	require.Error(t, err)
}
