package sight_test

import (
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drillbay/camera/eye"
	"drillbay/camera/lens"
	"drillbay/camera/sight"
	"drillbay/camera/sight/sighttest"
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

// watched are the glances at what an eye with a noise sees of a bay, twelve
// times a second.
func watched(t *testing.T, b *virtual.Bay, n sighttest.Noise, seed uint64) (out []sight.Glance) {
	t.Helper()
	w := sight.NewLookout(settingOf(t, b))
	due := 0.0
	for _, l := range sighttest.Looks(b, n, 0, float64(b.Frames())/b.Setup().FPS, rand.New(rand.NewPCG(seed, 8))) {
		if l.At < due {
			continue
		}
		due = max(due+1/12.0, l.At)
		out = append(out, w.See(l))
	}
	return out
}

// told are the glances that say that a catch or an end became known.
func told(all []sight.Glance) (caught, ended []sight.Glance) {
	for _, g := range all {
		if g.Caught {
			caught = append(caught, g)
		}
		if g.Ended {
			ended = append(ended, g)
		}
	}
	return caught, ended
}

// A drawn rep, by an eye that sees to half a pixel: address, forward, back,
// hold, in this order; the catch is known once, within StillFor and two looks,
// and its end once.
func TestTheLookoutFollowsARep(t *testing.T) {
	for _, hand := range []virtual.Hand{virtual.RightHand, virtual.LeftHand} {
		s := virtual.Default()
		s.Player.Hand = hand
		s.Reps = []virtual.RepSpec{{ShaftLineDeg: 6, Still: 1.2, Hold: 1.2}}
		b, err := virtual.New(s)
		require.NoError(t, err)
		e := b.Events()[0]
		all := watched(t, b, sighttest.Noise{Hands: 0.002, Head: 0.002, Body: 0.002}, 1)
		caught, ended := told(all)
		require.Len(t, caught, 1)
		span := caught[0].Span
		assert.InDelta(t, e.Catch, span.Catch, 0.1)
		assert.InDelta(t, e.Catch+sight.StillFor, caught[0].At, 2.5/12)
		assert.InDelta(t, e.ForwardStart, span.Start, 0.15)
		assert.Less(t, span.From, span.Start)
		assert.False(t, span.Whole)
		require.Len(t, ended, 1)
		assert.Greater(t, ended[0].Span.End, e.Catch+1)
		var order []sight.Phase
		for _, g := range all {
			if n := len(order); g.At <= e.HoldTo && (n == 0 || order[n-1] != g.Phase) {
				order = append(order, g.Phase)
			}
			if g.Phase != sight.Address {
				assert.True(t, math.IsNaN(g.HandsX), "hands are told at address only")
				continue
			}
			w := b.Truth(g.At)
			if g.At < e.ForwardStart {
				assert.Less(t, math.Hypot(g.HandsX-w.HandsPX[0], g.HandsY-w.HandsPX[1]), 3.0, "%v hand, px", hand)
			}
		}
		require.NotEmpty(t, order)
		if order[0] == sight.Settling || order[0] == sight.Away {
			order = order[1:]
		}
		assert.Equal(t, []sight.Phase{sight.Address, sight.Forward, sight.Back, sight.Hold}, order)
	}
}

// Of reps in ordinary conditions, by an eye with usual errors, nothing is found
// that is none. All should be found: the bound is what is reached now.
func TestTheLookoutFindsRepsFromLooksThatAreOff(t *testing.T) {
	n := 24
	if os.Getenv("DRILLBAY_LONG") != "" {
		n = 400
	}
	found, extra := 0, 0
	for i, s := range virtual.Spread(906, n) {
		s.Width, s.Height = 640, 360
		b, err := virtual.New(s)
		require.NoError(t, err)
		e := b.Events()[0]
		whole := s.Drill == virtual.Ordinary
		caught, _ := told(watched(t, b, sighttest.Usual(), uint64(i)))
		hit := false
		for _, g := range caught {
			// A pause on the way is told too: the later hold takes its place.
			near := math.Abs(g.Span.Catch-e.Catch) < 0.35
			if whole {
				near = g.Span.Whole && g.At > e.Impact-0.3 && g.At < e.Impact+1.5
			}
			if near && !hit {
				hit = true
			} else if !near && (g.At < e.StillFrom || g.At > e.HoldTo+1) {
				extra++
			}
		}
		if hit {
			found++
		} else {
			t.Logf("rep %d, %s %s at %.0f fps, %.1f m: not found", i, s.Drill, s.Reps[0].Manner, s.FPS, s.Camera.Distance)
		}
	}
	t.Logf("%d of %d reps found, %d that were none", found, n, extra)
	assert.GreaterOrEqual(t, found, n*9/10)
	assert.Zero(t, extra)
}

// A whole swing whose hands leave the picture at its top, and come back for the
// way down, is one.
func TestASwingMayLeaveThePicture(t *testing.T) {
	s := virtual.Default()
	s.Drill, s.Arms = virtual.Ordinary, virtual.BothArms
	s.Reps = []virtual.RepSpec{{Still: 1.2, Back: 0.8}}
	b, err := virtual.New(s)
	require.NoError(t, err)
	e := b.Events()[0]
	top := b.Truth(e.BackStart - 0.1).HandsPX[1] - 0.33*b.Focal()/s.Camera.Distance
	w := sight.NewLookout(settingOf(t, b))
	var all []sight.Glance
	gone := 0
	for _, l := range sighttest.Looks(b, sighttest.Noise{Hands: 0.002, Head: 0.002, Body: 0.002}, 0, float64(b.Frames())/s.FPS, rand.New(rand.NewPCG(3, 8))) {
		if b.Truth(l.At).HandsPX[1] < top {
			l, gone = sight.Look{At: l.At}, gone+1
		}
		g := w.See(l)
		if rise := b.Truth(e.StillFrom).HandsPX[1] - b.Truth(l.At).HandsPX[1]; rise > 0.2*b.Focal()/s.Camera.Distance {
			assert.NotEqual(t, sight.Forward, g.Phase, "the hands have risen, %.2f s", l.At)
		}
		all = append(all, g)
	}
	require.Greater(t, gone, 5)
	caught, ended := told(all)
	require.Len(t, caught, 1)
	assert.True(t, caught[0].Span.Whole)
	assert.InDelta(t, e.BackStart, caught[0].Span.Start, 0.25)
	assert.Greater(t, caught[0].At, e.Impact)
	assert.Len(t, ended, 1)
}

// The top and the strike of a swing whose hands leave the picture are between
// and after the looks that still show them.
func TestTopAndStrikeOfASwingThatLeavesThePicture(t *testing.T) {
	for _, fps := range []float64{30, 60} {
		s := virtual.Default()
		s.Drill, s.Arms, s.FPS = virtual.Ordinary, virtual.BothArms, fps
		s.Reps = []virtual.RepSpec{{Still: 1.2, Back: 0.8}}
		b, err := virtual.New(s)
		require.NoError(t, err)
		e := b.Events()[0]
		height := b.Truth(e.BackStart - 0.1).HandsPX[1] - 0.4*b.Focal()/s.Camera.Distance
		var looks []sight.Look
		gone := 0.0
		for _, l := range sighttest.Looks(b, sighttest.Noise{Hands: 0.004, Head: 0.004, Body: 0.004}, e.StillFrom, e.Impact+0.4, rand.New(rand.NewPCG(3, 8))) {
			if b.Truth(l.At).HandsPX[1] < height && l.At < e.Impact {
				l = sight.Look{At: l.At}
				gone += 1 / fps
			}
			looks = append(looks, l)
		}
		require.Greater(t, gone, 0.2, "s without hands")
		m, err := settingOf(t, b).Follow(looks, sight.Doubt{Distance: 0.05, Reach: 0.008, Target: 2, Roll: 0.3, Focal: 0.01}, true)
		require.NoError(t, err)
		assert.InDelta(t, e.Top, m.Times().Top, 0.08, "top, %g frames a second", fps)
		assert.InDelta(t, e.Impact, m.Times().Impact, 1.5/fps, "impact, %g frames a second", fps)
	}
}

// Whoever stands at address and hides the head of the club catches nothing; and
// without the head there is no address.
func TestAnAddressNeedsTheHeadAndIsNoCatch(t *testing.T) {
	s := virtual.Default()
	s.Reps = []virtual.RepSpec{{Still: 4}}
	b, err := virtual.New(s)
	require.NoError(t, err)
	looks := sighttest.Looks(b, sighttest.Noise{Hands: 0.002, Head: 0.002, Body: 0.002}, 0, 3.5, rand.New(rand.NewPCG(5, 8)))
	hide := func(l sight.Look) sight.Look {
		l.Places[eye.Head], l.Places[eye.ShaftEnd] = eye.Place{}, eye.Place{}
		return l
	}
	w := sight.NewLookout(settingOf(t, b))
	address := 0
	for _, l := range looks {
		if l.At > 1.5 {
			l = hide(l)
		}
		g := w.See(l)
		assert.False(t, g.Caught, "%.2f s", l.At)
		if g.Phase == sight.Address {
			address++
		}
	}
	assert.Positive(t, address)
	w = sight.NewLookout(settingOf(t, b))
	for i, l := range looks {
		if i%5 > 1 {
			l = hide(l) // seen in two looks of five
		}
		if g := w.See(l); i > 20 {
			assert.NotEqual(t, sight.Address, g.Phase, "%.2f s", l.At)
		}
	}
}

// Whoever is not seen is away, soon after he was seen last, and there is no
// rep.
// A head that leaves the picture at the bottom on its way back, while the hands, which
// come toward the lens, hardly move in the picture, is not at address still.
func TestAHeadThatLeavesThePictureIsNotAtAddress(t *testing.T) {
	catches := slices.DeleteFunc(virtual.Spread(2401, 8), func(s virtual.Setup) bool { return s.Drill == virtual.Ordinary })
	s := catches[3]
	s.Width, s.Height = 960, 540
	b, err := virtual.New(s)
	require.NoError(t, err)
	e := b.Events()[0]
	w := sight.NewLookout(settingOf(t, b))
	due, unseen := 0.0, 0
	var caught []sight.Glance
	for _, l := range sighttest.Looks(b, sighttest.Noise{Hands: 0.002, Head: 0.002, Body: 0.002}, 0, e.HoldTo, rand.New(rand.NewPCG(4, 8))) {
		if l.At < due {
			continue
		}
		due = max(due+1/12.0, l.At)
		if b.Truth(l.At).HeadPX[1] > float64(s.Height) {
			l.Places[eye.Head], l.Places[eye.ShaftEnd] = eye.Place{}, eye.Place{}
			unseen++
		}
		g := w.See(l)
		if g.At > e.BackStart+0.5 && g.At < e.Catch {
			assert.NotEqual(t, sight.Address, g.Phase, "%.2f s", g.At)
		}
		if g.Caught {
			caught = append(caught, g)
		}
	}
	t.Logf("%d looks without the head", unseen)
	require.GreaterOrEqual(t, unseen, 3)
	require.Len(t, caught, 1)
	assert.InDelta(t, e.Catch, caught[0].Span.Catch, 0.1)
	assert.InDelta(t, e.BackStart, caught[0].Span.Start, 0.3)
}

func TestNobodyIsAway(t *testing.T) {
	s := virtual.Default()
	s.Reps = []virtual.RepSpec{{Still: 1.2}}
	b, err := virtual.New(s)
	require.NoError(t, err)
	w := sight.NewLookout(settingOf(t, b))
	g := w.See(sight.Look{At: 1})
	assert.Equal(t, sight.Away, g.Phase)
	for _, l := range sighttest.Looks(b, sighttest.Noise{Hands: 0.002, Head: 0.002, Body: 0.002}, 0, 1, rand.New(rand.NewPCG(1, 1))) {
		l.At += 2
		g = w.See(l)
	}
	require.Equal(t, sight.Address, g.Phase)
	for at := 3.1; at < 5; at += 1 / 12.0 {
		g = w.See(sight.Look{At: at})
		assert.False(t, g.Caught || g.Ended)
	}
	assert.Equal(t, sight.Away, g.Phase)
	assert.True(t, math.IsNaN(g.HandsX))
}

// The live pass runs beside the camera: once its lists have grown it allocates
// nothing more.
func TestAGlanceAllocatesNothing(t *testing.T) {
	s := virtual.Default()
	s.Reps = []virtual.RepSpec{{ShaftLineDeg: 5, Hold: 1}}
	b, err := virtual.New(s)
	require.NoError(t, err)
	seconds := float64(b.Frames()) / s.FPS
	looks := sighttest.Looks(b, sighttest.Noise{Hands: 0.002, Head: 0.002, Body: 0.002}, 0, seconds, rand.New(rand.NewPCG(1, 1)))
	w := sight.NewLookout(settingOf(t, b))
	caught, from := 0, 0.0
	rep := func() {
		for _, l := range looks {
			l.At += from
			if w.See(l).Caught {
				caught++
			}
		}
		from += seconds + 1
	}
	rep()
	assert.Zero(t, testing.AllocsPerRun(2, rep))
	assert.Equal(t, 4, caught, "reps")
}
