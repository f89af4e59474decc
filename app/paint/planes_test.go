package paint

import (
	"image/color"
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/app"
	"drillbay/camera/frame"
)

func toRGBA(c color.NRGBA) color.RGBA { return color.RGBA(c) }

// drawn draws a picture at its own size and returns the pixels.
func drawn(t *testing.T, pic *frame.Picture) func(x, y int) color.RGBA {
	t.Helper()
	p, err := New(nil)
	require.NoError(t, err)
	v := &app.View{Width: float64(pic.Width), Height: float64(pic.Height)}
	full := app.Rect{W: v.Width, H: v.Height}
	v.Items = []app.Item{{Shape: app.Picture, W: full.W, H: full.H, Crop: full}}
	v.Pictures[0] = pic
	return pixels(p, v).RGBAAt
}

func TestThePictureShaderConvertsAsTheStandardDoes(t *testing.T) {
	// JFIF (ITU-T T.871) as image/color has it, full range; the sides are odd
	// on purpose.
	for _, sub := range []frame.Subsampling{frame.Sub420, frame.Sub422} {
		pic := frame.New(70, 38, sub)
		for y := range pic.Height {
			for x := range pic.Width {
				pic.Y[y*pic.YStride+x] = byte(16 + (x*7+y*13)%220)
			}
		}
		for y := range pic.ChromaHeight() {
			for x := range pic.ChromaWidth() {
				pic.Cb[y*pic.CStride+x], pic.Cr[y*pic.CStride+x] = byte(60+(x*5+y*3)%130), byte(60+(x*3+y*7)%130)
			}
		}
		at := drawn(t, pic)
		img := pic.Image()
		for y := range pic.Height {
			for x := range pic.Width {
				r, g, b, _ := img.YCbCrAt(x, y).RGBA()
				want := color.RGBA{byte(r >> 8), byte(g >> 8), byte(b >> 8), 255}
				require.LessOrEqual(t, apart(want, at(x, y)), 2, "%d, %d of subsampling %d: %v for %v", x, y, sub, at(x, y), want)
			}
		}
	}
}

func TestLimitedRangeIsStretched(t *testing.T) {
	// ITU-R BT.601: black is 16, white 235; full range has 0 and 255.
	for _, c := range []struct {
		y    byte
		full bool
		want byte
	}{{16, false, 0}, {235, false, 255}, {125, false, 127}, {0, true, 0}, {255, true, 255}, {125, true, 125}} {
		pic := frame.New(8, 8, frame.Sub420)
		pic.Full = c.full
		for i := range pic.Y {
			pic.Y[i] = c.y
		}
		for i := range pic.Cb {
			pic.Cb[i], pic.Cr[i] = 128, 128
		}
		got := drawn(t, pic)(3, 3)
		require.InDelta(t, c.want, got.R, 1, "%+v", c)
		require.InDelta(t, c.want, got.G, 1, "%+v", c)
		require.InDelta(t, c.want, got.B, 1, "%+v", c)
	}
}

func TestThePictureMemoryWithAnotherTimeIsAnotherPicture(t *testing.T) {
	p, err := New(nil)
	require.NoError(t, err)
	pic := frame.New(8, 8, frame.Sub420)
	v := &app.View{Width: 8, Height: 8, Items: []app.Item{{Shape: app.Picture, W: 8, H: 8, Crop: app.Rect{W: 8, H: 8}}}}
	v.Pictures[0] = pic
	for i, y := range []byte{40, 200} {
		for k := range pic.Y {
			pic.Y[k] = y
		}
		for k := range pic.Cb {
			pic.Cb[k], pic.Cr[k] = 128, 128
		}
		pic.Index = int64(i)
		require.InDelta(t, y, pixels(p, v).RGBAAt(4, 4).G, 1)
	}
}
