package pattern

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"drillbay/drills"
)

// runLength returns how many values a cumulative sum with slack k and limit h sees on
// average before it signals, when the mean has moved by shift standard deviations
// (Siegmund's approximation: Siegmund 1985, Sequential Analysis, §II.6; the formula from
// memory).
func runLength(k, h, shift float64) float64 {
	d, b := shift-k, h+1.166
	return (math.Exp(-2*d*b) + 2*d*b - 1) / (2 * d * d)
}

// For slack 0.5 and limit 5 the tables give 465 values without a shift, both
// sides watched, and 10.4 with a shift of one standard deviation (Montgomery,
// Introduction to Statistical Quality Control, table of CUSUM run lengths; values
// from memory): the approximation holds.
func TestTheRunLengthsFormulaIsThatOfTheTables(t *testing.T) {
	assert.InEpsilon(t, 10.4, runLength(0.5, 5, 1), 0.02)
	assert.InEpsilon(t, 465, runLength(0.5, 5, 0)/2, 0.02)
}

// A shift of one and a half standard deviations, half of which is the slack, is
// told after seven values, as a sum with that slack and a limit of 5 does; a
// longer wait lets a set pass, a shorter one tells steady players that they
// drift.
func TestADriftIsToldAfterSevenReps(t *testing.T) {
	want := runLength(0.75, 5, 1.5)
	assert.InDelta(t, 7.3, want, 0.1)
	dice := rand.New(rand.NewPCG(7, 8))
	const lives = 4000
	waited := 0
	for range lives {
		values := make([]float64, 200)
		for i := range values {
			values[i] = 1.5 + dice.NormFloat64()
		}
		at, _, _ := drills.Cusum{K: driftSlack, H: driftLimit}.Signal(values)
		waited += at + 1
	}
	assert.InDelta(t, want, float64(waited)/lives, 0.3)
}
