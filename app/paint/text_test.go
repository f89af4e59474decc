package paint

import (
	"image"
	"testing"
	"time"

	"github.com/hajimehoshi/ebiten/v2"
	"github.com/stretchr/testify/require"

	"drillbay/app"
	"drillbay/app/letters"
)

// written draws a text once the painter's fonts were looked for.
func written(t *testing.T, p *Painter, f *letters.Finder, s string) *image.RGBA {
	t.Helper()
	i := app.Item{Shape: app.Text, Role: app.Ink, X: 20, Y: 60, Size: 40, Text: s, Weight: app.Bold}
	p.ruler.Runs(s, app.Bold)
	require.Eventually(t, func() bool { return !f.Looks() }, time.Minute, time.Millisecond)
	return pixels(p, &app.View{Width: 320, Height: 100, Items: []app.Item{{Shape: app.Fill, W: 320, H: 100}, i}})
}

func TestAChineseNameIsWrittenAndNotBoxes(t *testing.T) {
	f := letters.New(t.TempDir())
	p, err := New(f)
	require.NoError(t, err)
	wang, ming := written(t, p, f, "王"), written(t, p, f, "明")
	if !p.ruler.Draws("王明") {
		t.Skip("no font of this system has Chinese letters")
	}
	require.NotEqual(t, wang.Pix, ming.Pix)
	// All of it lies within what is drawn anew when it changes.
	for _, s := range []string{"王小明", "Ada 王小明", "שרה כהן", "ágอี้"} {
		one := app.Item{Shape: app.Text, Role: app.Ink, X: 20, Y: 60, Size: 40, Text: s, Weight: app.Bold}
		img := written(t, p, f, s)
		part := extent(p.ruler, one)
		ink := 0
		for y := range 100 {
			for x := range 320 {
				if img.RGBAAt(x, y) == toRGBA(Daylight()[app.Page]) {
					continue
				}
				ink++
				require.True(t, image.Pt(x, y).In(part), "%s: %d, %d lies outside %v", s, x, y, part)
			}
		}
		require.Greater(t, ink, 100, s)
	}
	// Without a font there are boxes, all alike.
	p, err = New(nil)
	require.NoError(t, err)
	require.Equal(t, written(t, p, nil, "王").Pix, written(t, p, nil, "明").Pix)
	require.NotEqual(t, wang.Pix, written(t, p, nil, "王").Pix)
}

// A text in a font of the system costs what one in the built-in font does once
// it was seen.
func TestANameThatWasSeenCostsNoMoreThanALatinOne(t *testing.T) {
	f := letters.New(t.TempDir())
	p, err := New(f)
	require.NoError(t, err)
	img := ebiten.NewImage(320, 100)
	cost := func(s string) float64 {
		written(t, p, f, s)
		i := app.Item{Shape: app.Text, Role: app.Ink, X: 20, Y: 60, Size: 40, Text: s, Weight: app.Bold}
		p.text(img, i, Daylight()[app.Ink])
		return testing.AllocsPerRun(50, func() { p.text(img, i, Daylight()[app.Ink]) })
	}
	require.LessOrEqual(t, cost("שרה"), cost("Ada"))
	require.Zero(t, testing.AllocsPerRun(50, func() { p.ruler.Width("שרה כהן", 40, app.Bold) }))
}
