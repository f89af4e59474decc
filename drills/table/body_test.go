package table

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

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
