package sight_test

import (
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"

	"drillbay/camera/sight"
	"drillbay/camera/sight/sighttest"
	"drillbay/camera/virtual"
	"drillbay/drills"
	"drillbay/drills/rep"
)

// tally gathers by how much reps were read wrong.
type tally struct {
	reps, read                    int
	line, sigmas                  []float64 // degrees; in sigmas
	score, fair                   []float64 // degrees: the CRPS of the shaft line, and what it is on average where sigma is right
	start, turn, top, soon        []float64 // ms; soon: catch
	catch, impact                 []float64 // frames
	level                         []float64 // ms, where the level is crossed
	depth, depthSigmas            []float64 // cm; in sigmas
	found, wrongManner, unsure    int
	readable, readings, wrongSide int
}

func quantile(x []float64, q float64) float64 {
	if len(x) == 0 {
		return math.NaN()
	}
	s := slices.Sorted(slices.Values(x))
	return s[min(len(s)-1, int(q*float64(len(s))))]
}

func within(x []float64, k float64) float64 {
	n := 0
	for _, v := range x {
		if v <= k {
			n++
		}
	}
	return 100 * float64(n) / float64(len(x))
}

// follow reads one drawn rep from what an eye with usual errors says, and a
// setting as a user gives it.
func (c *tally) follow(t *testing.T, s virtual.Setup, seed uint64) {
	b, err := virtual.New(s)
	require.NoError(t, err)
	r := rand.New(rand.NewPCG(seed, 5))
	e := b.Events()[0]
	set, doubt := sighttest.Told(b, r)
	whole := s.Drill == virtual.Ordinary
	end := e.HoldTo
	if whole {
		end = e.Impact + 0.4
	}
	c.reps++
	m, err := set.Follow(sighttest.Looks(b, sighttest.Usual(), e.StillFrom, end, r), doubt, whole)
	if err != nil {
		t.Logf("rep %d is not read: %v", seed, err)
		return
	}
	c.read++
	w, got := wantOf(s, b), m.Times()
	c.judge(t, s, e, rep.Known{Setting: set, Scale: true, Band: drills.Band, Distance: doubt.Distance, Target: doubt.Target, Roll: doubt.Roll, Focal: doubt.Focal, Reach: doubt.Reach}, &m)
	put := func(to *[]float64, got, want, unit float64) {
		if !math.IsNaN(want) {
			off := math.Abs(got-want) / unit
			if math.IsNaN(off) {
				off = 1e6
			}
			*to = append(*to, off)
		}
	}
	put(&c.start, got.Start, w.start, 1e-3)
	put(&c.turn, got.Turn, w.turn, 1e-3)
	put(&c.top, got.Top, w.top, 1e-3)
	put(&c.catch, got.Catch, w.catch, 1/s.FPS)
	put(&c.soon, got.Catch, w.catch, 1e-3)
	put(&c.impact, got.Impact, w.impact, 1/s.FPS)
	reading, at := m.AtLevel(got.Level), w.level
	if held := m.Hold >= 0; held && (m.Held().Lift.Value < 3 || math.IsNaN(got.Level)) {
		reading, at = m.Held(), e.Catch+0.1
	} else if !math.IsNaN(w.level) {
		put(&c.level, got.Level, w.level, 1e-3)
	}
	truth := b.Truth(at)
	off := math.Abs(reading.Line.Value - truth.ShaftLineDeg)
	if off > 3 {
		t.Logf("rep %d: %s at %.0f fps, %.1f m: %.1f° instead of %.1f°, sigma %.1f°", seed, s.Reps[0].Manner, s.FPS, s.Camera.Distance, reading.Line.Value, truth.ShaftLineDeg, reading.Line.Sigma)
	}
	c.line, c.sigmas = append(c.line, off), append(c.sigmas, off/reading.Line.Sigma)
	c.score, c.fair = append(c.score, crps(off, reading.Line.Sigma)), append(c.fair, reading.Line.Sigma/math.Sqrt(math.Pi))
	deep := 100 * math.Abs(reading.Inside.Value-(truth.Hands[1]-b.Truth(e.StillFrom).Hands[1]))
	c.depth, c.depthSigmas = append(c.depth, deep), append(c.depthSigmas, deep/(100*reading.Inside.Sigma))
}

