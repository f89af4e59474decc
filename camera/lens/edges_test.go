package lens

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestWhichCamerasAreTaken(t *testing.T) {
	usual := Camera{Width: 1000, Height: 600, Focal: 700, Target: Point{500, 300}}
	for name, c := range map[string]struct {
		change func(c *Camera)
		ok     bool
	}{
		"as it is":    {func(*Camera) {}, true},
		"focal 0.2":   {func(c *Camera) { c.Focal = 200 }, false},
		"focal 0.201": {func(c *Camera) { c.Focal = 201 }, true},
		"focal 19.99": {func(c *Camera) { c.Focal = 19990 }, true},
		"focal 20":    {func(c *Camera) { c.Focal = 20000 }, false},
		"roll 45":     {func(c *Camera) { c.Roll = 45 }, true}, "roll -45": {func(c *Camera) { c.Roll = -45 }, true}, "roll 45.1": {func(c *Camera) { c.Roll = 45.1 }, false}, "roll -45.1": {func(c *Camera) { c.Roll = -45.1 }, false},
		"far right": {func(c *Camera) { c.Target.U = 3499 }, true}, "too far right": {func(c *Camera) { c.Target.U = 3500 }, false},
		"far left": {func(c *Camera) { c.Target.U = -2499 }, true}, "too far left": {func(c *Camera) { c.Target.U = -2500 }, false},
		"far down": {func(c *Camera) { c.Target.V = 3299 }, true}, "too far down": {func(c *Camera) { c.Target.V = 3300 }, false},
		"far up": {func(c *Camera) { c.Target.V = -2699 }, true}, "too far up": {func(c *Camera) { c.Target.V = -2700 }, false},
		"no width": {func(c *Camera) { c.Width, c.Focal, c.Target.U = 0, 0, 0 }, false}, "no height": {func(c *Camera) { c.Height, c.Target.V = 0, 0 }, false},
		"one row": {func(c *Camera) { c.Height, c.Target.V = 1, 0 }, true},
	} {
		camera := usual
		c.change(&camera)
		_, err := NewView(camera)
		assert.Equal(t, c.ok, err == nil, "%s: %v", name, err)
	}
	v, err := NewView(usual)
	require.NoError(t, err)
	_, ok := v.Project(Vec{X: 0.049})
	assert.False(t, ok, "at the lens")
	_, ok = v.Project(Vec{X: 0.05})
	assert.True(t, ok)
	p, ok := v.Project(Vec{X: 2, Y: 0.5, Z: 0.25})
	require.True(t, ok)
	assert.InDelta(t, 500-700*0.25, p.U, 1e-9)
	assert.InDelta(t, 300-700*0.125, p.V, 1e-9)
	assert.Equal(t, Vec{}, Vec{}.Unit())
	assert.InDelta(t, 13, Vec{3, 4, 12}.Len(), 1e-12)
}

// A ray that misses the club's sphere by less than the slack meets it where it is
// nearest.
func TestARayThatJustMisses(t *testing.T) {
	ray := Vec{X: 1}
	for _, c := range []struct {
		aside float64
		ok    bool
	}{{0.84, true}, {0.89, true}, {0.91, false}} {
		p, ok := Meet(Vec{3, c.aside, 0}, ray, 0.85, 0.05)
		require.Equal(t, c.ok, ok, "%v m aside", c.aside)
		if c.aside > 0.85 && ok {
			assert.InDelta(t, 3, p.X, 1e-12)
			assert.InDelta(t, c.aside-0.85, p.Y, 1e-12)
		}
	}
	_, ok := Meet(Vec{X: 3, Y: 2}, ray, 1, 1)
	assert.True(t, ok, "by the slack and no more")
	near, far, ok := Reach(Vec{X: 3, Y: 0.85}, ray, 0.85)
	require.True(t, ok, "a tangent")
	assert.InDelta(t, 3, near.X, 1e-6)
	assert.InDelta(t, 3, far.X, 1e-6)
	v := straight(t)
	assert.True(t, math.IsInf(v.Uncertainty(Club{Hands: Point{480, 270}, Head: Point{900, 270}, Forward: 2.8, Reach: 0.85}, Sigmas{}), 1), "no club looks so")
	_, _, ok = v.Reading(Club{Hands: Point{480, 270}, Head: Point{900, 270}, Forward: 2.8, Reach: 0.85})
	assert.False(t, ok)
	// The club is read where its ray misses by less than 5 cm: 2.8·sin φ = 0.85 m and
	// 4 cm, or 6 cm.
	for off, want := range map[float64]bool{229.8: true, 235.6: false} {
		_, _, ok = v.Reading(Club{Hands: Point{480, 270}, Head: Point{480 + off, 270}, Forward: 2.8, Reach: 0.85})
		assert.Equal(t, want, ok, "%v px", off)
	}
}

