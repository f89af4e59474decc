package sight_test

import (
	"math"
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/camera/frame"
	"drillbay/camera/lens"
	"drillbay/camera/sight"
	"drillbay/camera/virtual"
)

// settingOf is what a bay is known by that was set to perfection.
func settingOf(t *testing.T, b *virtual.Bay) sight.Setting {
	t.Helper()
	s := b.Setup()
	x, y := b.TargetPoint()
	v, err := lens.NewView(lens.Camera{Width: s.Width, Height: s.Height, Focal: b.Focal(), Target: lens.Point{U: x, V: y},
		Roll: s.Camera.RollDeg, Left: s.Player.Hand == virtual.LeftHand})
	require.NoError(t, err)
	return sight.Setting{View: v, Distance: s.Camera.Distance, Reach: b.HandsToHead()}
}

// told is the hands as the live pass gave them last, and when it did at all.
type told struct {
	x, y, at float64
	times    int
}

// onlook lets the live pass and an onlooker see a bay from one time to another.
func onlook(t *testing.T, b *virtual.Bay, set sight.Setting, from, to float64, see func(sight.Glance)) {
	t.Helper()
	w, o := sight.NewWatcher(set), sight.NewOnlooker(set)
	s := b.Setup()
	var pics []*frame.Picture
	for i := int(from * s.FPS); float64(i) < to*s.FPS; i++ {
		p := frame.New(s.Width, s.Height, frame.Sub420)
		require.NoError(t, b.Draw(i, p))
		pics = append(pics, p)
		if len(pics) > int(8*s.FPS) {
			pics = pics[1:]
		}
		g := w.Step(p)
		if o.Due(g) {
			if h, ok := o.Look(pics, g); ok {
				w.Place(g.At, h)
			}
		}
		see(g)
	}
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
		s.FPS = 30
		s.Reps[0].Before, s.Reps[0].Still = []virtual.Interlude{virtual.WalkIn}, 4.5
	}
	return all
}

// Somebody walks in and takes address: the hands are told before any rep, to
// 3 cm, or not at all.
func TestHandsAreSeenAtAddressBeforeAnyRep(t *testing.T) {
	n := 6
	if os.Getenv("DRILLBAY_LONG") != "" {
		n = 40
	}
	seen, worst, hands := 0, 0.0, map[virtual.Hand]int{}
	for i, s := range offPlacements(5, n) {
		b, err := virtual.New(s)
		require.NoError(t, err)
		e := b.Events()[0]
		set := settingOf(t, b)
		var last told
		onlook(t, b, set, 0, e.StillFrom+4.2, func(g sight.Glance) {
			if math.IsNaN(g.HandsX) {
				return
			}
			require.Equal(t, sight.Address, g.Phase)
			last = told{g.HandsX, g.HandsY, g.At, last.times + 1}
		})
		truth := b.Truth(e.StillFrom + 1)
		if last.times == 0 {
			t.Logf("placement %d: the hands are not seen", i)
			continue
		}
		seen++
		hands[s.Player.Hand]++
		cm := b.Focal() / s.Camera.Distance / 100
		off := math.Hypot(last.x-truth.HandsPX[0], last.y-truth.HandsPX[1]) / cm
		worst = max(worst, off)
		require.Less(t, off, 3.0, "placement %d, cm", i)
		require.Greater(t, last.at-e.StillFrom, 0.4)
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
	for i, s := range offPlacements(6, n) {
		s.Scene.PasserBy = i%2 == 0
		s.Reps[0].Before = []virtual.Interlude{virtual.WalkIn, virtual.Away, virtual.Hang}
		b, err := virtual.New(s)
		require.NoError(t, err)
		// In at 3.1 s, gone from 3.4 to 9.4 s, then the club hangs.
		onlook(t, b, settingOf(t, b), 0, 18, func(g sight.Glance) {
			if g.At > 3.8 && g.At < 9.4 || g.At > 10.5 {
				require.True(t, math.IsNaN(g.HandsX), "placement %d, %.2f s", i, g.At)
			}
		})
	}
}
