package eye

import (
	"encoding/json"
	"image"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// told is what learn/export.py wrote of one picture: PyTorch's numbers from the
// same weights, and where the points really are, if it is known.
type told struct {
	Picture string
	Truth   map[string][2]float64
	Points  []struct {
		Point                        string
		X, Y, XX, XY, YY, Here, Seen float64
	}
}

const looks = "testdata/looks"

func readTold(t *testing.T) []told {
	t.Helper()
	b, err := os.ReadFile(filepath.Join(looks, "vectors.json"))
	require.NoError(t, err)
	var all []told
	require.NoError(t, json.Unmarshal(b, &all))
	require.NotEmpty(t, all)
	return all
}

func readPNG(t *testing.T, name string) image.Image {
	t.Helper()
	f, err := os.Open(filepath.Join(looks, name))
	require.NoError(t, err)
	defer f.Close()
	img, err := png.Decode(f)
	require.NoError(t, err)
	return img
}

// show puts a picture for the tests into the input, as export.py does.
func show(t *testing.T, l *layers, name string) {
	t.Helper()
	img := readPNG(t, name)
	clear(l.input.v)
	put := func(x, y, c int, v float64) { l.input.v[(y*l.input.width+x)*Channels+c] = float32(v) }
	change := strings.TrimSuffix(name, ".png") + ".change.png"
	var d image.Image
	if _, err := os.Stat(filepath.Join(looks, change)); err == nil {
		d = readPNG(t, change)
	}
	for y := range l.side {
		for x := range l.side {
			r, g, b, _ := img.At(x, y).RGBA()
			for c, v := range []uint32{r, g, b} {
				put(x, y, c, float64(v>>8)/127.5-1)
			}
			if d != nil {
				r, g, _, _ := d.At(x, y).RGBA()
				for c, v := range []uint32{r, g} {
					put(x, y, 3+c, min(max((float64(v>>8)-128)/64, -2), 2))
				}
			}
		}
	}
}

// spotsOf is what the network says of a picture for the tests.
func spotsOf(t *testing.T, k kernels, picture string) (spots [Points]spot) {
	t.Helper()
	n := *net(t)
	n.kernels = k
	l := n.layers(readPNG(t, picture).Bounds().Dx())
	show(t, l, picture)
	n.run(l)
	n.read(l, &spots)
	return spots
}

// All kernels say what PyTorch says of the same weights and pictures.
func TestPlacesAreThoseOfPyTorch(t *testing.T) {
	for _, k := range available() {
		t.Run(k.name, func(t *testing.T) {
			worst := 0.0
			for _, v := range readTold(t) {
				spots := spotsOf(t, k, v.Picture)
				require.Len(t, v.Points, Points)
				for i, w := range v.Points {
					s := spots[i]
					require.Equal(t, Point(i).String(), w.Point)
					far := math.Hypot(s.x-w.X, s.y-w.Y)
					worst = max(worst, far)
					assert.Less(t, far, 0.05, "%s %s: %.3f %.3f, PyTorch %.3f %.3f", v.Picture, w.Point, s.x, s.y, w.X, w.Y)
					size := math.Sqrt(w.XX * w.YY)
					for name, pair := range map[string][2]float64{"xx": {s.xx, w.XX}, "xy": {s.xy, w.XY}, "yy": {s.yy, w.YY}} {
						assert.InDelta(t, pair[1], pair[0], 0.01*size, "%s %s %s", v.Picture, w.Point, name)
					}
					assert.InDelta(t, w.Here, s.here, 0.002, "%s %s here", v.Picture, w.Point)
					assert.InDelta(t, w.Seen, s.seen, 0.002, "%s %s seen", v.Picture, w.Point)
				}
			}
			t.Logf("worst place %.5f px off", worst)
		})
	}
}

// Where the pictures come with the truth, the eye is near it.
func TestPlacesAreWhereThePointsAre(t *testing.T) {
	var off []float64
	for _, v := range readTold(t) {
		if len(v.Truth) == 0 {
			continue
		}
		spots := spotsOf(t, available()[0], v.Picture)
		for i := range Points {
			if w, ok := v.Truth[Point(i).String()]; ok {
				off = append(off, math.Hypot(spots[i].x-w[0], spots[i].y-w[1]))
			}
		}
	}
	if len(off) == 0 {
		t.Skip("no picture in testdata/looks comes with its truth")
	}
	slices.Sort(off)
	assert.Less(t, off[len(off)/2], 4.0, "median distance of %d points, px", len(off))
}
