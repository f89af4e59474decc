package rep

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drillbay/camera/lens"
	"drillbay/camera/sight"
	"drillbay/drills"
)

// By similar triangles, worked by hand: at a focal length of 600 px, hands
// 2.7 m away that are 60 px left of and 90 px above those at the target point
// are 0.27 m inside and 0.405 m higher.
func TestWhereTheHandsCame(t *testing.T) {
	v, err := lens.NewView(lens.Camera{Width: 960, Height: 540, Focal: 600, Target: lens.Point{U: 480, V: 270}})
	require.NoError(t, err)
	k := Known{Setting: sight.Setting{View: v, Distance: 3, Reach: 0.85}, Forward: 0.06}
	tr := sight.Track{Stance: sight.Stance{Hands: lens.Point{U: 480, V: 270}}}
	var r drills.Rep
	place(&r, tr, k, lens.Point{U: 420, V: 180}, 2.7, 0)
	assert.InDelta(t, 27, r.Depth.Value, 0.01)
	assert.InDelta(t, 40.5, r.Height.Value, 0.01)
	// 1.8 cm of the picture and 6 cm of distance at 60 and 90 px.
	assert.InDelta(t, math.Hypot(1.8, 60*6/600.0), r.Depth.Sigma, 0.01)
	assert.InDelta(t, math.Hypot(1.8, 90*6/600.0), r.Height.Sigma, 0.01)

	// Hands that were lost well under level rise on: no height is told.
	r = drills.Rep{}
	place(&r, tr, k, lens.Point{U: 420, V: 180}, 2.7, 20)
	assert.False(t, r.Height.Known())
	assert.Greater(t, r.Depth.Sigma, 3.0)
}
