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
	"drillbay/drills/runner"
	"drillbay/drills/stage"
)

// wrongNeck is the reading of a drawn rep whose neck the eye sees 12 px aside in
// the hold, or before it; the neck is where it really is there, px as seen.
func wrongNeck(t *testing.T, hand virtual.Hand, before bool) (r measure.Result, over runner.Overlay, neck runner.Dot) {
	t.Helper()
	s := virtual.Default()
	s.Width, s.Height, s.Player.Hand = 640, 360, hand
	s.Reps = []virtual.RepSpec{{ShaftLineDeg: 12, Still: 0.8, Hold: 0.9}}
	b, err := virtual.New(s)
	require.NoError(t, err)
	set, err := stage.BayOf(s)
	require.NoError(t, err)
	which := map[virtual.Hand]drills.Hand{virtual.RightHand: drills.Right, virtual.LeftHand: drills.Left}[hand]
	k, err := bay.Known(set, which, 0, s.Width, s.Height)
	require.NoError(t, err)
	e := b.Events()[0]
	var looks []sight.Look
	for at := e.StillFrom; at < e.HoldTo; at += 1 / 30.0 {
		w, j := b.Truth(at), b.Joints(at)
		l := sight.Look{At: at}
		put := func(p eye.Point, px [2]float64, aside float64) {
			if hand == virtual.LeftHand {
				p = p.Mirrored()
			}
			l.Places[p] = eye.Place{U: px[0] + aside, V: px[1], UU: 0.5, VV: 0.5, Here: 0.97, Seen: 0.95}
		}
		put(eye.Hands, w.HandsPX, 0)
		put(eye.Head, w.HeadPX, 0)
		for p, place := range map[eye.Point][3]float64{eye.Crown: j.Crown, eye.Neck: j.Neck, eye.LeftShoulder: j.LeadShoulder, eye.RightShoulder: j.TrailShoulder,
			eye.RightElbow: j.TrailElbow, eye.LeftHip: j.LeadHip, eye.RightHip: j.TrailHip} {
			px, _ := b.See(place)
			aside := 0.0
			if p == eye.Neck && before == (at <= e.Catch) {
				aside = 12
				if neck == (runner.Dot{}) || !before {
					neck = runner.Dot{X: px[0], Y: px[1]}
				}
			}
			put(p, px, aside)
		}
		looks = append(looks, l)
	}
	r, ok := (&measure.Reader{Known: k, Drill: measure.Catch}).Fit(looks, sight.Span{Start: e.StillFrom, Catch: e.Catch, End: math.NaN()})
	require.True(t, ok, "no rep")
	over = Overlay(r, k.Setting.View)
	over.Again = again(r, k, over)
	return r, over, neck
}

// A joint that is put where it is has its reading read anew, for either hand, and
// no other; where nothing was put, all is as it was read.
func TestAJointThatIsPutRightIsReadAnew(t *testing.T) {
	for _, hand := range []virtual.Hand{virtual.RightHand, virtual.LeftHand} {
		r, over, neck := wrongNeck(t, hand, false)
		require.Equal(t, r.Rep.Body, over.Again(over.Home, over.Here))
		require.InDelta(t, 12, over.Here.Neck.X-neck.X, 1.5, "px: it was seen aside")
		require.Greater(t, math.Abs(r.Rep.Body[drills.SpineTilt].Value), 5.0, "nobody bends there, degrees")
		put := over.Here
		put.Neck = neck
		now := over.Again(over.Home, put)
		require.InDelta(t, 0, now[drills.SpineTilt].Value, 1.5, "hand %v", hand)
		require.Greater(t, now[drills.SpineTilt].Sigma, 1.0, "a tap is sure to 2 cm on a spine of half a metre")
		now[drills.SpineTilt] = r.Rep.Body[drills.SpineTilt]
		require.Equal(t, r.Rep.Body, now, "only what the neck carries")

		r, over, neck = wrongNeck(t, hand, true)
		require.InDelta(t, 12, over.Home.Neck.X-neck.X, 1.5, "px: it was seen aside at address")
		require.Greater(t, math.Abs(r.Rep.Body[drills.SpineTilt].Value), 5.0)
		put = over.Home
		put.Neck = neck
		now = over.Again(put, over.Here)
		require.InDelta(t, 0, now[drills.SpineTilt].Value, 1.5, "hand %v, at address", hand)
		now[drills.SpineTilt] = r.Rep.Body[drills.SpineTilt]
		require.Equal(t, r.Rep.Body, now, "only what the neck carries")
	}
}
