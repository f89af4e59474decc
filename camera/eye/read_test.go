package eye

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestExponential(t *testing.T) {
	for x := float32(-79); x <= 0; x += 0.013 {
		want := math.Exp(float64(x))
		assert.InEpsilon(t, want, float64(exp(x)), 1e-5, "x = %v", x)
	}
	assert.Equal(t, float32(1), exp(0))
}
