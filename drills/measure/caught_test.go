package measure

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drillbay/camera/eye"
	"drillbay/camera/frame"
	"drillbay/camera/sight"
	"drillbay/camera/virtual"
)

// seenRight are looks at a bay's first rep, 30 a second, places as the bay has
// them.
func seenRight(b *virtual.Bay) (looks []sight.Look, span sight.Span) {
	e := b.Events()[0]
	for at := e.StillFrom; at < e.HoldTo; at += 1 / 30.0 {
		w := b.Truth(at)
		l := sight.Look{At: at}
		for p, px := range map[eye.Point][2]float64{eye.Hands: w.HandsPX, eye.Head: w.HeadPX} {
			l.Places[p] = eye.Place{U: px[0], V: px[1], UU: 0.25, VV: 0.25, Here: 0.97, Seen: 0.95}
		}
		looks = append(looks, l)
	}
	return looks, sight.Span{Start: e.ForwardStart, BackStart: e.BackStart, Catch: e.Catch, End: e.HoldTo}
}

// Hands that are drawn in badly come 15 cm inside, and a club is caught from 15°
// below to 30° above level (common practice). A club that rests half a metre
// nearer the player, far aside of the line, or hanging, is not caught in a
// backswing: it was put down.
func TestOnlyACatchNearTheEndOfABackswingIsOne(t *testing.T) {
	still, err := virtual.New(virtual.Default())
	require.NoError(t, err)
	home := still.Truth(0).Hands[1]
	for name, c := range map[string]struct {
		rep  virtual.RepSpec
		want bool
	}{
		"in line":            {virtual.RepSpec{}, true},
		"drawn in":           {virtual.RepSpec{HandsY: home + 0.15}, true},
		"far from the ball":  {virtual.RepSpec{HandsY: home + 0.45}, false},
		"well outside":       {virtual.RepSpec{ShaftLineDeg: -28}, true},
		"across the line":    {virtual.RepSpec{ShaftLineDeg: 55}, false},
		"below level":        {virtual.RepSpec{ElevationDeg: -20}, true},
		"above level":        {virtual.RepSpec{ElevationDeg: 30}, true},
		"hanging, or nearly": {virtual.RepSpec{ElevationDeg: -40}, false},
	} {
		t.Run(name, func(t *testing.T) {
			s := virtual.Default()
			s.Width, s.Height = 640, 360
			c.rep.Hold = 1
			s.Reps = []virtual.RepSpec{c.rep}
			b, err := virtual.New(s)
			require.NoError(t, err)
			k, err := bayOf(s, b).Known()
			require.NoError(t, err)
			looks, span := seenRight(b)
			r, ok := (&Reader{Known: k, Drill: Catch}).Fit(looks, span)
			assert.Equal(t, c.want, ok, "line %.0f°, %.0f cm inside, %.0f° of elevation", r.Rep.ShaftLine.Value, r.Rep.Depth.Value, r.Rep.Elevation.Value)
		})
	}
}

// A club that seems to rest again on the way back to address takes the place of the
// catch before it only when it is a rep.
func TestALaterRestThatIsNoRepDoesNotHideTheCatch(t *testing.T) {
	s := ownSetup()
	s.FPS = 30
	b, err := virtual.New(s)
	require.NoError(t, err)
	k, err := bayOf(s, b).Known()
	require.NoError(t, err)
	e := b.Events()[0]
	c := &seeking{reader: Reader{Known: k, Drill: Catch}}
	defer c.release()
	src := &drawn{bay: b, s: s, pool: frame.NewPool(1 << 30)}
	for {
		p, err := src.Next()
		if err != nil || p.Seconds() > e.HoldTo+0.2 {
			break
		}
		c.hold(p)
	}
	right := sight.Span{From: e.ForwardStart - 0.8, Start: e.ForwardStart, Catch: e.Catch, End: e.HoldTo}
	later := sight.Span{From: e.HoldTo, Start: e.ForwardStart, Catch: e.HoldTo + 0.1, End: e.HoldTo + 0.2}
	_, ok := c.reader.Analyse(c.held, later)
	require.False(t, ok, "the later rest is a rep")
	for _, span := range []sight.Span{right, later} {
		c.take(sight.Glance{At: span.Catch + 0.2, Phase: sight.Hold, Caught: true, Span: span})
	}
	c.take(sight.Glance{At: later.End + 0.5, Phase: sight.Address})
	require.Len(t, c.found, 1)
	assert.InDelta(t, e.Catch, c.found[0].Rep.Moments.Catch, 0.07)
}