// Two lines that cross at right angles in their middles, their ends known to 1 px,
// meet to √½ px each way; where they meet is one length beyond their ends, to √5.
// Three that pass a place at 5 px, each known to √½ there, meet to √50 px: their
// misfit is 3·25/½, over one degree of freedom.
func TestHowSurelyLinesMeet(t *testing.T) {
	cross := []Stretch{{Point{0, 50}, Point{100, 50}}, {Point{50, 0}, Point{50, 100}}}
	p, across, down, err := MeetingPoint(cross, 1)
	require.NoError(t, err)
	assert.InDelta(t, 50, p.U, 1e-9)
	assert.InDelta(t, 50, p.V, 1e-9)
	assert.InDelta(t, math.Sqrt(0.5), across, 1e-9)
	assert.InDelta(t, math.Sqrt(0.5), down, 1e-9)
	_, across, down, err = MeetingPoint([]Stretch{{Point{0, 0}, Point{100, 0}}, {Point{200, 100}, Point{200, 200}}}, 2)
	require.NoError(t, err)
	assert.InDelta(t, 2*math.Sqrt(5), across, 1e-9, "one length beyond the upright one's upper end")
	assert.InDelta(t, 2*math.Sqrt(5), down, 1e-9)
	var lines []Stretch
	for k := range 3 {
		s, c := math.Sincos(float64(k) * 2 * math.Pi / 3)
		lines = append(lines, Stretch{Point{100 + 5*c - 50*s, 100 + 5*s + 50*c}, Point{100 + 5*c + 50*s, 100 + 5*s - 50*c}})
	}
	_, across, down, err = MeetingPoint(lines, 0.001)
	require.NoError(t, err)
	assert.InDelta(t, math.Sqrt(50), across, 1e-6)
	assert.InDelta(t, math.Sqrt(50), down, 1e-6)
	_, across, _, err = MeetingPoint(lines, 20)
	require.NoError(t, err)
	assert.InDelta(t, 20*math.Sqrt(1/3.0), across, 1e-6, "no surer than their ends")

	for _, c := range []struct {
		degrees float64
		ok      bool
	}{{0.3, false}, {0.5, true}} {
		s, k := math.Sincos(c.degrees * math.Pi / 180)
		_, _, _, err := MeetingPoint([]Stretch{{Point{0, 0}, Point{100, 0}}, {Point{0, 1}, Point{100 * k, 1 + 100*s}}}, 1)
		assert.Equal(t, c.ok, err == nil, "%v° apart: %v", c.degrees, err)
	}
	for _, c := range []struct {
		long float64
		ok   bool
	}{{3.9, false}, {4, true}} {
		_, _, _, err := MeetingPoint([]Stretch{{Point{0, 0}, Point{c.long, 0}}, {Point{50, 0}, Point{50, 100}}}, 1)
		assert.Equal(t, c.ok, err == nil, "%v px long", c.long)
	}
	_, _, _, err = MeetingPoint([]Stretch{cross[0], {Point{5, 5}, Point{5, 5}}}, 1)
	assert.ErrorContains(t, err, "line 2 is too short")
}

// How far back a camera goes before the chest, by the picture's edges: the club at
// level needs 0.45 m and its 0.85 m behind the hands, 0.7 of it before them, the
// ground 0.82 m below and the head 0.95 m above (common practice), with 3 % of the
// picture left free.
func TestTheClubTheHeadAndTheGroundStayInThePicture(t *testing.T) {
	const f, distance = 760.0, 3.0
	v, err := NewView(Camera{Width: 1280, Height: 720, Focal: f, Target: Point{640, 360}})
	require.NoError(t, err)
	back := func(u, w float64) float64 {
		return v.FaceOffsetOf(Chest{Hands: Point{u, w}, Hips: Point{u, w - 10}, Distance: distance, Reach: 0.85}).Back
	}
	for name, c := range map[string]struct{ u, v, need, room float64 }{
		"the head":         {640, 360, 0.95, 360 - 21.6},
		"the ground":       {640, 500, 0.82, 720 - 21.6 - 500},
		"the club back":    {300, 420, 1.30, 300 - 38.4},
		"the club forward": {1100, 420, 0.595, 1280 - 38.4 - 1100},
	} {
		assert.InDelta(t, c.need*f/c.room-distance, back(c.u, c.v), 1e-9, name)
	}
	assert.InDelta(t, distance, back(20, 360), 1e-9, "out of the picture: twice as far, no more")
	assert.InDelta(t, distance, back(150, 360), 1e-9)

	// Belly and hands 0.39 m apart, each seen to 1.5 px: the line through them is
	// known to 1.5·√2 px of each other's distance, or 8 cm at the lens. With a ball
	// 0.45 m before the hands it is known better.
	o := v.FaceOffsetOf(Chest{Hands: Point{640, 360}, Hips: Point{640, 360}, Distance: 3.2, Reach: 0.85})
	assert.InDelta(t, 3.59*3.2/0.39*1.5*math.Sqrt2/f, o.AlongSigma, 1e-9)
	o = v.FaceOffsetOf(Chest{Hands: Point{640, 360}, Hips: Point{640, 360}, Ball: &Point{640, 600}, Distance: 3.2, Reach: 0.85})
	assert.InDelta(t, 3.59*2.75/0.84*1.5*math.Sqrt2/f, o.AlongSigma, 1e-9)
	assert.InDelta(t, 0, o.Along, 1e-9)
	// The belly seen 38 px toward the target of a ball straight ahead is 0.18 m
	// farther along there: the line through both meets the lens 0.588 m behind.
	o = v.FaceOffsetOf(Chest{Hands: Point{640, 360}, Hips: Point{640 + 38, 360}, Ball: &Point{640, 600}, Distance: 3.2, Reach: 0.85})
	aside := 38 / f * 3.59
	assert.InDelta(t, 2.75*aside/math.Hypot(0.84, aside), math.Abs(o.Along), 1e-9)
}