// judge makes a rep of the track and holds verdict and manner against the
// truth.
func (c *tally) judge(t *testing.T, s virtual.Setup, e virtual.Event, k rep.Known, m *sight.Motion) {
	r, ok := rep.Of(m, k)
	if !ok {
		t.Logf("no rep: %+v of %+v", m.Times(), e)
		return
	}
	c.found++
	want := drills.Placed
	if e.Manner.Swung() {
		want = drills.Swung
	}
	switch {
	case r.Manner == drills.Unsure:
		c.unsure++
	case r.Manner != want:
		c.wrongManner++
		t.Logf("%s taken for %s at %.0f fps, ending %.2f", s.Reps[0].Manner, r.Manner, s.FPS, m.Times().Ending)
	}
	if math.IsNaN(e.Level) {
		if !math.IsNaN(e.Catch) && e.CatchElevationDeg < -15 {
			assert.Equal(t, drills.Short, r.Verdict, "stopped at %.0f°", e.CatchElevationDeg)
		}
		return
	}
	c.readable++
	if !r.ShaftLine.OK() {
		return
	}
	c.readings++
	truth, _ := drills.Judge(drills.Reading{Value: e.LevelShaftLineDeg, Sigma: 0.1}, drills.Band)
	if math.Abs(math.Abs(e.LevelShaftLineDeg)-drills.Band) > 3 && r.Verdict != truth {
		c.wrongSide++
	}
}

func (c *tally) log(t *testing.T) {
	two := func(x []float64) [2]float64 { return [2]float64{quantile(x, 0.5), quantile(x, 0.95)} }
	t.Logf("%d of %d read; line %.2f°, within 1 and 2 sigma %.0f and %.0f %%; depth %.1f cm, %.0f and %.0f %%", c.read, c.reps, two(c.line), within(c.sigmas, 1), within(c.sigmas, 2), two(c.depth), within(c.depthSigmas, 1), within(c.depthSigmas, 2))
	t.Logf("CRPS of the shaft line %.2f of what it is where sigma is right", stat.Mean(c.score, nil)/stat.Mean(c.fair, nil))
	t.Logf("%d reps, %d with a wrong manner, %d unsure; of %d that reach level %d read, %d on the wrong side", c.found, c.wrongManner, c.unsure, c.readable, c.readings, c.wrongSide)
	t.Logf("start %.0f, turn-round %.0f, level %.0f, top %.0f ms; catch %.2f, impact %.2f frames (median and 95 %%)", two(c.start), two(c.turn), two(c.level), two(c.top), two(c.catch), two(c.impact))
}

// What the eye says is good to 1 cm at the hands and the head, three times worse
// end-on, one point in 50 anywhere, looks missing in stretches; nearly all of the
// error lasts: so it is measured on drawn and rendered reps. The bounds are what the track is held to now.
func TestTheTrackReadsRepsFromLooksThatAreOff(t *testing.T) {
	n := 10
	if os.Getenv("DRILLBAY_LONG") != "" {
		n = 200
	}
	for _, kind := range []string{"catches", "whole swings"} {
		t.Run(kind, func(t *testing.T) {
			t.Parallel()
			var c tally
			for i, s := range virtual.Spread(902, 5*n) {
				if (s.Drill == virtual.Ordinary) == (kind == "whole swings") && c.reps < n {
					c.follow(t, s, uint64(i))
				}
			}
			c.log(t)
			assert.GreaterOrEqual(t, float64(c.read), 0.95*float64(c.reps))
			assert.LessOrEqual(t, quantile(c.line, 0.5), 1.2)
			assert.LessOrEqual(t, quantile(c.line, 0.95), 3.0)
			assert.GreaterOrEqual(t, within(c.sigmas, 2), 90.0)
			// Sigmas that are half of what they should be make this 2.2, double ones 0.6.
			told := stat.Mean(c.score, nil) / stat.Mean(c.fair, nil)
			assert.Less(t, told, 1.5, "how well sigma tells the error, by the CRPS")
			assert.LessOrEqual(t, quantile(c.turn, 0.5), 50.0)
			assert.LessOrEqual(t, quantile(c.start, 0.5), 50.0)
			if kind == "catches" {
				assert.Greater(t, told, 0.65, "how well sigma tells the error, by the CRPS")
				assert.LessOrEqual(t, quantile(c.catch, 0.5), 0.6)
				return
			}
			assert.LessOrEqual(t, quantile(c.impact, 0.5), 0.2)
			if len(c.impact) > 19 { // of fewer, the worst is no quantile
				assert.LessOrEqual(t, quantile(c.impact, 0.95), 2.0)
			}
			assert.LessOrEqual(t, quantile(c.top, 0.5), 30.0)
		})
	}
}

