package app

import (
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/drills"
)

// Where the hands were stands in one line: depth, height at level and at the top, of what
// was read; the first says against what.
func TestWhereTheHandsWereIsOneLine(t *testing.T) {
	at := func(v float64) drills.Reading { return drills.Reading{Value: v, Sigma: 1} }
	for want, r := range map[string]drills.Rep{
		"12 cm deeper than at address, 9 cm higher":                   {Depth: at(12), Height: at(9), TopHeight: drills.None()},
		"4 cm farther away than at address, 2 cm lower":               {Depth: at(-4.2), Height: at(-2), TopHeight: drills.None()},
		"12 cm deeper than at address, 9 cm higher, 61 cm at the top": {Depth: at(12), Height: at(9), TopHeight: at(61)},
		"as deep as at address, as high":                              {Depth: at(0.2), Height: at(0.3), TopHeight: drills.None()},
		"9 cm higher than at address":                                 {Depth: drills.None(), Height: at(9), TopHeight: drills.None()},
		"61 cm higher than at address at the top":                     {Depth: drills.None(), Height: drills.None(), TopHeight: at(61)},
		"": {Depth: drills.None(), Height: drills.None(), TopHeight: drills.None()},
	} {
		require.Equal(t, want, handsAt(r, metric))
	}
}
