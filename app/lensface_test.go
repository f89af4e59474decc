package app

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/drills"
	"drillbay/drills/bay"
	"drillbay/drills/watch"
)

// The lens screen leads before the chest too, and the bay remembers which view it
// is: no lines, no target point.
func TestTheLensScreenLeadsFaceOn(t *testing.T) {
	a := marta()
	o := bay.FaceOffset{AlongCm: -28, Cm: 5, BackCm: 43}
	a.d.Lens.Face = func(b bay.Bay, s watch.Seen, hand drills.Hand) (bay.FaceOffset, error) { return o, nil }
	sure := watch.Spot{Pixel: drills.Pixel{X: 30, Y: 20}, SdX: 1, SdY: 1, Chance: 0.9}
	a.d.Seen = func(float64) (watch.Seen, bool) {
		return watch.Seen{Player: true, Hands: sure, Head: sure, Hips: sure}, true
	}
	a.hands = drills.Pixel{X: 30, Y: 20}
	a.key(Lens)
	v := a.key(Against)
	require.Contains(t, strings.Join(v.Texts(), " "), "in front of you")
	require.True(t, a.bay.FaceOn)
	a.key(PageOn)
	v = a.key(PageOn)
	said := func(v *View) string { return strings.Join(v.Texts(), " ") }
	require.Contains(t, said(v), "farther away 45 cm", "one at a time")
	require.Contains(t, said(v), "Then move the camera 30 cm away from")
	o.BackCm = -30
	require.Contains(t, said(a.step()), "away from the target 30 cm")
	o.AlongCm = 4
	require.Contains(t, said(a.step()), "stands well")
	a.hands = drills.Pixel{X: math.NaN(), Y: math.NaN()}
	require.True(t, a.step().Says("Looking"), "nobody stands at address")
	a.key(Go)
	require.True(t, a.bay.Set)
	require.True(t, a.bay.FaceOn, "remembered")
	a.key(Lens)
	a.key(Against)
	require.False(t, a.bay.FaceOn)
	require.False(t, a.bay.Set, "the other view is to be set")
}
