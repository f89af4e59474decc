package sight_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/camera/frame"
	"drillbay/camera/sight"
	"drillbay/camera/virtual"
)

// bayWithPlayer is a bay in which a player practises, comes and goes.
func bayWithPlayer(width, height int) virtual.Setup {
	s := virtual.Default()
	s.Width, s.Height = width, height
	s.Camera.PitchDeg = -5
	s.Reps = []virtual.RepSpec{{ShaftLineDeg: 5, Before: []virtual.Interlude{virtual.WalkIn, virtual.Away}}}
	return s
}

// pictures draws pictures of a setup from one time to another.
func pictures(t *testing.T, s virtual.Setup, from, to, step float64) (out []*frame.Picture) {
	t.Helper()
	b, err := virtual.New(s)
	require.NoError(t, err)
	for at := from; at < to; at += step {
		p := frame.New(s.Width, s.Height, frame.Sub420)
		require.NoError(t, b.Draw(int(math.Round(at*s.FPS)), p))
		out = append(out, p)
	}
	return out
}

// watchFor lets b see pictures again and again, and reports what it says in
// the end and whether it ever said that the camera was moved.
func watchFor(b *sight.Bump, pics []*frame.Picture, n int) (last, ever bool) {
	for i := range n {
		last = b.Step(pics[i%len(pics)])
		ever = ever || last
	}
	return last, ever
}

func TestAMovedCameraIsTold(t *testing.T) {
	for _, size := range [][2]int{{1280, 720}, {960, 540}} {
		s := bayWithPlayer(size[0], size[1])
		scenery := sight.NewScenery(pictures(t, s, 9.7, 11, 0.1)) // the player stands there
		require.True(t, scenery.Fits(size[0], size[1]))
		bay, err := virtual.New(s)
		require.NoError(t, err)
		px := 180 / math.Pi / bay.Focal() * float64(size[0]) / 1280 // degrees that shift by 1 px of 1280
		for _, c := range []struct {
			name string
			move func(*virtual.Camera)
			n    int // pictures until it is told
		}{
			{"4 px to the side", func(c *virtual.Camera) { c.YawDeg += 4 * px }, 200},
			{"4 px up", func(c *virtual.Camera) { c.PitchDeg += 4 * px }, 200},
			{"7 px", func(c *virtual.Camera) { c.YawDeg -= 5 * px; c.PitchDeg -= 5 * px }, 200},
			{"rolled by 1°", func(c *virtual.Camera) { c.RollDeg += 1 }, 200},
			{"raised by 4 cm", func(c *virtual.Camera) { c.Height += 0.04 }, 200},
			{"60 px", func(c *virtual.Camera) { c.YawDeg += 60 * px }, 2500},
			{"150 px", func(c *virtual.Camera) { c.YawDeg -= 140 * px; c.PitchDeg += 50 * px }, 2500},
		} {
			if size[0] != 1280 && c.n > 200 {
				continue
			}
			m := s
			c.move(&m.Camera)
			b := sight.NewBump(scenery)
			last, _ := watchFor(b, pictures(t, m, 1, 8, 0.4), c.n)
			t.Logf("%d wide, %s: %+v", size[0], c.name, b.Shift())
			require.True(t, last, c.name)
			// Put back, it is told no more.
			last, _ = watchFor(b, pictures(t, s, 1, 3, 0.4), 2500)
			require.False(t, last, c.name)
		}
		// The shift is the one that was made: seen by the picture's middle.
		m := s
		m.Camera.YawDeg += 8 * px
		b := sight.NewBump(scenery)
		watchFor(b, pictures(t, m, 5, 8, 0.4), 200)
		require.InDelta(t, 8*float64(size[0])/1280, math.Abs(b.Shift().U), 0.8)
		require.InDelta(t, 0, b.Shift().V, 0.8)
	}
}

func TestNothingElseIsTakenForAMovedCamera(t *testing.T) {
	s := bayWithPlayer(1280, 720)
	scenery := sight.NewScenery(pictures(t, s, 9.7, 11, 0.1))
	empty := sight.NewScenery(pictures(t, s, 5, 6.5, 0.1))
	for _, c := range []struct {
		name   string
		change func(*virtual.Setup)
	}{
		{"a rep", func(*virtual.Setup) {}},
		{"half the light", func(s *virtual.Setup) { s.Light.Strength = 0.5 }},
		{"warmer light", func(s *virtual.Setup) { s.Light.Warmth = 0.9; s.Light.Strength = 1.2 }},
		{"lamps that flicker", func(s *virtual.Setup) { s.Light.Flicker, s.Light.Drift = 0.05, 0.1 }},
		{"a passer-by", func(s *virtual.Setup) { s.Scene.PasserBy = true }},
		{"another player in other clothes", func(s *virtual.Setup) {
			s.Player.Stature, s.Player.Shirt, s.Player.Trousers = 1.62, virtual.Colour{0.7, 0.6, 0.5}, virtual.Colour{0.05, 0.05, 0.05}
		}},
		{"noise", func(s *virtual.Setup) { s.Noise = 2 }},
		{"darkness", func(s *virtual.Setup) { s.Light.Strength = 0.06 }},
	} {
		m := s
		c.change(&m)
		pics := pictures(t, m, 0.1, 12.5, 0.25)
		for _, scene := range []sight.Scenery{scenery, empty} {
			b := sight.NewBump(scene)
			_, ever := watchFor(b, pics, 1500)
			require.False(t, ever, c.name)
			t.Logf("%s: %+v", c.name, b.Shift())
		}
	}
}

// The picture of a wall without structure says nothing, and nor does one of
// another size.
func TestWithoutSceneryNothingIsTold(t *testing.T) {
	p := frame.New(1280, 720, frame.Sub420)
	s := sight.NewScenery([]*frame.Picture{p, p})
	require.Empty(t, s.Tiles)
	require.False(t, s.Fits(1280, 720))
	require.False(t, sight.NewBump(s).Step(p))
	require.False(t, sight.NewScenery(nil).Fits(0, 0))
	full := sight.NewScenery(pictures(t, bayWithPlayer(960, 540), 5, 6, 0.2))
	require.True(t, full.Fits(960, 540))
	require.False(t, full.Fits(1280, 720))
	full.Tiles[0].X = 5000
	require.False(t, full.Fits(960, 540), "it would be looked for outside the picture")
}

func TestLookingForAMovedCameraAllocatesNothing(t *testing.T) {
	pics := pictures(t, bayWithPlayer(1280, 720), 5, 6, 0.2)
	b := sight.NewBump(sight.NewScenery(pics))
	i := 0
	require.Zero(t, testing.AllocsPerRun(300, func() { b.Step(pics[i%len(pics)]); i++ }))
}

func BenchmarkBump720(b *testing.B) {
	s := bayWithPlayer(1280, 720)
	bay, err := virtual.New(s)
	require.NoError(b, err)
	p := frame.New(s.Width, s.Height, frame.Sub420)
	require.NoError(b, bay.Draw(150, p))
	bump := sight.NewBump(sight.NewScenery([]*frame.Picture{p, p}))
	b.ReportAllocs()
	for b.Loop() {
		bump.Step(p)
	}
}