func TestTheTrackAtAnyFrameRateAndDistance(t *testing.T) {
	n := 4
	if os.Getenv("DRILLBAY_LONG") != "" {
		n = 80
	}
	cases := []struct {
		name          string
		fps, distance float64
	}{{"24 frames a second", 24, 0}, {"120 frames a second", 120, 0}, {"240 frames a second", 240, 0}, {"4.5 m away", 0, 4.5}}
	for _, x := range cases {
		t.Run(x.name, func(t *testing.T) {
			t.Parallel()
			var c tally
			for i, s := range virtual.Spread(903, n) {
				if x.fps > 0 {
					s.FPS = x.fps
				}
				if x.distance > 0 {
					s.Camera.Distance = x.distance
				}
				c.follow(t, s, uint64(i))
			}
			c.log(t)
			assert.GreaterOrEqual(t, float64(c.read), 0.95*float64(c.reps))
			assert.LessOrEqual(t, quantile(c.line, 0.5), 1.6) // of a dozen
			assert.LessOrEqual(t, quantile(c.line, 0.95), 4.0)
			assert.LessOrEqual(t, quantile(c.start, 0.5), 50.0, "ms")
			assert.LessOrEqual(t, quantile(c.soon, 0.95), 70.0, "catch, ms")
			assert.LessOrEqual(t, quantile(c.turn, 0.95), 100.0, "turn-round, ms: a swing forward is none back")
		})
	}
}

// Nobody stops a club that is placed: its last movement, one of least jerk (Flash & Hogan
// 1985), comes to rest by itself, and takes a fifth of its time for the last 3 % of the way.
func TestAPlacedClubIsCaughtWhereItComesToRest(t *testing.T) {
	manners := []virtual.Manner{virtual.StopGo, virtual.Creep, virtual.QuickPlace}
	n := 24
	var off []float64 // s
	for i, s := range virtual.Spread(906, n) {
		s.Drill, s.FPS, s.Reps[0].Course, s.Reps[0].Back = virtual.Catch, 30, "", 0
		s.Reps[0].Manner = manners[i%len(manners)]
		b, err := virtual.New(s)
		require.NoError(t, err)
		e, dice := b.Events()[0], rand.New(rand.NewPCG(uint64(i), 906))
		set, doubt := sighttest.Told(b, dice)
		m, err := set.Follow(sighttest.Looks(b, sighttest.Usual(), e.StillFrom, e.HoldTo, dice), doubt, false)
		if err != nil {
			continue
		}
		r, ok := rep.Of(&m, rep.Known{Setting: set, Scale: true, Band: drills.Band, Distance: doubt.Distance, Target: doubt.Target, Roll: doubt.Roll, Focal: doubt.Focal, Reach: doubt.Reach})
		if ok {
			off = append(off, r.Moments.Catch-e.Catch)
		}
	}
	mean, spread := stat.MeanStdDev(off, nil)
	for i := range off {
		off[i] = math.Abs(off[i])
	}
	t.Logf("%d of %d: %.0f ms off on average, spread %.0f, median %.0f, 95 %% %.0f", len(off), n, 1000*mean, 1000*spread, 1000*quantile(off, 0.5), 1000*quantile(off, 0.95))
	assert.GreaterOrEqual(t, len(off), n*9/10)
	assert.Less(t, math.Abs(mean), 0.03, "s")
	assert.LessOrEqual(t, quantile(off, 0.5), 0.03, "s")
}

