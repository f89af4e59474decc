package sight_test

import (
	"math"
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/camera/lens"
	"drillbay/camera/sight"
	"drillbay/camera/virtual"
)

// hangingBays are bays of ordinary conditions in which a club is hung: taken
// in hand at 0, hung from 1.2 s on, still some seconds later, to 9.2 s.
func hangingBays(seed uint64, n int) []virtual.Setup {
	all := virtual.Spread(seed, n)
	for i := range all {
		s := &all[i]
		s.FPS = 30
		s.Camera.RollDeg = 4 * math.Sin(1.9*float64(i)+0.5)
		s.Reps[0].Before = []virtual.Interlude{virtual.Hang}
	}
	return all
}

// The roll that follows from a drawn club that hangs is the camera's, or
// there is none.
func TestTheRollIsMeasuredFromAHungClub(t *testing.T) {
	n := 6
	if os.Getenv("DRILLBAY_LONG") != "" {
		n = 40
	}
	seen, within := 0, 0
	worst := 0.0
	for i, s := range hangingBays(3, n) {
		b, err := virtual.New(s)
		require.NoError(t, err)
		set := settingOf(t, b)
		set.View, err = lens.NewView(lens.Camera{Width: s.Width, Height: s.Height, Focal: b.Focal(), Target: set.View.Target, Left: set.View.Left})
		require.NoError(t, err)
		pics := append(pictures(t, s, 0, 1.2, 0.1), pictures(t, s, 7.8, 9.1, 1/s.FPS)...)
		h, err := set.Hanging(pics)
		if err != nil {
			t.Logf("bay %d: %v", i, err)
			continue
		}
		roll, sigma, err := lens.RollFromHung(set.View.Camera, h, 3, 0.01)
		require.NoError(t, err)
		seen++
		want := s.Camera.RollDeg
		off := roll - want
		t.Logf("bay %d: roll %.2f ± %.2f, off by %.2f", i, roll, sigma, off)
		worst = max(worst, math.Abs(off))
		if math.Abs(off) < sigma {
			within++
		}
		require.Less(t, math.Abs(off), 1.0, "bay %d, degrees", i)
	}
	t.Logf("measured in %d of %d, at worst %.2f° off, within 1 sigma in %d", seen, n, worst, within)
	require.GreaterOrEqual(t, seen, n*7/10)
}

// A club that swings, one at address, and none at all give no roll but say
// why.
func TestWithoutAStillHungClubThereIsNoRoll(t *testing.T) {
	for i, s := range hangingBays(4, 3) {
		b, err := virtual.New(s)
		require.NoError(t, err)
		set := settingOf(t, b)
		_, err = set.Hanging(append(pictures(t, s, 0, 1, 0.1), pictures(t, s, 1.3, 2.5, 1/s.FPS)...))
		require.Error(t, err, "bay %d: it swings", i)
		s.Reps[0].Before, s.Reps[0].Still = []virtual.Interlude{virtual.WalkIn}, 3
		_, err = set.Hanging(append(pictures(t, s, 0, 2.5, 0.2), pictures(t, s, 4.5, 5.8, 1/s.FPS)...))
		require.Error(t, err, "bay %d: address", i)
		s.Reps[0].Before = []virtual.Interlude{virtual.Away}
		s.Scene.PasserBy = true
		_, err = set.Hanging(append(pictures(t, s, 0, 2.5, 0.2), pictures(t, s, 4.5, 5.8, 1/s.FPS)...))
		require.Error(t, err, "bay %d: nobody", i)
	}
	s := hangingBays(4, 1)[0]
	s.Scene.PasserBy = false
	s.Reps[0].Before = []virtual.Interlude{virtual.Away}
	b, err := virtual.New(s)
	require.NoError(t, err)
	_, err = settingOf(t, b).Hanging(pictures(t, s, 0, 5.8, 1/s.FPS))
	require.ErrorIs(t, err, sight.ErrNoneHangs)
	_, err = sight.Setting{}.Hanging(nil)
	require.Error(t, err)
}
