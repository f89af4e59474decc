package live

import (
	"context"
	"errors"
	"io"
	"math"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"drillbay/app"
	"drillbay/camera/clip"
	"drillbay/camera/eye"
	"drillbay/camera/frame"
	"drillbay/camera/lens"
	"drillbay/camera/sight"
	"drillbay/camera/virtual"
	"drillbay/cues"
	"drillbay/drills"
	"drillbay/drills/bay"
	"drillbay/drills/ledger"
	"drillbay/drills/measure"
	"drillbay/drills/rep"
	"drillbay/drills/runner"
)

// Two lines on the ground of the virtual bay meet in its target point, which
// the bay knows by a projection of its own.
func TestLinesOnTheGroundGiveTheTargetPoint(t *testing.T) {
	s := Practice(1, 1280, 720, 30)
	s.Camera.YawDeg, s.Camera.PitchDeg = 3, -4
	b, err := virtual.New(s)
	require.NoError(t, err)
	x, y := b.TargetPoint()
	set, err := BayOf(s)
	require.NoError(t, err)
	target, err := bay.Meet(set.Lines, s.Width, s.Height)
	require.NoError(t, err)
	require.InDelta(t, x, target.X, 0.01)
	require.InDelta(t, y, target.Y, 0.01)
	require.Greater(t, target.Sd, 0.5)
	_, err = bay.Meet(set.Lines[:1], s.Width, s.Height)
	require.Error(t, err)
	far := []bay.Segment{{A: drills.Pixel{X: 100, Y: 600}, B: drills.Pixel{X: 150, Y: 300}}, {A: drills.Pixel{X: 700, Y: 600}, B: drills.Pixel{X: 700, Y: 300}}}
	_, err = bay.Meet(far, s.Width, s.Height)
	require.ErrorContains(t, err, "outside the picture")
}

// The way to move the camera is that from the lens to the hands, as the
// virtual bay has placed them.
func TestTheCameraIsMovedToTheHands(t *testing.T) {
	for _, hand := range []virtual.Hand{virtual.RightHand, virtual.LeftHand} {
		s := Practice(1, 1280, 720, 30)
		s.Player.Hand, s.Player.Sway = hand, 0
		s.Camera.Lateral, s.Camera.Height, s.Camera.YawDeg = 0.30, 0.62, 2
		b, err := virtual.New(s)
		require.NoError(t, err)
		set, err := BayOf(s)
		require.NoError(t, err)
		truth, at := b.Truth(b.Events()[0].StillFrom+0.3), b.Lens()
		h := drills.Right
		if hand == virtual.LeftHand {
			h = drills.Left
		}
		o, err := bay.OffsetOf(set, drills.Pixel{X: truth.HandsPX[0], Y: truth.HandsPX[1]}, h)
		require.NoError(t, err)
		require.InDelta(t, 100*(truth.Hands[2]-at[2]), o.UpCm, 0.6, hand)
		require.InDelta(t, -100*(truth.Hands[1]-at[1]), o.NearCm, 0.6, hand)
		require.Greater(t, o.SigmaNow, o.SigmaThere)
		require.Less(t, o.SigmaThere, drills.MaxSigma)
	}
}

func TestWithoutScaleNoUncertaintyIsPromised(t *testing.T) {
	b := bay.Bay{Width: 1280, Height: 720, Target: drills.Pixel{X: 640, Y: 360}}
	o, err := bay.OffsetOf(b, drills.Pixel{X: 650, Y: 350}, drills.Right)
	require.NoError(t, err)
	require.True(t, math.IsNaN(o.SigmaNow))
}

