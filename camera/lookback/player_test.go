package lookback

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// times of a loop of 1.2 s at 30 fps that begins at 100 s.
func loopTimes() []float64 {
	var out []float64
	for i := range 37 {
		out = append(out, 100+float64(i)/30)
	}
	return out
}

func TestALapAtQuarterSpeedFreezesHalfASecond(t *testing.T) {
	p := NewPlayer(loopTimes(), 100.9, 10)
	cases := []struct {
		after, at float64
		held      bool
		lap       int
	}{
		{0, 100, false, 0},
		{0.4, 100.1, false, 0},
		{3.599, 100.89975, false, 0},
		{3.6, 100.9, true, 0},
		{4.0999, 100.9, true, 0},
		{4.3, 100.95, false, 0},
		{5.3, 101.2, false, 0},
		{5.44, 100.0017, false, 1}, // 1.2333 s at a quarter and 0.5 s: 5.4333 s
	}
	for _, c := range cases {
		got := p.At(10 + c.after)
		require.InDelta(t, c.at, got.At, 1e-3, "after %v s", c.after)
		require.Equal(t, c.held, got.Held, "after %v s", c.after)
		require.Equal(t, c.lap, got.Lap, "after %v s", c.after)
	}
}

func TestWhatIsShownDependsOnTheTimeAlone(t *testing.T) {
	p := NewPlayer(loopTimes(), 100.9, 10)
	late := p.At(17.3)
	_ = p.At(11)
	require.Equal(t, late, p.At(17.3))
}

func TestSpeedChangesGoOnFromWhatIsShown(t *testing.T) {
	p := NewPlayer(loopTimes(), 100.9, 0)
	for _, s := range []float64{Half, Full, Quarter} {
		before := p.At(2).At
		p = p.AtSpeed(s, 2)
		require.InDelta(t, before, p.At(2).At, 1e-9)
		require.InDelta(t, before+0.05*s, p.At(2.05).At, 1e-9)
	}
}

func TestHoldStepAndScrub(t *testing.T) {
	times := loopTimes()
	p := NewPlayer(times, math.NaN(), 0).Hold(1)
	require.True(t, p.Still())
	held := p.At(1)
	require.Equal(t, held, p.At(50), "held is held")
	p = p.Step(1, 50)
	require.Equal(t, held.Frame+1, p.At(50).Frame)
	p = p.Step(-2, 50)
	require.Equal(t, held.Frame-1, p.At(50).Frame)
	require.Equal(t, 0, p.Step(-1000, 50).At(50).Frame)
	require.Equal(t, len(times)-1, p.Step(1000, 50).At(50).Frame)
	require.InDelta(t, 101.2, p.Scrub(400).At(50).At, 1e-9)
	require.InDelta(t, 100, p.Scrub(-4).At(50).At, 1e-9)
	require.Equal(t, p.At(50), p.Scrub(math.NaN()).At(50))
	p = p.Scrub(100.5).Hold(60)
	require.False(t, p.Still())
	require.InDelta(t, 100.75, p.At(61).At, 1e-9)
}

func TestEveryStepShowsItsOwnPicture(t *testing.T) {
	times := loopTimes()
	p := NewPlayer(times, 100.9, 0).Scrub(0)
	for i := range times {
		require.Equal(t, i, p.At(0).Frame)
		p = p.Step(1, 0)
	}
}

func TestALoopThatGrowsPlaysOn(t *testing.T) {
	times := loopTimes()
	p := NewPlayer(times[:30], 100.9, 0)
	q := p.Longer(times, 3)
	require.Equal(t, p.At(3.3).At, q.At(3.3).At)
	require.InDelta(t, 101.2, q.To(), 1e-9)
	again := p.Longer(times, 12)
	require.InDelta(t, p.At(12).At, again.At(12).At, 1e-9)
	require.InDelta(t, 0, NewPlayer(times, 200, 0).Longer(times[5:], 3).At(3).At-times[5], 1e-9)
}

func TestOnePictureIsAPlayerToo(t *testing.T) {
	p := NewPlayer([]float64{5}, 5, 0)
	for _, now := range []float64{0, 0.3, 0.6, 99} {
		require.InDelta(t, 5, p.At(now).At, 1e-9)
	}
	require.Panics(t, func() { NewPlayer(nil, 0, 0) })
}

func TestFreezeElsewhere(t *testing.T) {
	p := NewPlayer(loopTimes(), 100.9, 0).FreezeAt(100.5, 1)
	require.InDelta(t, 100.25, p.At(1).At, 1e-9)
	require.True(t, p.At(2.2).Held)
	require.False(t, p.FreezeAt(3, 1).At(2.2).Held)
}
