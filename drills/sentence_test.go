package drills

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestASentenceBeginsWithACapital(t *testing.T) {
	for in, want := range map[string]string{
		"": "", "the disk is full": "The disk is full.", "Éva is there": "Éva is there.", "éva is there": "Éva is there.", "żółw": "Żółw.", "7-iron": "7-iron.", "文": "文.", "\xff": "\xff.",
	} {
		assert.Equal(t, want, Sentence(in))
	}
	assert.Equal(t, "Éva", UpperFirst("éva"))
	assert.Empty(t, UpperFirst(""))
	assert.Equal(t, "écart", LowerFirst("Écart"))
	assert.Equal(t, "both hands", LowerFirst("Both hands"))
	assert.Equal(t, "\xff", LowerFirst("\xff"))
	assert.Empty(t, LowerFirst(""))
}

func TestTheFirstKnownValueIsTaken(t *testing.T) {
	none := math.NaN()
	assert.Equal(t, 2.0, FirstOf(none, 2, 3))
	assert.Zero(t, FirstOf(none, none, 0))
	assert.True(t, math.IsNaN(FirstOf(none, none)))
	assert.True(t, math.IsNaN(FirstOf()))
}
