package drills

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// A 7-iron is 37 in long and held 9 cm from its butt, so that hands and clubhead
// are 0.85 m apart. Where its head hangs more than a span, 18 cm, below the hands
// at the catch, the club is short of level (common practice); 2 cm less is level
// enough to be read.
func TestAClubIsShortWhoseHeadHangsASpanBelowTheHands(t *testing.T) {
	const reach = 37*0.0254 - 0.09
	below := func(cm float64) float64 { return math.Asin(cm/100/reach) * 180 / math.Pi }
	assert.Greater(t, below(18), ShortOf)
	assert.Less(t, below(16), ShortOf)
}

// The band is 12 cm at the head of a 7-iron, a hand's breadth and a half, and the
// hands come deep where they come in by a hand's breadth, 8 cm (common practice).
func TestTheBandAndTheDepthInHandsBreadths(t *testing.T) {
	const reach, breadth = 37*0.0254 - 0.09, 0.08
	assert.InDelta(t, 1.5*breadth, reach*math.Sin(Band*math.Pi/180), 0.01)
	assert.InDelta(t, breadth, Deep/100, 0.01)
}
