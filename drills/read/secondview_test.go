package read

import (
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/camera/frame"
	"drillbay/camera/lookback"
	"drillbay/camera/virtual"
	"drillbay/drills"
	"drillbay/drills/bay"
	"drillbay/drills/measure"
	"drillbay/drills/rep"
	"drillbay/drills/runner"
	"drillbay/drills/stage"
)

// sides reads the first rep of a drawn bay by two cameras, without a session, and
// by none in real time: the first's live pass finds it, both read it.
func sides(t *testing.T, s virtual.Setup) (v *SecondView, told, both runner.Analysis, e virtual.Event) {
	t.Helper()
	var known [2]rep.Known
	var bays [2]*virtual.Bay
	for i, s := range []virtual.Setup{s, stage.OtherView(s)} {
		place, err := stage.BayOf(s)
		require.NoError(t, err)
		known[i], err = bay.Known(place, drills.Right, 0, s.Width, s.Height)
		require.NoError(t, err)
		bays[i], err = virtual.New(s)
		require.NoError(t, err)
	}
	var seen measure.Recall
	watch, err := measure.NewWatch(known[0].Setting, &seen)
	require.NoError(t, err)
	defer watch.Close()
	ring := lookback.NewRing(300*s.Width*s.Height*2, 300)
	v = NewSecondView(ring, func(int, int) rep.Known { return known[1] }, nil, nil)
	var pace measure.Pace
	take := runner.Take{Drill: runner.Drill{Band: drills.Band}}
	for i := range bays[0].Frames() {
		var p [2]*frame.Picture
		for k := range p {
			p[k] = frame.New(s.Width, s.Height, frame.Sub420)
			require.NoError(t, bays[k].Draw(i, p[k]))
		}
		require.NoError(t, ring.Add(p[1], false))
		if take.Span.Catch > 0 {
			if p[0].Seconds() > take.Span.Catch+0.8 {
				break // its hold is in both
			}
		} else if pace.Due(p[0].Seconds()) {
			if g, _ := watch.See(p[0]); g.Caught {
				take.Span = g.Span
			}
		}
		take.Frames = append(take.Frames, p[0])
	}
	require.Positive(t, take.Span.Catch, "no rep was found")
	r, told := NewCamera(func(int, int) rep.Known { return known[0] }, &seen).Read(take)
	require.False(t, told.Void)
	both = v.Together(take, r, told)
	if both.Further != nil {
		more, ok := both.Further()
		require.True(t, ok)
		return v, both, more, bays[0].Events()[0]
	}
	return v, told, both, bays[0].Events()[0]
}

func oneCatch(faceOn bool) virtual.Setup {
	s := virtual.Default()
	s.Width, s.Height, s.Seed = 640, 360, 5
	s.Reps = []virtual.RepSpec{{ShaftLineDeg: 12, Still: 1.5, Hold: 1.5}}
	if faceOn {
		s.Camera = stage.FaceOnCamera()
	}
	return s
}

// A rep that is read plainly down the line is told at once, and added to by the
// camera that looks face-on, whose pictures come later.
func TestTheSecondViewAddsWhatItSees(t *testing.T) {
	v, told, both, e := sides(t, oneCatch(false))
	require.NotNil(t, told.Further, "nobody waits for it")
	require.Equal(t, told.Rep.ShaftLine, both.Rep.ShaftLine)
	require.Equal(t, told.Rep.Moments.Catch, both.Rep.Moments.Catch)
	require.False(t, told.Rep.Body[drills.HeadBack].Known())
	require.True(t, both.Rep.Body[drills.HeadBack].Known(), both.Rep.BodyWhy)
	require.True(t, both.Beside.Here.Seen)
	require.InDelta(t, e.Catch, both.Beside.Hands.At, 0.1, "on the first camera's clock")
	lag, _, n := v.Lag()
	require.Equal(t, 1, n)
	require.InDelta(t, stage.OtherLate, lag, 0.015)
	t.Logf("%.0f ms of %.0f; %s", 1000*lag, 1000*stage.OtherLate, both.Rep.Views)
}

// The camera that decides looks face-on: the shaft line is the other's, and the
// verdict waits for it.
func TestTheOtherViewGivesTheShaftLine(t *testing.T) {
	v, told, both, e := sides(t, oneCatch(true))
	require.True(t, told.Rep.FaceOn())
	// A crown that is put 20 px farther back is read anew, and only what it carries.
	home := told.Overlay.Home
	require.Equal(t, told.Rep.Body, told.Overlay.Again(home, told.Overlay.Here))
	put := told.Overlay.Here
	put.Crown.X -= 20
	body := told.Overlay.Again(home, put)
	require.InDelta(t, 12, body[drills.HeadBack].Value-told.Rep.Body[drills.HeadBack].Value, 4, "cm")
	body[drills.HeadBack] = told.Rep.Body[drills.HeadBack]
	require.Equal(t, told.Rep.Body, body)
	// So are crown and hips that are put farther back at address.
	home.Crown.X -= 20
	home.Hips.X -= 10
	body = told.Overlay.Again(home, told.Overlay.Here)
	require.InDelta(t, -12, body[drills.HeadBack].Value-told.Rep.Body[drills.HeadBack].Value, 4, "cm")
	require.InDelta(t, -6.5, body[drills.HipsBack].Value-told.Rep.Body[drills.HipsBack].Value, 2, "cm")
	body[drills.HeadBack], body[drills.HipsBack] = told.Rep.Body[drills.HeadBack], told.Rep.Body[drills.HipsBack]
	require.Equal(t, told.Rep.Body, body)
	require.Nil(t, both.Further)
	require.False(t, both.Rep.FaceOn())
	require.Equal(t, drills.Inside, both.Rep.Verdict)
	require.InDelta(t, drills.FirstOf(e.LevelShaftLineDeg, e.CatchShaftLineDeg), both.Rep.ShaftLine.Value, 3)
	require.InDelta(t, e.Catch, both.Rep.Moments.Catch, 0.06, "on the first camera's clock")
	require.Equal(t, drills.DownTheLine, both.Rep.Views.Line)
	lag, _, _ := v.Lag()
	require.InDelta(t, stage.OtherLate, lag, 0.015)
}

// The second camera is waited for only where it may change what is told.
func TestWhatWaitsForTheSecondCamera(t *testing.T) {
	sure := drills.Rep{Verdict: drills.Inside, Manner: drills.Swung}
	require.False(t, decides(runner.Drill{}, sure))
	unsure := sure
	unsure.Manner = drills.Unsure
	require.True(t, decides(runner.Drill{}, unsure))
	require.True(t, decides(runner.Drill{}, drills.Rep{Verdict: drills.NoReading, Manner: drills.Swung}))
	short := drills.Rep{Verdict: drills.Short, Why: "stopped 20° before level; " + drills.SeenFaceOn, Manner: drills.Swung}
	require.True(t, decides(runner.Drill{}, short), "the shaft line is the other's")
	watched := func(p drills.BodyPart) runner.Drill {
		return runner.Drill{Watched: drills.WatchedOf([]drills.Watch{drills.UsualWatch(p)})}
	}
	require.True(t, decides(watched(drills.HeadBack), sure))
	require.False(t, decides(watched(drills.HandsUnder), sure))
}
