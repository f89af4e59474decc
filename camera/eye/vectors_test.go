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

// told is what learn/export.py wrote: PyTorch's numbers from the same weights,
// by their calibration and by another.
type told struct {
	Trial struct {
		Temperature float32
		Covariance  []float32
	}
	Pictures []struct {
		Picture string
		Truth   map[string][2]float64 // where the points really are, if it is known
		Points  []toldPoint
		Trial   []toldPoint
	}
}

type toldPoint struct {
	Point                        string
	X, Y, XX, XY, YY, Here, Seen float64
}

const looks = "testdata/looks"

func readTold(t *testing.T) (all told) {
	t.Helper()
	b, err := os.ReadFile(filepath.Join(looks, "vectors.json"))
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(b, &all))
	require.NotEmpty(t, all.Pictures)
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

// shown is a network's layers after it was shown a picture for the tests.
func shown(t *testing.T, n *Net, picture string) *layers {
	t.Helper()
	l := n.layers(readPNG(t, picture).Bounds().Dx())
	show(t, l, picture)
	n.run(l)
	return l
}

// All kernels say what PyTorch says of the same weights and pictures.
func TestPlacesAreThoseOfPyTorch(t *testing.T) {
	all := readTold(t)
	for _, k := range available() {
		t.Run(k.name, func(t *testing.T) {
			n := *net(t)
			n.kernels = k
			trial := n
			trial.temperature, trial.covariance = all.Trial.Temperature, all.Trial.Covariance
			require.Len(t, trial.covariance, Points)
			for _, v := range all.Pictures {
				l := shown(t, &n, v.Picture)
				var spots [Points]spot
				n.read(l, &spots)
				compare(t, v.Points, spots, v.Picture)
				trial.read(l, &spots)
				compare(t, v.Trial, spots, v.Picture+" by another calibration")
			}
		})
	}
}

func compare(t *testing.T, want []toldPoint, got [Points]spot, what string) {
	t.Helper()
	require.Len(t, want, Points)
	for i, w := range want {
		s := got[i]
		require.Equal(t, Point(i).String(), w.Point)
		assert.Less(t, math.Hypot(s.x-w.X, s.y-w.Y), 0.05, "%s %s: %.3f %.3f, PyTorch %.3f %.3f", what, w.Point, s.x, s.y, w.X, w.Y)
		size := math.Sqrt(w.XX * w.YY)
		for name, pair := range map[string][2]float64{"xx": {s.xx, w.XX}, "xy": {s.xy, w.XY}, "yy": {s.yy, w.YY}} {
			assert.InDelta(t, pair[1], pair[0], 0.002*size, "%s %s %s", what, w.Point, name)
		}
		assert.InDelta(t, w.Here, s.here, 0.001, "%s %s here", what, w.Point)
		assert.InDelta(t, w.Seen, s.seen, 0.001, "%s %s seen", what, w.Point)
	}
}

// Where the pictures come with the truth, the eye is near it.
func TestPlacesAreWhereThePointsAre(t *testing.T) {
	var off []float64
	n := net(t)
	for _, v := range readTold(t).Pictures {
		if len(v.Truth) == 0 {
			continue
		}
		var spots [Points]spot
		n.read(shown(t, n, v.Picture), &spots)
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
