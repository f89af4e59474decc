package live

import (
	"math"
	"math/rand/v2"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/camera/sight"
	"drillbay/cues"
	"drillbay/cues/soundtest"
	"drillbay/drills"
	"drillbay/drills/ledger"
	"drillbay/drills/runner"
)

func TestADownswingIsWhereAStrikeMayBe(t *testing.T) {
	ordinary, catching := runner.Drill{Kind: runner.Ordinary, Ball: true}, runner.Drill{Kind: runner.Catch}
	turning := runner.Drill{Kind: runner.CatchTurnStrike, Ball: true}
	go1 := func(d runner.Drill, phases ...sight.Glance) *hearing {
		h := &hearing{}
		for _, g := range phases {
			h.follow(g, d)
		}
		return h
	}
	swing := []sight.Glance{{At: 1, Phase: sight.Address}, {At: 5, Phase: sight.Forward, Since: 5}, {At: 5.45, Phase: sight.Back, Since: 5}, {At: 7, Phase: sight.Hold, Since: 6.8}}
	h := go1(ordinary, swing...)
	for at, want := range map[float64]bool{2: false, 5.2: false, 5.5: true, 6: true, 7.3: false, 20: false} {
		require.Equal(t, want, h.downswing(at), "ordinary, %v s", at)
	}
	require.True(t, go1(ordinary, swing[:3]...).downswing(6.5), "it goes on")
	require.False(t, go1(ordinary, swing[:3]...).downswing(8), "no swing is that long")
	require.False(t, go1(catching, swing...).downswing(6), "no ball is struck")
	h = go1(turning, append(swing, sight.Glance{At: 8.5, Phase: sight.Settling, Since: 8.4})...)
	for at, want := range map[float64]bool{8: false, 8.6: true, 9.2: true, 10.8: true, 12: false} {
		require.Equal(t, want, h.downswing(at), "turn and strike, %v s", at)
	}
	require.False(t, (&hearing{}).downswing(0))
}

func TestTheStrikeTellsTheImpact(t *testing.T) {
	const frame = 1.0 / 30
	rep := func() drills.Rep {
		r := drills.Rep{Moments: drills.NoMoments(), Tempo: 3}
		r.Moments.Start, r.Moments.Top, r.Moments.Impact = 10, 10.75, 11
		r.TempoLow, r.TempoHigh = 2.2, 3.8
		return r
	}
	r := rep()
	sharpen(&r, []float64{4, 11.02, 11.6}, frame)
	require.InDelta(t, 11.02, r.Moments.Impact, 1e-9)
	require.InDelta(t, 0.75/0.27, r.Tempo, 1e-9)
	// 95 % of what start and top, evenly within a frame and 12/√2 ms besides,
	// and an impact to 3 ms would give: drawn a hundred thousand times.
	random, inside := rand.New(rand.NewPCG(1, 1)), 0
	moment := func() float64 { return frame*(random.Float64()-0.5) + 0.012/math.Sqrt2*random.NormFloat64() }
	for range 100_000 {
		start, top, impact := moment(), moment(), 0.003*random.NormFloat64()
		if ratio := (0.75 + top - start) / (0.27 + impact - top); ratio > r.TempoLow && ratio < r.TempoHigh {
			inside++
		}
	}
	require.InDelta(t, 0.95, float64(inside)/100_000, 0.015)
	for name, strikes := range map[string][]float64{"none": nil, "the neighbour's": {10.2, 12}, "just too late": {11.1}} {
		r := rep()
		sharpen(&r, strikes, frame)
		require.Equal(t, rep().Moments.Impact, r.Moments.Impact, name)
		require.Equal(t, 3.0, r.Tempo, name)
	}
	r = rep()
	r.Moments.Impact = math.NaN()
	sharpen(&r, []float64{11}, frame)
	require.True(t, math.IsNaN(r.Moments.Impact), "no impact was seen")
}

// bang is the sound of a strike: noise that dies away within some 10 ms.
func bang() []float64 {
	r := rand.New(rand.NewPCG(4, 4))
	out := make([]float64, cues.Rate/20)
	for i := range out {
		out[i] = 0.5 * math.Exp(-float64(i)/(0.004*cues.Rate)) * r.NormFloat64()
	}
	return out
}

// Through a loudspeaker and a microphone, strikes count while the player swings
// and not while nobody does.
func TestStrikesAreHeardInASession(t *testing.T) {
	if testing.Short() {
		t.Skip("a session in real time takes a quarter of a minute")
	}
	if raced {
		t.Skip("the race detector slows the drawn bay below real time")
	}
	s := soundtest.New(t)
	s.Start()
	for try := 1; ; try++ {
		stood := soundtest.Stalls()
		p := plan{Ledger: filepath.Join(t.TempDir(), ledger.FileName), Seed: 5, Reps: 3, Sound: true, Swings: true}
		g := begin(t, "strikes", s.Program("TestHelperSession"), p)
		end := g.finish()
		still := stood()
		t.Logf("%v; %d strikes heard of 3 in a swing and 3 between; the machine stood still for %v at most", end, end.Heard, still)
		require.Empty(t, end.Error)
		require.LessOrEqual(t, end.Heard, 3, "those between do not count")
		if end.Heard < 3 && still > soundtest.Overloaded {
			if try == 3 {
				t.Skipf("this machine is too busy to listen on: it stood still for %v", still)
			}
			continue
		}
		require.Equal(t, 3, end.Heard)
		require.False(t, g.noticed("ear"))
		return
	}
}
