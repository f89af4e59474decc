package sight

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"

	"drillbay/camera/frame"
)

// What the network sees in holds of bays that it did not learn from, against
// what was drawn.
func TestTaughtFindsHandsAndHead(t *testing.T) {
	var hands, head []float64
	for _, s := range catches(23, 7) {
		d := drawnRepOf(t, s)
		before := d.pics(t, d.start(), d.event.Catch-0.3, 8)
		hold := d.pics(t, d.event.Catch+0.1, d.event.Catch+0.4, 3)
		got := d.set.ponder(d.stance(), d.pics(t, d.start()-0.4, d.start()-0.1, 3), before, hold)
		if !assert.NotEmpty(t, got) {
			continue
		}
		tr := d.bay.Truth(d.event.Catch + 0.2)
		h, c := d.seen(tr.HandsPX), d.seen(tr.HeadPX)
		cm := d.set.perMetre(d.set.Distance) / 100
		hands = append(hands, math.Hypot(got[0].hands.U-h.U, got[0].hands.V-h.V)/cm)
		x, y := d.set.patch(d.stance().Hands).Of(c)
		off := math.Hypot(got[0].head.U-c.U, got[0].head.V-c.V) / cm
		t.Logf("head %.1f cm off, likelihood %.2f, at %.0f, %.0f of the patch", off, got[0].weightHead, x, y)
		if x > 2 && y > 2 && x < PatchSize-2 && y < PatchSize-2 {
			head = append(head, off)
		}
	}
	slices.Sort(hands)
	slices.Sort(head)
	t.Logf("cm at address: hands %.1f, head %.1f", hands, head)
	assert.Less(t, hands[len(hands)/2], 2.0, "median error of the hands, cm")
	assert.Less(t, hands[len(hands)-2], 5.0, "the worst but one")
	assert.Less(t, head[len(head)/2], 4.0, "median error of the head, cm")
}

// A patch is laid on the picture as it says, for left-handers too.
func TestAPatchLiesWhereItSays(t *testing.T) {
	p := frame.New(640, 480, frame.Sub420)
	for y := range 480 {
		for x := range 640 {
			p.Y[y*p.YStride+x] = byte(x/4 + y/4)
		}
	}
	for _, left := range []bool{false, true} {
		f := Patch{Step: 2.4, Turn: 0.2, Size: PatchSize, Left: left, OriginX: PatchHandsX, OriginY: PatchHandsY}
		f.Hands.U, f.Hands.V = 330, 250
		levels := f.Mean([]*frame.Picture{p})
		for _, at := range [][2]int{{5, 7}, {40, 40}, {70, 66}} {
			q := f.Point(float64(at[0])+0.5, float64(at[1])+0.5)
			x, y := f.Of(q)
			assert.InDelta(t, float64(at[0])+0.5, x, 1e-9)
			assert.InDelta(t, float64(at[1])+0.5, y, 1e-9)
			u := q.U
			if left {
				u = 640 - u
			}
			assert.InDelta(t, u/4+q.V/4, float64(levels[at[1]*PatchSize+at[0]]), 1.5)
		}
	}
}
