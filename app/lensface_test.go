package app

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/drills"
)

// The lens screen leads before the chest too, and the bay remembers which view it
// is: no lines, no target point.
func TestTheLensScreenLeadsFaceOn(t *testing.T) {
	a := marta()
	o := FaceOffset{AlongCm: -28, Cm: 5, BackCm: 43}
	a.d.Lens.Face = func(b Bay, s Seen, hand drills.Hand) (FaceOffset, error) { return o, nil }
	sure := Spot{Point: Point{30, 20}, SdX: 1, SdY: 1, Chance: 0.9}
	a.d.Seen = func(float64) (Seen, bool) { return Seen{Player: true, Hands: sure, Head: sure, Hips: sure}, true }
	a.hands = Point{30, 20}
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
	a.hands = Point{math.NaN(), math.NaN()}
	require.True(t, a.step().Says("Looking"), "nobody stands at address")
	a.key(Go)
	require.True(t, a.bay.Set)
	require.True(t, a.bay.FaceOn, "remembered")
	a.key(Lens)
	a.key(Against)
	require.False(t, a.bay.FaceOn)
	require.False(t, a.bay.Set, "the other view is to be set")
}
