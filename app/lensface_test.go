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
	require.Contains(t, strings.Join(v.Texts(), " "), "Before the chest")
	require.True(t, a.bay.FaceOn)
	a.key(PageOn)
	v = a.key(PageOn)
	require.True(t, v.Says("farther"))
	require.True(t, v.Says("45 cm"))
	require.True(t, v.Says("from target"))
	require.True(t, v.Says("30 cm"))
	o = FaceOffset{AlongCm: 4, BackCm: -30}
	v = a.step()
	require.True(t, v.Says("far enough"))
	require.True(t, v.Says("in one line"))
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
