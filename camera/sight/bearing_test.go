package sight

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// Guide to the Expression of Uncertainty in Measurement (JCGM 100:2008),
// example H.2, resistance and reactance of a circuit element: R 127.732 Ω with
// 0.071, X 219.847 Ω with 0.295, their correlation −0.588; the phase was
// measured as 1.044 46 rad with 0.000 75. Values from memory.
func TestAnAnglesUncertaintyIsThatOfTheWorkedExample(t *testing.T) {
	const r, x, ur, ux, corr = 127.732, 219.847, 0.071, 0.295, -0.588
	m := bearing(x, r, doubts{ux * ux, corr * ur * ux, ur * ur})
	assert.InDelta(t, 1.04446, m.Value*math.Pi/180, 1e-5)
	assert.InDelta(t, 0.00075, m.Sigma*math.Pi/180, 0.5e-5)
	// What the two have in common matters: without it the phase would be surer.
	alone := bearing(x, r, doubts{ux * ux, 0, ur * ur})
	assert.Less(t, alone.Sigma, m.Sigma*0.9)
}
