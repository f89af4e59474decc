package measure

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// About twelve pictures a second are looked at, whatever their rate, all of
// those that come more seldom, and no burst after a gap.
func TestLooksKeepToTheirPace(t *testing.T) {
	for _, fps := range []float64{24, 25, 30, 50, 60, 120, 240} {
		var p Pace
		n := 0
		for i := range int(10 * fps) {
			if p.Due(7 + float64(i)/fps) {
				n++
			}
		}
		assert.InDelta(t, 10*LooksPerSecond, n, 2, "%v frames a second", fps)
	}
	var seldom, gap Pace
	for i := range 20 {
		assert.True(t, seldom.Due(float64(i)/8))
	}
	gap.Due(1)
	assert.True(t, gap.Due(5))
	assert.False(t, gap.Due(5.03))
}
