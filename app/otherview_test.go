package app

import (
	"math"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"drillbay/camera/frame"
	"drillbay/camera/lookback"
	"drillbay/drills"
	"drillbay/drills/bay"
	"drillbay/drills/book"
	"drillbay/drills/runner"
)

// withOther gives a trial a second camera, once it joins.
func withOther(a *trial) (camera *string, kept *bay.Bay) {
	camera, kept = new(string), &bay.Bay{Name: "Net 2", FaceOn: true, Distance: 3.4, Club: 0.94, Grip: 0.09, Target: drills.Pixel{X: math.NaN(), Y: math.NaN()}}
	a.d.Other = OtherView{
		CameraView: CameraView{
			Picture: func(float64) *frame.Picture { return frame.New(32, 18, frame.Sub420) },
			KeepBay: func(b bay.Bay) error { *kept = b; return nil },
		},
		Camera: func() string { return *camera },
		Bay:    func() bay.Bay { return *kept },
		Tied:   func() string { return "Its pictures come 62 ms later than the first camera's." },
	}
	return camera, kept
}

// A second camera joins from the lens screen, and its lens is set there: its
// picture is shown, and what is set is its own.
func TestASecondCameraJoinsOnTheLensScreen(t *testing.T) {
	a := marta()
	camera, kept := withOther(a)
	said := func(v *View) string { return strings.Join(v.Texts(), " ") }
	v := a.key(Lens)
	require.Contains(t, said(v), "add the other view")
	require.NotContains(t, said(v), "set the other view")
	require.Contains(t, said(a.key(LookUp)), "There is one camera.")
	a.key(Join)
	require.Eventually(t, func() bool { a.step(); return len(a.jobs) == 1 }, time.Second, time.Millisecond)
	require.Equal(t, Join, a.jobs[0].Do)
	*camera = "USB camera"
	require.Contains(t, said(a.step()), "set the other view")
	v = a.key(LookUp)
	require.Contains(t, said(v), "other view: USB camera")
	require.Contains(t, said(v), "62 ms later")
	require.Contains(t, said(v), "in front of you")
	require.Contains(t, said(v), "set the first view")
	require.NotContains(t, said(v), "down the line")
	require.Equal(t, 32, v.Pictures[0].Width, "its own picture")
	require.Contains(t, said(a.key(Against)), "Two cameras show both views.")
	a.key(Distance)
	a.key(More)
	a.key(Back)
	require.InDelta(t, 3.45, kept.Distance, 1e-9, "stored")
	require.InDelta(t, 3, a.Bay().Distance, 1e-9, "the first camera's is its own")
	require.True(t, kept.FaceOn)
	a.key(Lens)
	v = a.step()
	require.NotEqual(t, 32, v.Pictures[0].Width, "the first camera comes first")
	a.key(LookUp)
	*camera = ""
	v = a.step()
	require.NotContains(t, said(v), "other view:", "it was taken away")
}

// seenTwice is a trial in the lookback of a rep that two cameras saw, the second one's
// pictures of 32 × 18 so much later, s.
func seenTwice(t *testing.T, later float64) *trial {
	t.Helper()
	a := martaPractises()
	ring := lookback.NewRing(1<<20, 60)
	for i := range 60 {
		p := frame.New(32, 18, frame.Sub420)
		p.Index, p.At = int64(i), time.Duration(i)*time.Second/30
		require.NoError(t, ring.Add(p, false))
	}
	a.tell(bodied("a"))
	last := &a.snap.All[0]
	last.Rep.Body[drills.HipsBack] = drills.Reading{Value: 3, Sigma: 1}
	last.Rep.Views.Line, last.Rep.Views.Body[drills.HipsBack] = drills.DownTheLine, drills.FaceOn
	last.Beside = runner.Overlay{Here: runner.Joints{Hips: runner.Dot{X: 16, Y: 9}, Seen: true}, Home: runner.Joints{Hips: runner.Dot{X: 14, Y: 9}, Seen: true}}
	a.snap.Lookback.Rep, a.snap.Lookback.Beside, a.snap.Lookback.Later = *last, ring.Cut(0, 2), later
	return a
}