// A bay's points are px of the picture that it was set in.
func TestABayFitsAnotherSizeOfPicture(t *testing.T) {
	b := bay.Bay{Width: 1280, Height: 720, Distance: 3, Target: drills.Pixel{X: 700, Y: 300}, TargetSd: 4}
	k, err := bay.Known(b, drills.Right, 0, 640, 360)
	require.NoError(t, err)
	require.Equal(t, lens.Point{U: 350, V: 150}, k.Setting.View.Target)
	require.InDelta(t, 2, k.Target, 1e-9)
	k, err = bay.Known(b, drills.Right, 1.10, 640, 360)
	require.NoError(t, err)
	require.InDelta(t, 1.10-measure.DefaultGrip, k.Setting.Reach, 1e-9, "the player's own club")
	b.Distance = 0.2
	_, err = bay.Known(b, drills.Right, 0, 640, 360)
	require.ErrorIs(t, err, measure.ErrBay)
}

// swungTrack is a track of the first rep of a drawn bay, from places that are
// as the bay has them, with the setting that it was seen by.
func swungTrack(t *testing.T, s virtual.Setup) (measure.Result, rep.Known, *virtual.Bay) {
	t.Helper()
	b, err := virtual.New(s)
	require.NoError(t, err)
	set, err := BayOf(s)
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
		o := overlay(r, k.Setting.View)
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

func TestAClipKeepsHowFastItWas(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.avi")
	var pics []*frame.Picture
	for _, n := range []int{0, 1, 2, 6, 7} { // still pictures were thinned
		p := frame.New(64, 48, frame.Sub420)
		p.At = time.Duration(n) * time.Second / 50
		pics = append(pics, p)
	}
	require.NoError(t, WriteClip(path, pics))
	r, err := clip.Open(path, 0, nil)
	require.NoError(t, err)
	defer r.Close()
	require.InDelta(t, 50, r.Info().FPS, 1e-3)
	n := 0
	for ; ; n++ {
		if _, err := r.Next(); errors.Is(err, io.EOF) {
			break
		}
	}
	require.Equal(t, 8, n)
	require.Error(t, WriteClip(path, pics[:1]))
}

func TestOptionsSurviveTheWayToTheWindow(t *testing.T) {
	o := Options{Camera: "a camera", Second: "another", Both: true, Virtual: true, Ledger: "x/y.db", Seed: 9, Size: "640x360", Rate: 60, FullScreen: true, Silent: true}
	args := o.Arguments()
	for _, want := range []string{"--camera=a camera", "--second=another", "--both", "--virtual", "--ledger=x/y.db", "--full-screen", "--silent"} {
		require.Contains(t, args, want)
	}
	require.NoError(t, o.Check())
	for _, size := range []string{"", "12", "0x0", "100000x5", "axb"} {
		o.Size = size
		require.Error(t, o.Check(), size)
	}
}

func TestFoldersForDemosAreNew(t *testing.T) {
	t.Chdir(t.TempDir())
	a, err := Folder("")
	require.NoError(t, err)
	b, err := Folder("")
	require.NoError(t, err)
	require.NotEqual(t, a, b)
	c, err := Folder("mine")
	require.NoError(t, err)
	require.Equal(t, "mine", filepath.Base(c))
}

// heard is an output that notes what was said.
type heard struct {
	Silent
	said []cues.Phrase
}

func (h *heard) Say(p ...cues.Phrase) { h.said = append(h.said, p...) }

func TestTheLensIsSpoken(t *testing.T) {
	for _, c := range []struct {
		o    bay.Offset
		want []cues.Phrase
	}{
		{bay.Offset{UpCm: 12, NearCm: -5}, []cues.Phrase{"raise-camera", "12", "centimetres", "camera-nearer-player", "5", "centimetres"}},
		{bay.Offset{UpCm: -20, NearCm: 1}, []cues.Phrase{"lower-camera", "20", "centimetres"}},
		{bay.Offset{NearCm: 7}, []cues.Phrase{"camera-nearer-ball", "7", "centimetres"}},
		{bay.Offset{UpCm: 1, NearCm: -1}, []cues.Phrase{"lens-right"}},
	} {
		h := &heard{}
		newVoice(h).lens(c.o)
		require.Equal(t, c.want, h.said)
	}
}

// A whole session on the virtual bay through a camera's driver: nothing is
// left behind, and every rep that was told is in the ledger.
func TestALiveSession(t *testing.T) {
	l, err := ledger.Open(filepath.Join(t.TempDir(), ledger.FileName))
	require.NoError(t, err)
	s := Practice(2, 480, 270, 30)
	s.Reps[0].Still, s.Reps[0].Before = 0.6, nil
	ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
	defer cancel()
	live, err := Open(ctx, Config{Ledger: l, Virtual: true, Drawn: s})
	require.NoError(t, err)
	require.True(t, live.Drawn())
	d, err := live.Deps(ctx)
	require.NoError(t, err)
	require.Contains(t, d.Camera(), "480 × 270")
	require.True(t, d.Bay.Set)
	p, err := d.Book.AddPlayer("Ada", drills.Right, 94)
	require.NoError(t, err)
	d.Order(runner.Command{Do: runner.Begin, Player: p.Player, Bay: d.Bay.Name, Drill: d.Book.Rungs(p.Player.ID)[0].Drill})
	d.Order(runner.Command{Do: runner.Ready})
	for len(d.Snapshot().All) == 0 {
		select {
		case <-live.Wake():
		case <-ctx.Done():
			t.Fatal("no rep was told")
		}
	}
	told := d.Snapshot().All[0]
	kept, err := l.Reps(ctx, ledger.Which{Player: p.Player.ID})
	require.NoError(t, err)
	require.Equal(t, told.ID, kept[0].ID)
	require.InDelta(t, 0.94, kept[0].ClubLong, 1e-9)
	require.Contains(t, d.Book.Players()[0].Line, "Rung 1")
	pic := d.Picture(0)
	require.NotNil(t, pic)
	pic.Release()
	_, err = d.Work(app.Job{Do: app.Keep, RepID: "unknown"})
	require.ErrorContains(t, err, "gone")
	text, err := d.Work(app.Job{Do: app.Export, Player: p.Player.ID})
	require.NoError(t, err)
	require.Contains(t, text, "Ada-")
	exports, err := os.ReadDir(filepath.Join(filepath.Dir(l.Path()), "exports"))
	require.NoError(t, err)
	require.Len(t, exports, 1)
	_, err = d.Work(app.Job{Do: app.Report, Player: p.Player.ID})
	require.NoError(t, err)
	other := filepath.Join(filepath.Dir(l.Path()), "reports", "Ada-of-another-day.html")
	require.NoError(t, os.WriteFile(other, []byte("another Ada"), 0o600))
	d.Order(runner.Command{Do: runner.Finish})
	text, err = d.Work(app.Job{Do: app.EraseOn, Player: p.Player.ID})
	require.NoError(t, err)
	require.Contains(t, text, "Ada is deleted: 1 session")
	require.Contains(t, text, "Z brings it back until drillbay is closed")
	require.Empty(t, d.Book.Players())
	require.Equal(t, "Ada", d.Book.Deleted()[0].Player.Name)
	_, err = d.Book.AddPlayer("ada", drills.Right, 94)
	require.ErrorContains(t, err, "was deleted in this session")
	text, err = d.Work(app.Job{Do: app.TakeBack, Player: p.Player.ID})
	require.NoError(t, err)
	require.Contains(t, text, "Ada is back")
	require.Contains(t, d.Book.Players()[0].Line, "Rung 1", "with what she did")
	_, err = d.Work(app.Job{Do: app.EraseOn, Player: p.Player.ID})
	require.NoError(t, err)
	require.NoError(t, live.Finish(context.Background(), 20*time.Second))
	require.Contains(t, live.Parting(), "Ada is deleted: 1 session")
	require.Contains(t, live.Parting(), "2 reports and exports beside the ledger went too")
	for folder, left := range map[string]int{"reports": 1, "exports": 0} {
		entries, err := os.ReadDir(filepath.Join(filepath.Dir(l.Path()), folder))
		require.NoError(t, err)
		require.Len(t, entries, left, folder)
	}
}
