package read

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/camera/eye"
	"drillbay/camera/sight"
	"drillbay/camera/virtual"
	"drillbay/drills"
	"drillbay/drills/bay"
	"drillbay/drills/measure"
	"drillbay/drills/rep"
	"drillbay/drills/stage"
)

// swungTrack is a track of the first rep of a drawn bay, from places that are
// as the bay has them, with the setting that it was seen by.
func swungTrack(t *testing.T, s virtual.Setup) (measure.Result, rep.Known, *virtual.Bay) {
	t.Helper()
	b, err := virtual.New(s)
	require.NoError(t, err)
	set, err := stage.BayOf(s)
	require.NoError(t, err)
	hand := drills.Right
	if s.Player.Hand == virtual.LeftHand {
		hand = drills.Left
	}
	k, err := bay.Known(set, hand, 0, s.Width, s.Height)
	require.NoError(t, err)
	e := b.Events()[0]
	var looks []sight.Look
	for at := e.StillFrom; at < e.HoldTo; at += 1 / 30.0 {
		w := b.Truth(at)
		l := sight.Look{At: at}
		for p, px := range map[eye.Point][2]float64{eye.Hands: w.HandsPX, eye.Head: w.HeadPX} {
			l.Places[p] = eye.Place{U: px[0], V: px[1], UU: 0.5, VV: 0.5, Here: 0.97, Seen: 0.95}
		}
		looks = append(looks, l)
	}
	r, ok := (&measure.Reader{Known: k, Drill: measure.Catch}).Fit(looks, sight.Span{Start: e.StillFrom, Catch: e.Catch, End: math.NaN()})
	require.True(t, ok, "no rep")
	return r, k, b
}

// The trace's dots are equally spaced in time, 30 a second from the first
// motion to the catch, and lie on the head as it is seen, also of a left-hander;
// so do hands and head at level.
func TestTheTraceIsSpacedInTime(t *testing.T) {
	for _, hand := range []virtual.Hand{virtual.RightHand, virtual.LeftHand} {
		s := virtual.Default()
		s.Width, s.Height, s.Player.Hand = 640, 360, hand
		s.Reps = []virtual.RepSpec{{ShaftLineDeg: 12, Still: 0.8, Hold: 0.9}}
		r, k, b := swungTrack(t, s)
		o := Overlay(r, k.Setting.View)
		m := r.Rep.Moments
		require.InDelta(t, 30*(m.Catch-m.Start), float64(len(o.Trace)-1), 1)
		for i, d := range o.Trace {
			require.InDelta(t, m.Start+float64(i)/30, d.At, 1e-9)
			px := b.Truth(d.At).HeadPX
			require.Less(t, math.Hypot(px[0]-d.X, px[1]-d.Y), 12.0, "hand %v, dot %d", hand, i)
		}
		x, y := b.TargetPoint()
		require.InDelta(t, x, o.Target.X, 1)
		require.InDelta(t, y, o.Target.Y, 1)
		require.InDelta(t, m.Level, o.Head.At, 1e-9)
		w := b.Truth(m.Level)
		require.Less(t, math.Hypot(w.HandsPX[0]-o.Hands.X, w.HandsPX[1]-o.Hands.Y), 4.0)
		require.Less(t, math.Hypot(w.HeadPX[0]-o.Head.X, w.HeadPX[1]-o.Head.Y), 8.0)
	}
}