// The lookback shows the other camera's picture of the same moment beside the
// first's, and the line of the body in that it was read in.
func TestTheLookbackShowsBothPictures(t *testing.T) {
	const later = 0.5
	a := seenTwice(t, later)
	last := &a.snap.All[0]
	for range 40 {
		v := a.key(Right)
		one, two := v.Pictures[0], v.Pictures[1]
		require.NotNil(t, two)
		require.Equal(t, 32, two.Width)
		require.InDelta(t, one.Seconds()+later, two.Seconds(), 0.5/30+1e-6, "the same moment, to half a picture")
	}
	said := strings.Join(a.step().Texts(), " ")
	require.Contains(t, said, "face-on")
	require.Contains(t, said, "down the line")
	l := a.stack[len(a.stack)-1].(*practiceScreen).look
	require.True(t, l.drawsBody(a.App, drills.HipsBack, *last, 1))
	require.False(t, l.drawsBody(a.App, drills.HipsBack, *last, 0))
	require.True(t, l.drawsBody(a.App, drills.HandsUnder, *last, 0), "of one camera only")

	// Both are held while somebody draws, and kept together.
	a.key(Pencil)
	require.NotNil(t, a.stack[len(a.stack)-1].(*practiceScreen).look.own[1])
	a.key(Back)
	a.players[0].Consent = book.PlayerAgrees
	a.key(Keep)
	a.key(Go)
	require.Eventually(t, func() bool { a.step(); return len(a.jobs) == 1 }, time.Second, time.Millisecond)
	j := a.jobs[0]
	require.NotNil(t, j.Beside)
	require.Equal(t, later, j.Later)
	j.Loop.Release()
	j.Beside.Release()
}

// One view less is a small mark, whose sentence is shown when it is pressed.
func TestALostViewIsAMark(t *testing.T) {
	for key, mark := range map[string]string{"other view": "one view", "first view": "other view"} {
		require.Equal(t, mark, lasting(runner.Notice{Key: key}))
	}
}

// Face-on the roll comes from level lines on the ground, of either camera: it is
// offered, said, stored with that camera's bay, and refused by a key; a roll that was
// measured before is not changed until lines are asked for.
func TestTheRollFaceOnComesFromLinesOnTheGround(t *testing.T) {
	a := marta()
	camera, kept := withOther(a)
	*camera = "USB camera"
	level := bay.Level{Lines: []bay.Segment{{A: drills.Pixel{X: 4, Y: 15}, B: drills.Pixel{X: 28, Y: 14}}, {A: drills.Pixel{X: 6, Y: 13}, B: drills.Pixel{X: 26, Y: 12}}}, Roll: 2.4, Sd: 0.6}
	there := false
	a.d.Other.Lens.Level = func() (bay.Level, bool) { return level, there }
	said := func(v *View) string { return strings.Join(v.Texts(), " ") }
	a.key(Lens)
	v := a.key(LookUp)
	require.NotContains(t, said(v), "The lines on the ground")
	require.Contains(t, said(v), "find lines")
	there = true
	v = a.step()
	require.Contains(t, said(v), "By the lines drawn on the ground the camera is tilted 2° right, true to about 1°.")
	require.Contains(t, said(v), "not level")
	level.Roll = 9
	a.step()
	a.key(Back)
	require.Equal(t, [2]float64{2.4, 0.6}, [2]float64{kept.Roll, kept.RollSd}, "what was found first stays, and is stored")
	a.key(Lens)
	a.key(LookUp)
	a.key(Lines)
	v = a.step()
	require.NotContains(t, said(v), "By the lines drawn", "it was measured")
	a.key(SayAgain)
	require.Contains(t, said(a.step()), "tilted 9° right")
	a.key(TakeBack)
	v = a.step()
	require.NotContains(t, said(v), "By the lines drawn", "refused")
	a.key(Back)
	require.Zero(t, kept.Roll)
	require.Zero(t, kept.RollSd)
	require.Zero(t, a.Bay().Roll, "the first camera's is its own")
}
