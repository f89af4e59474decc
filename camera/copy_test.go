package camera

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"math/rand/v2"
	"testing"

	mediaframe "github.com/pion/mediadevices/pkg/frame"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drillbay/camera/frame"
)

// decoded returns the image that a driver makes of raw bytes of a format.
func decoded(t testing.TB, f mediaframe.Format, raw []byte, w, h int) image.Image {
	t.Helper()
	d, err := mediaframe.NewDecoder(f)
	require.NoError(t, err)
	img, release, err := d.Decode(raw, w, h)
	require.NoError(t, err)
	release()
	return img
}

func TestEveryFormatArrivesAs420(t *testing.T) {
	s := &Source{cfg: Config{Pool: frame.NewPool(4 << 20)}}
	const w, h = 32, 16
	planar := make([]byte, w*h*3/2)
	packed := make([]byte, w*h*2)
	for i := range planar {
		planar[i] = 100
	}
	for i := range packed {
		packed[i] = 100 // Y
		if i%2 == 1 {
			packed[i] = 90 // chroma of YUYV
		}
	}
	grey := image.NewRGBA(image.Rect(0, 0, w, h))
	for i := range grey.Pix {
		grey.Pix[i] = 100
	}
	grey.SetRGBA(0, 0, color.RGBA{100, 100, 100, 255})
	var file bytes.Buffer
	require.NoError(t, jpeg.Encode(&file, grey, nil))
	for name, img := range map[string]image.Image{
		"I420":  decoded(t, mediaframe.FormatI420, planar, w, h),
		"NV12":  decoded(t, mediaframe.FormatNV12, planar, w, h),
		"YUYV":  decoded(t, mediaframe.FormatYUYV, packed, w, h),
		"MJPEG": decoded(t, mediaframe.FormatMJPEG, file.Bytes(), w, h),
		"RGBA":  grey,
	} {
		p, err := s.copy(img, false)
		require.NoError(t, err, name)
		assert.Equal(t, frame.Sub420, p.Sub, name)
		assert.InDelta(t, 100, int(p.Y[5*p.YStride+7]), 1, name)
		if name == "YUYV" {
			assert.Equal(t, uint8(90), p.Cb[3], name)
		}
		assert.Equal(t, name == "RGBA", p.Full, name)
		p.Release()
	}
}

// The copy of one 1280 × 720 picture out of a driver's hands, by format.
func BenchmarkCopy720(b *testing.B) {
	s := &Source{cfg: Config{Pool: frame.NewPool(4 << 20)}}
	const w, h = 1280, 720
	for _, c := range []struct {
		format mediaframe.Format
		bytes  int
	}{{mediaframe.FormatI420, w * h * 3 / 2}, {mediaframe.FormatNV12, w * h * 3 / 2}, {mediaframe.FormatYUYV, w * h * 2}} {
		img := decoded(b, c.format, make([]byte, c.bytes), w, h)
		b.Run(string(c.format), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				p, err := s.copy(img, false)
				if err != nil {
					b.Fatal(err)
				}
				p.Release()
			}
		})
	}
}

// What a driver spends on one Motion-JPEG picture of 1280 × 720 before the
// copy, with the standard library's decoder.
func BenchmarkDecodeMJPEG720(b *testing.B) {
	img := image.NewYCbCr(image.Rect(0, 0, 1280, 720), image.YCbCrSubsampleRatio422)
	rnd := rand.New(rand.NewPCG(1, 2))
	for i := range img.Y {
		img.Y[i] = uint8(100 + i/1280/8 + rnd.IntN(12))
	}
	var file bytes.Buffer
	if err := jpeg.Encode(&file, img, &jpeg.Options{Quality: 80}); err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		decoded(b, mediaframe.FormatMJPEG, file.Bytes(), 1280, 720)
	}
}
