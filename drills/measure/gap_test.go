package measure

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drillbay/camera/frame"
	"drillbay/camera/sight"
	"drillbay/camera/virtual"
)

// A camera that stood still from before the motion until just before the
// catch leaves too few pictures for a reading, and no panic.
func TestARepWithoutItsMiddleIsNoReading(t *testing.T) {
	s := ownSetup()
	s.FPS = 60
	b, err := virtual.New(s)
	require.NoError(t, err)
	k, err := bayOf(s, b).Known()
	require.NoError(t, err)
	e := b.Events()[0]
	src := &drawn{bay: b, s: s, pool: frame.NewPool(1 << 30)}
	var all, pics []*frame.Picture
	for {
		p, err := src.Next()
		if err != nil || p.Seconds() > e.Catch+0.4 {
			break
		}
		all = append(all, p)
		if at := p.Seconds(); at < e.ForwardStart-0.35 || at > e.Catch-0.1 {
			pics = append(pics, p)
		}
	}
	span := sight.Span{From: e.ForwardStart - 0.8, Start: e.ForwardStart, Catch: e.Catch, End: e.Catch + 0.4}
	r, ok := Analyse(all, span, k, Catch)
	require.True(t, ok && r.Rep.ShaftLine.OK(), "all its pictures give a reading")
	assert.NotPanics(t, func() {
		r, ok := Analyse(pics, span, k, Catch)
		assert.False(t, ok && r.Rep.ShaftLine.OK(), "a reading of what was not seen: %s", line(wantOf(s, b), r.Rep))
	})
}
