package rep

import (
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drillbay/camera/sight/sighttest"
	"drillbay/camera/virtual"
	"drillbay/drills"
)

// course is a way to a catch that a player may take.
type course struct {
	manner   virtual.Manner
	course   virtual.Course
	from, to float64 // s
	want     drills.Manner
}

var courses = []course{
	{virtual.Swing, "", 0.45, 0.8, drills.Swung}, {virtual.Swing, virtual.CutShort, 0.45, 0.8, drills.Swung}, {virtual.Swing, virtual.Driven, 0.45, 0.8, drills.Swung},
	{virtual.GentleSwing, "", 0.9, 1.3, drills.Swung}, {virtual.GentleSwing, virtual.CutShort, 0.9, 1.3, drills.Swung}, {virtual.GentleSwing, virtual.Driven, 0.9, 1.3, drills.Swung},
	{virtual.QuickPlace, "", 0.6, 0.9, drills.Placed}, {virtual.QuickPlace, virtual.RunsOut, 0.6, 0.9, drills.Placed},
	{virtual.Creep, "", 1.1, 2.2, drills.Placed}, {virtual.Creep, virtual.RunsOut, 1.1, 2.2, drills.Placed},
	{virtual.StopGo, "", 1.4, 2.4, drills.Placed},
}

// told counts what is said of n reps of each course, seen by an eye that errs.
func told(t *testing.T, n int, seed uint64, eye func(*rand.Rand) sighttest.Noise) (reps, unsure, wrong int) {
	t.Helper()
	for i, s := range virtual.Spread(seed, n*len(courses)) {
		c, r := courses[i%len(courses)], rand.New(rand.NewPCG(seed, uint64(i)))
		s.Drill, s.FPS = virtual.Catch, [3]float64{30, 30, 60}[r.IntN(3)]
		s.Reps[0].Manner, s.Reps[0].Course, s.Reps[0].Back, s.Reps[0].Down = c.manner, c.course, c.from+(c.to-c.from)*r.Float64(), 0
		b, err := virtual.New(s)
		require.NoError(t, err)
		e := b.Events()[0]
		set, doubt := sighttest.Told(b, r)
		m, err := set.Follow(sighttest.Looks(b, eye(r), e.StillFrom, e.HoldTo-0.02, r), doubt, false)
		if err != nil || m.Hold < 0 {
			continue
		}
		at := m.Times()
		if math.IsNaN(at.Start) {
			continue
		}
		reps++
		odds, _ := mannerOdds(&m, at)
		switch got := manner(odds); {
		case got == drills.Unsure:
			unsure++
		case got != c.want:
			wrong++
			t.Logf("%s %s of %.2f s: %s", c.manner, c.course, s.Reps[0].Back, got)
		}
	}
	t.Logf("%d reps: %d unsure, %d wrong", reps, unsure, wrong)
	return reps, unsure, wrong
}

// Reps of every course in like numbers, which is harder than practice is. The bounds are
// what the network is held to now, on reps that it did not learn from.
func TestTheMannerOfEveryCourse(t *testing.T) {
	n := 20
	if os.Getenv("DRILLBAY_LONG") != "" {
		n = 200
	}
	reps, unsure, wrong := told(t, n, 61, func(*rand.Rand) sighttest.Noise { return sighttest.Usual() })
	assert.Greater(t, reps, 9*n*len(courses)/10)
	assert.LessOrEqual(t, 100*wrong, reps)
	assert.LessOrEqual(t, 100*unsure, 15*reps)
	reps, unsure, wrong = told(t, n, 62, sighttest.Unfamiliar)
	assert.LessOrEqual(t, 100*wrong, 2*reps, "an eye that errs much")
	assert.LessOrEqual(t, 100*unsure, 32*reps)
}

