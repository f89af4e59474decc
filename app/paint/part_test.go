package paint

import (
	"image"
	"testing"

	"github.com/hajimehoshi/ebiten/v2"
	"github.com/stretchr/testify/require"

	"drillbay/app"
)

func TestDrawingWhatChangedGivesTheWholePicture(t *testing.T) {
	p, err := New(nil)
	require.NoError(t, err)
	ruler := app.NewRuler(nil)
	img := ebiten.NewImage(1280, 720)
	defer img.Deallocate()
	var before []app.Item
	for _, x := range screens() {
		v := x.view("daylight", 1280, 720)
		if before == nil {
			p.Draw(img, v)
		} else {
			part, changed := Change(ruler, before, v.Items)
			require.True(t, changed, x.name)
			all := [app.Slots]bool{true, true, true}
			p.Part(img, v, part.Union(Touches(ruler, v.Items, all)))
		}
		before = append([]app.Item{}, v.Items...)
		got := image.NewRGBA(image.Rect(0, 0, 1280, 720))
		img.ReadPixels(got.Pix)
		want := pixels(p, v)
		for y := range 720 {
			for k := range 1280 {
				// Soft edges may round otherwise at another place in memory.
				if apart(want.RGBAAt(k, y), got.RGBAAt(k, y)) > 4 {
					t.Fatalf("%s: %d, %d is %v, drawn whole %v", x.name, k, y, got.RGBAAt(k, y), want.RGBAAt(k, y))
				}
			}
		}
		_, changed := Change(ruler, before, v.Items)
		require.False(t, changed)
		v.Release()
	}
}

func TestOnlyTheBobsPlaceIsDrawnAgain(t *testing.T) {
	for _, x := range screens() {
		if x.name != "practice" {
			continue
		}
		s := newScene("daylight")
		x.build(s)
		a := s.begin()
		a.Step(x.keys[:1], s.now)
		before := append([]app.Item{}, a.Step(x.keys[1:], s.now).Items...)
		part, changed := Change(app.NewRuler(nil), before, a.Step(nil, s.now+1.0/30).Items)
		require.True(t, changed)
		require.Less(t, part.Dx()*part.Dy(), 1280*720/50)
	}
}
