package eye

import (
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// sceneTruth is the camera of a drawn picture and where its keypoints are.
type sceneTruth struct {
	Position [3]float64    // m, bay frame
	Axes     [3][3]float64 // right, down, forward
	F        float64       // focal length, px
	Side     float64       // of the window, px
	Size     float64       // of the picture, px
	Centre   [2]float64    // of the window, px from the optical axis
	At       map[string][3]float64
}

// project is the pinhole camera of learn/README.md.
func (s sceneTruth) project(p [3]float64) (x, y float64) {
	var d [3]float64
	for i, axis := range s.Axes {
		for k := range axis {
			d[i] += axis[k] * (p[k] - s.Position[k])
		}
	}
	on := func(i int) float64 { return (s.F*d[i]/d[2]-s.Centre[i])/s.Side*s.Size + s.Size/2 }
	return on(0), on(1)
}

// The truth that is learnt from is where the camera of each picture sees the
// points of the scene: within a pixel.
func TestTheTruthIsWhereTheCameraSeesIt(t *testing.T) {
	names, err := filepath.Glob(filepath.Join(looks, "*.truth.json"))
	require.NoError(t, err)
	require.Len(t, names, 20)
	points := 0
	for _, name := range names {
		b, err := os.ReadFile(name)
		require.NoError(t, err)
		var raw map[string]json.RawMessage
		require.NoError(t, json.Unmarshal(b, &raw))
		var s sceneTruth
		require.NoError(t, json.Unmarshal(raw["scene"], &s))
		for i := range Points {
			n := Point(i).String()
			told, ok := raw[n]
			if !ok {
				continue
			}
			var want [2]float64
			require.NoError(t, json.Unmarshal(told, &want))
			at, ok := s.At[n]
			require.True(t, ok, "%s: %s", name, n)
			x, y := s.project(at)
			assert.InDelta(t, want[0], x, 1, "%s %s", name, n)
			assert.InDelta(t, want[1], y, 1, "%s %s", name, n)
			points++
		}
	}
	assert.Greater(t, points, 200)
}