// The numbers of an even way, of one that gathers speed, and of one with a gap and a
// stop, worked out by hand.
func TestTheNumbersOfAWay(t *testing.T) {
	ways := func(long, whole float64, steps int, shape func(x float64) float64) (at, arc []float64) {
		for i := range steps + 1 {
			x := float64(i) / float64(steps)
			at, arc = append(at, 2+long*x), append(arc, 10+whole*shape(x))
		}
		return at, arc
	}
	at, arc := ways(0.6, 140, 20, func(x float64) float64 { return x })
	f, smooth, ok := features(at, arc, 0.03, 0.7, 0.1)
	require.True(t, ok)
	assert.False(t, math.IsNaN(smooth))
	want := []float64{math.Log(0.6), 0.14, 0, 0.7, 0, 1, 1.4, 0.03, 1, 1, 1, 0.9, 0.1, 1, 1, 0.5, 0.7, 0.85}
	for i, w := range want {
		if i != 2 { // of an even way each part is the fastest
			assert.InDelta(t, w, f[i], 0.011, "number %d", i)
		}
	}
	for k := range leftTimes {
		assert.InDelta(t, 0.05*float64(k+1), f[18+k], 1e-9, "left %d steps before the catch", k+1)
	}
	for k := range doneTimes {
		assert.InDelta(t, 0.1*float64(k+1), f[18+leftTimes+k], 1e-9, "done by tenth %d", k+1)
	}
	// Half of the looks before the catch are missing, and one more.
	some := func(from []float64) (out []float64) {
		for i, x := range from {
			if i < 15 && i != 7 || i%2 == 0 {
				out = append(out, x)
			}
		}
		return out
	}
	f, _, ok = features(some(at), some(arc), 0.03, 3, -1)
	require.True(t, ok)
	assert.InDelta(t, 1.5, f[3], 1e-9, "an ending beyond all")
	assert.InDelta(t, 2, f[8], 1e-6, "frames before the catch")
	assert.InDelta(t, 2, f[9], 1e-6, "the longest gap")
	assert.InDelta(t, 0.6, f[10], 1e-6, "three looks of five")
	assert.InDelta(t, -0.3, f[12], 1e-9, "rested")

	// As the square of the time: a third of the speed is gained in the last third.
	at, arc = ways(0.9, 100, 300, func(x float64) float64 { return x * x })
	f, _, ok = features(at, arc, 0.003, math.NaN(), 1)
	require.True(t, ok)
	assert.InDelta(t, 1-math.Sqrt(0.86), f[1], 0.005, "the last part's share of the time")
	assert.InDelta(t, 1, f[2], 0.01, "fastest at the end")
	assert.Equal(t, 1.0, f[4], "its end was not seen")
	assert.InDelta(t, endingMiddle, f[3], 1e-9)
	assert.InDelta(t, 0.3, f[12], 1e-9, "rested at most so long")
	assert.InDelta(t, math.Sqrt(0.5), f[15], 1e-3)
	assert.InDelta(t, math.Sqrt(0.7), f[16], 1e-3)
	assert.InDelta(t, math.Sqrt(0.85), f[17], 1e-3)
	assert.InDelta(t, 1-math.Pow(1-0.03/0.9, 2), f[18], 1e-3)
	assert.InDelta(t, 0.25, f[18+leftTimes+4], 1e-3, "half of the time")
	assert.InDelta(t, (1-math.Pow(1-0.06/0.9, 2))/0.06*100/(f[5]*100/0.9), f[13], 1e-3, "the last 0.06 s against the fastest")

	// It stands still for most of its time.
	at, arc = ways(2, 80, 100, func(x float64) float64 { return 0.5 * min(1, x/0.1) })
	arc[100] = 90
	f, _, ok = features(at, arc, 0.02, 0.5, 0)
	require.True(t, ok)
	assert.InDelta(t, 0.5, f[7], 1e-9, "a dwell beyond all")
}

// What is far from all that was taught counts as the farthest that was.
func TestFeaturesAreHeldToWhatWasTaught(t *testing.T) {
	var far, farther [Features]float64
	for i := range far {
		far[i] = taught.Mean[i] + 1.01*farthest*taught.Spread[i]
		farther[i] = taught.Mean[i] + 1e9*taught.Spread[i]
	}
	assert.Equal(t, taught.LogOdds(&far), taught.LogOdds(&farther))
	assert.NotEqual(t, taught.LogOdds(&taught.Mean), taught.LogOdds(&far))
}

// The network is what its file says: hidden units of tanh, and a linear part.
func TestTheNetworksSum(t *testing.T) {
	var n Network
	for i := range n.Spread {
		n.Spread[i] = 1
	}
	n.Mean[2], n.Linear[2], n.Linear[3], n.Out[units] = 1, 0.5, -2, 0.25
	n.Hidden[4][3], n.Hidden[4][Features], n.Out[4] = 0.7, 0.1, 3
	var f [Features]float64
	f[2], f[3] = 2, 0.5
	assert.InDelta(t, 0.25+0.5*1-2*0.5+3*math.Tanh(0.7*0.5+0.1), n.LogOdds(&f), 1e-12)
}

// Each of the three features counts in its own spread: one spread nearer to a
// placement is one more.
func TestTheScoreIsASumOfSpreads(t *testing.T) {
	p := passage{last: 0.215, peak: 0.58}
	assert.InDelta(t, 0, p.score(0.495), 1e-9)
	assert.InDelta(t, 1, p.score(0.545), 1e-9)
	p.last += 0.035
	assert.InDelta(t, 1, p.score(0.495), 1e-9)
	p.peak -= 0.21
	assert.InDelta(t, 2, p.score(0.495), 1e-9)
	assert.True(t, math.IsNaN(p.score(math.NaN())))
}

// A swing's way through level is known from looks on the way there, one of them
// near it, on a plane that a swing may have.
func TestLooksOnTheWayToLevelAreNeeded(t *testing.T) {
	for _, c := range []struct {
		near, before, after int
		flat                float64
		want                bool
	}{{2, 2, 2, 0.6, true}, {1, 1, 2, 0.6, true}, {0, 3, 3, 0.6, false}, {2, 1, 1, 0.6, false}, {2, 4, 0, 0.6, true}, {1, 3, 0, 0.6, true}, {1, 2, 0, 0.6, false}, {2, 0, 4, 0.6, false}, {3, 3, 3, 1.1, false}} {
		assert.Equal(t, c.want, enough(c.near, c.before, c.after, c.flat), "%+v", c)
	}
}
