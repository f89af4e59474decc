package measure

import (
	"math"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drillbay/camera/frame"
	"drillbay/camera/sight"
	"drillbay/camera/virtual"
)

// watched shows the live pass a drawn bay from one time to another, as often
// as it looks, and returns what it said.
func watched(t *testing.T, b *virtual.Bay, from, to float64) (out []sight.Glance) {
	t.Helper()
	s := b.Setup()
	k, err := bayOf(s, b).Known()
	require.NoError(t, err)
	w, err := NewWatch(k.Setting, nil)
	require.NoError(t, err)
	defer w.Close()
	var pace Pace
	for i := int(from * s.FPS); float64(i) < to*s.FPS; i++ {
		if !pace.Due(float64(i) / s.FPS) {
			continue
		}
		p := frame.New(s.Width, s.Height, frame.Sub420)
		require.NoError(t, b.Draw(i, p))
		p.At = at(float64(i) / s.FPS)
		g, _ := w.See(p)
		out = append(out, g)
	}
	return out
}

// offPlacements are bays of ordinary conditions whose camera was put down
// where it does not belong: by up to 0.6 m, in height and across.
func offPlacements(seed uint64, n int) []virtual.Setup {
	all := virtual.Spread(seed, n)
	for i := range all {
		s := &all[i]
		up := 0.3 * math.Sin(1.3*float64(i))
		s.Camera.Height += up
		s.Camera.Lateral += 0.3 * math.Cos(2.1*float64(i))
		s.Camera.PitchDeg -= math.Atan2(up, s.Camera.Distance) * 180 / math.Pi
		s.FPS, s.Width, s.Height = 30, 640, 360
		s.Reps[0].Before, s.Reps[0].Still = []virtual.Interlude{virtual.WalkIn}, 2.5
	}
	return all
}

// Somebody walks in and takes address: the hands are told before any rep, to
// 3 cm, or not at all.
func TestHandsAreSeenAtAddressBeforeAnyRep(t *testing.T) {
	n := 5
	if os.Getenv("DRILLBAY_LONG") != "" {
		n = 40
	}
	seen, worst, hands := 0, 0.0, map[virtual.Hand]int{}
	for i, s := range offPlacements(5, n) {
		b, err := virtual.New(s)
		require.NoError(t, err)
		e := b.Events()[0]
		truth := b.Truth(e.StillFrom + 1)
		cm, told, off := b.Focal()/s.Camera.Distance/100, 0, 0.0
		for _, g := range watched(t, b, max(0, e.StillFrom-1.5), e.StillFrom+2.2) {
			if math.IsNaN(g.HandsX) {
				continue
			}
			require.Equal(t, sight.Address, g.Phase)
			told++
			off = math.Hypot(g.HandsX-truth.HandsPX[0], g.HandsY-truth.HandsPX[1]) / cm
		}
		if told == 0 {
			t.Logf("placement %d: the hands are not seen", i)
			continue
		}
		seen++
		hands[s.Player.Hand]++
		worst = max(worst, off)
		assert.Less(t, off, 3.0, "placement %d, cm", i)
	}
	t.Logf("hands seen in %d of %d placements, at worst %.1f cm off", seen, n, worst)
	require.GreaterOrEqual(t, seen, n*8/10)
	require.Positive(t, hands[virtual.RightHand])
	require.Positive(t, hands[virtual.LeftHand])
}

// Where nobody stands with a club at the ball, nothing is told.
func TestNoHandsWhereNobodyStands(t *testing.T) {
	n := 2
	if os.Getenv("DRILLBAY_LONG") != "" {
		n = 12
	}
	taken := 0
	for i, s := range offPlacements(6, n) {
		s.Scene.PasserBy = i%2 == 0
		s.Reps[0].Before = []virtual.Interlude{virtual.WalkIn, virtual.Away, virtual.Hang}
		b, err := virtual.New(s)
		require.NoError(t, err)
		// In at 3.1 s, gone from 3.4 to 9.4 s, then the club hangs.
		gone, hung := 0, 0
		for _, g := range watched(t, b, 3, 14) {
			switch {
			case math.IsNaN(g.HandsX):
			case g.At > 4.2 && g.At < 9.4:
				gone++
			case g.At > 10.5:
				hung++
			}
		}
		assert.Zero(t, gone, "placement %d: looks with hands at address while nobody is there", i)
		t.Logf("placement %d: %d looks of 42 take a hung club for an address", i, hung)
		taken += hung
	}
	assert.Zero(t, taken, "looks that take a hung club for an address")
}