// Without looks, or with looks that show no club, there is no track and no
// panic.
func TestLooksWithoutAClubMakeNoTrack(t *testing.T) {
	b, err := virtual.New(virtual.Spread(904, 1)[0])
	require.NoError(t, err)
	set, doubt := sighttest.Told(b, rand.New(rand.NewPCG(1, 1)))
	_, err = set.Follow(nil, doubt, false)
	require.ErrorIs(t, err, sight.ErrFewLooks)
	_, err = set.Follow(make([]sight.Look, 90), doubt, true)
	require.ErrorIs(t, err, sight.ErrFewLooks)
	looks := sighttest.Looks(b, sighttest.Usual(), 0, 0.6, rand.New(rand.NewPCG(1, 2)))
	_, err = set.Follow(looks, doubt, false)
	require.ErrorIs(t, err, sight.ErrNoHold)
}

// crps is the continuous ranked probability score, a proper one, of a normal
// forecast that is off by so much: σ·(z·(2Φ(z) − 1) + 2φ(z) − 1/√π) with z = off/σ
// (Gneiting & Raftery 2007, Strictly proper scoring rules, prediction, and
// estimation, JASA 102:359, eq. 21 and §4.2). Where σ is right its mean is σ/√π.
func crps(off, sigma float64) float64 {
	z := off / sigma
	return sigma * (z*math.Erf(z/math.Sqrt2) + 2*distuv.UnitNormal.Prob(z) - 1/math.Sqrt(math.Pi))
}

// A normal forecast that is right scores √(2/π) − 1/√π = 0.2337 of its sigma, and
// one that is far off by its error less σ/√π; the score of draws from the forecast
// itself is σ/√π on average (ibid.).
func TestTheScoreIsThePublishedOne(t *testing.T) {
	assert.InDelta(t, 0.2337, crps(0, 1), 1e-4)
	assert.InDelta(t, 20-2/math.Sqrt(math.Pi), crps(20, 2), 1e-6)
	dice := rand.New(rand.NewPCG(1, 359))
	var scores []float64
	for range 20000 {
		scores = append(scores, crps(3*dice.NormFloat64(), 3))
	}
	assert.InEpsilon(t, 3/math.Sqrt(math.Pi), stat.Mean(scores, nil), 0.02)
}

// wanted is the truth of one rep.
type wanted struct{ start, turn, level, catch, top, impact float64 }

func wantOf(s virtual.Setup, b *virtual.Bay) wanted {
	e := b.Events()[0]
	w := wanted{level: e.Level, catch: e.Catch, top: e.Top, impact: e.Impact}
	stop := e.Catch
	if s.Drill == virtual.Ordinary {
		stop = e.Impact + 0.3
	}
	speed := func(t float64) float64 {
		const h = 1.0 / 240
		a, c := b.Truth(t-h).Head, b.Truth(t+h).Head
		return math.Hypot(math.Hypot(c[0]-a[0], c[1]-a[1]), c[2]-a[2]) / (2 * h)
	}
	peak := 0.0
	for t := e.StillFrom + 0.1; t < stop; t += 0.004 {
		peak = max(peak, speed(t))
	}
	first := e.ForwardStart
	if math.IsNaN(first) {
		first = e.BackStart
	}
	w.start = first - 0.03
	for speed(w.start) < 0.05*peak {
		w.start += 0.002
	}
	w.turn = w.start
	if !math.IsNaN(e.ForwardStart) {
		best := math.Inf(1)
		for t := e.BackStart - 0.1; t < e.BackStart+0.13; t += 0.002 {
			if v := speed(t); v < best {
				best, w.turn = v, t
			}
		}
	}
	return w
}

// BenchmarkFollow fits the track of one catch at 30 frames a second.
func BenchmarkFollow(b *testing.B) {
	s := virtual.Spread(905, 1)[0]
	s.FPS, s.Drill = 30, virtual.Catch
	bay, err := virtual.New(s)
	require.NoError(b, err)
	set, doubt := sighttest.Told(bay, rand.New(rand.NewPCG(1, 1)))
	looks := sighttest.Looks(bay, sighttest.Usual(), 0, bay.Events()[0].HoldTo, rand.New(rand.NewPCG(1, 2)))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := set.Follow(looks, doubt, false); err != nil {
			b.Fatal(err)
		}
	}
}
