package paint

import (
	"image"
	"testing"

	"github.com/hajimehoshi/ebiten/v2"

	"drillbay/app"
	"drillbay/camera/frame"
)

// bench draws what change makes of a view again and again; reading a pixel
// waits until it is drawn.
func bench(b *testing.B, v *app.View, change func(i int) image.Rectangle) {
	p, err := New(nil)
	if err != nil {
		b.Fatal(err)
	}
	img := ebiten.NewImageWithOptions(image.Rect(0, 0, 1280, 720), &ebiten.NewImageOptions{Unmanaged: true})
	defer img.Deallocate()
	p.Draw(img, v)
	one := img.SubImage(image.Rect(0, 0, 1, 1)).(*ebiten.Image)
	pixel := make([]byte, 4)
	one.ReadPixels(pixel)
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		p.Part(img, v, change(i))
		one.ReadPixels(pixel)
	}
}

// BenchmarkPicture720p is a live picture of 1280 × 720 on the look-up screen.
func BenchmarkPicture720p(b *testing.B) {
	pics := [2]*frame.Picture{frame.New(1280, 720, frame.Sub420), frame.New(1280, 720, frame.Sub420)}
	pics[1].Index = 1
	at := app.Rect{X: 24, Y: 52, W: 784, H: 441}
	v := &app.View{Width: 1280, Height: 720, Items: []app.Item{
		{Shape: app.Fill, W: 1280, H: 720},
		{Shape: app.Picture, X: at.X, Y: at.Y, W: at.W, H: at.H, Crop: app.Rect{W: 1280, H: 720}},
	}}
	v.Pictures[0] = pics[0]
	bench(b, v, func(i int) image.Rectangle {
		v.Pictures[0] = pics[i%2]
		return image.Rect(24, 52, 808, 493)
	})
}

// BenchmarkWholeScreen draws the practice screen from nothing.
func BenchmarkWholeScreen(b *testing.B) {
	for _, x := range screens() {
		if x.name == "practice" {
			bench(b, x.view("daylight", 1280, 720), func(int) image.Rectangle { return image.Rect(0, 0, 1280, 720) })
		}
	}
}

// BenchmarkBob draws the part of it in which the metronome's bob moves.
func BenchmarkBob(b *testing.B) {
	for _, x := range screens() {
		if x.name == "practice" {
			bench(b, x.view("daylight", 1280, 720), func(i int) image.Rectangle { return image.Rect(400, 545, 460, 595) })
		}
	}
}