// The hands go a third of a metre toward the lens and rise a hand's breadth until
// the shaft is level (common practice): so sure a reading is foreseen there.
func TestWhatIsForeseen(t *testing.T) {
	v := offsetView(t, false)
	s := Sigmas{Hands: 2, Head: 2, Forward: 0.08, Reach: 0.008, Target: 2.5, Roll: 0.3, Focal: 0.01}
	hands, ok := v.Project(Vec{3, 0.25, -0.1})
	require.True(t, ok)
	now, there := v.Foresee(hands, 3, 0.85, s)
	at := func(y, z float64) float64 {
		place := Vec{3 - 0.33, y, z + 0.10}
		h, _ := v.Project(place)
		head, _ := v.Project(place.Add(Vec{X: -0.85}))
		return v.Uncertainty(Club{Hands: h, Head: head, Forward: 3 - 0.33, Reach: 0.85}, s)
	}
	assert.InDelta(t, at(0.25, -0.1), now, 1e-9)
	assert.InDelta(t, at(0, 0), there, 1e-9)
	now, _ = v.Foresee(hands, 1.1, 0.85, s)
	assert.True(t, math.IsInf(now, 1), "the club would be behind the lens")

	straight := straight(t)
	for u, ok := range map[float64]bool{480 + 685.5*4.8: true, 480 + 685.5*5: false} {
		_, err := straight.OffsetOf(Point{u, 270}, 3)
		assert.Equal(t, ok, err == nil, "%v px", u)
	}
}

// A club hangs true to 0.3° (common practice), and cameras are rolled by less than
// 30°.
func TestTheRollOfAHungClub(t *testing.T) {
	c := Camera{Width: 1280, Height: 720, Focal: 914, Target: Point{640, 360}}
	for _, sd := range []float64{0, 0.4} {
		_, sigma, err := RollFromHung(c, Hung{At: Point{640, 400}, Lean: 3, Sd: sd}, 0, 0)
		require.NoError(t, err)
		assert.InDelta(t, math.Hypot(0.3, sd), sigma, 1e-9)
	}
	for lean, ok := range map[float64]bool{29: true, -29: true, 29.99: true, 30.01: false, -30.01: false, 31: false, -31: false} {
		roll, _, err := RollFromHung(c, Hung{At: Point{640, 400}, Lean: lean}, 0, 0)
		assert.Equal(t, ok, err == nil, "%v°", lean)
		if ok {
			assert.InDelta(t, lean, roll, 0.05)
		}
	}
}

func TestWhichLengthsOnTheGroundAreTaken(t *testing.T) {
	c, g := stick()
	for length, ok := range map[float64]bool{0.29: false, 0.3: true, 20: true, 20.1: false} {
		h := g
		h.Length = length
		_, _, err := h.Distance(c, Point{300, 480}, GroundSigmas{})
		assert.Equal(t, ok, err == nil, "%v m", length)
	}
	for height, ok := range map[float64]bool{0.09: false, 0.1: true, 0.3: true, 3: true, 3.1: false} {
		_, _, err := g.Focal(c, height, GroundSigmas{})
		assert.Equal(t, ok, err == nil, "a lens %v m up: %v", height, err)
	}
	// Its line passes the target point by half a pixel at most, and four sigmas.
	for off, ok := range map[float64]bool{0.3: true, 2: false} {
		h := g
		h.From.U, h.To.U = h.From.U+off, h.To.U+off
		_, _, err := h.Distance(c, Point{300, 480}, GroundSigmas{})
		assert.Equal(t, ok, err == nil, "%v px aside", off)
		_, _, err = h.Distance(c, Point{300, 480}, GroundSigmas{Target: 0.5})
		assert.NoError(t, err)
	}
	for _, at := range []Point{{300, 270}, {300, 277}} {
		_, _, err := g.Distance(c, at, GroundSigmas{})
		assert.ErrorIs(t, err, ErrGround, "%v is not on the ground", at)
	}
	_, _, err := g.Distance(c, Point{300, 279}, GroundSigmas{})
	assert.NoError(t, err)
	_, _, err = Ground{1, Stretch{Point{512, 526}, Point{512.4, 529.8}}}.Distance(c, Point{300, 480}, GroundSigmas{Target: 99})
	assert.ErrorContains(t, err, "too near each other")
	// What is surer than 12 % is an answer: ends to 5.3 px and all else exact.
	for end, ok := range map[float64]bool{5.2: true, 5.7: false} {
		_, _, err := g.Distance(c, Point{300, 480}, GroundSigmas{End: end})
		assert.Equal(t, ok, err == nil, "ends to %v px: %v", end, err)
	}
}
