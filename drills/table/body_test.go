package table

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drillbay/camera/clip"
	"drillbay/drills"
	"drillbay/drills/measure"
)

// The hands' height at level and at the top stands in both forms of the table, each
// with its uncertainty; what was not read stands in neither.
func TestTheHandsHeightsAreTold(t *testing.T) {
	r := measure.Result{Rep: drills.Rep{Number: 3, Height: drills.Reading{Value: 12.34, Sigma: 2}, TopHeight: drills.Reading{Value: 61, Sigma: 3.6}}}
	assert.Equal(t, "  rep 3: hands 12 cm above address at level (± 2 cm), hands 61 cm above address at the top (± 4 cm)", bodyLine(r))
	j := bodyJSON(r)
	for key, want := range map[string]float64{"height_cm": 12.3, "height_sigma_cm": 2, "top_height_cm": 61, "top_height_sigma_cm": 3.6} {
		require.NotNil(t, j[key], key)
		assert.InDelta(t, want, *j[key], 1e-9, key)
	}
	r.Rep.Height, r.Rep.TopHeight = drills.Reading{Value: -3, Sigma: 2}, drills.None()
	assert.Equal(t, "  rep 3: hands 3 cm below address at level (± 2 cm)", bodyLine(r))
	r.Rep.Height = drills.None()
	assert.Empty(t, bodyLine(r))
	assert.Nil(t, bodyJSON(r))
}

// A table of reps from the front says how far the shaft was from level, that outside or
// inside is not told from there, and why; so does each rep in JSON.
func TestTheFrontSaysWhatItDoesNotTell(t *testing.T) {
	front := drills.Rep{Number: 1, Moments: drills.NoMoments(), ShaftLine: drills.None(), Depth: drills.None(), Elevation: drills.Reading{Value: -5.2, Sigma: 0.8},
		Verdict: drills.NoReading, Why: drills.SeenFaceOn, Manner: drills.Swung, Tempo: math.NaN()}
	low := front
	low.Number, low.Elevation.Value, low.Verdict, low.Why = 2, -19, drills.Short, "stopped 19° before level; "+drills.SeenFaceOn
	reps := []measure.Result{{Rep: front, FaceOn: true}, {Rep: low, FaceOn: true}}
	var text, object strings.Builder
	require.NoError(t, Write(&text, clip.Info{}, reps))
	assert.Contains(t, text.String(), "cannot be read from there; "+drills.SideFaceOn+".")
	assert.Contains(t, text.String(), "rep 1: shaft 5° below level (± 1°)")
	assert.Contains(t, text.String(), "short (stopped 19° before level; ")
	require.NoError(t, WriteJSON(&object, clip.Info{}, drills.Right, reps))
	assert.Contains(t, object.String(), `"why": "the shaft line is not read face-on: `+drills.SideFaceOn+`"`)
	assert.Contains(t, object.String(), `"elevation_deg": -5.2`)
	assert.Equal(t, 2, strings.Count(object.String(), drills.SideFaceOn))
	assert.Equal(t, 2, strings.Count(object.String(), `"shaft_line_deg": null`))
	var line strings.Builder
	front.Why, front.Verdict, front.ShaftLine = "", drills.InLine, drills.Reading{Value: 2, Sigma: 1}
	require.NoError(t, Write(&line, clip.Info{}, []measure.Result{{Rep: front}}))
	assert.NotContains(t, line.String(), drills.SideFaceOn)
	assert.NotContains(t, line.String(), "below level")
}
