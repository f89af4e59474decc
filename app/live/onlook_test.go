package live

import (
	"context"
	"math"
	"path/filepath"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	"github.com/stretchr/testify/require"

	"drillbay/app"
	"drillbay/camera/frame"
	"drillbay/camera/sight"
	"drillbay/camera/virtual"
	"drillbay/drills"
	"drillbay/drills/bay"
	"drillbay/drills/ledger"
	"drillbay/drills/stage"
	"drillbay/drills/voice"
)

// until asks again and again until something is so.
func until(t *testing.T, ctx context.Context, what string, so func() bool) {
	t.Helper()
	tick := time.NewTicker(30 * time.Millisecond)
	defer tick.Stop()
	for !so() {
		select {
		case <-tick.C:
		case <-ctx.Done():
			t.Fatal("it never came: " + what)
		}
	}
}

// standingBay is a drawn bay, its camera 30 cm too high and 20 cm too near
// the player, in which somebody walks in and stands at address.
func standingBay() virtual.Setup {
	s := stage.Practice(2, 640, 360, 30)
	s.Scene.PasserBy = false
	s.Camera.Height, s.Camera.Lateral, s.Camera.PitchDeg = s.Camera.Height+0.30, s.Camera.Lateral+0.20, -9
	s.Reps = s.Reps[:1]
	s.Reps[0].Before, s.Reps[0].Still = []virtual.Interlude{virtual.WalkIn}, 30
	return s
}

func opened(t *testing.T, ctx context.Context, s virtual.Setup) (*Live, app.Deps) {
	t.Helper()
	return openedBeside(t, ctx, s, "")
}

// openedBeside opens a session with a second camera of a name, "" for none.
func openedBeside(t *testing.T, ctx context.Context, s virtual.Setup, second string) (*Live, app.Deps) {
	t.Helper()
	l, err := ledger.Open(filepath.Join(t.TempDir(), ledger.FileName))
	require.NoError(t, err)
	live, err := Open(ctx, Config{Ledger: l, Virtual: true, Drawn: s, Second: second})
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, live.Finish(context.Background(), 20*time.Second)) })
	d, err := live.Deps(ctx)
	require.NoError(t, err)
	return live, d
}

// Somebody stands at address: the lens screen knows where the hands are, and
// which way to move the camera, without a swing.
func TestTheLensIsLedWithoutASwing(t *testing.T) { synctest.Test(t, theLensIsLedWithoutASwing) }

func theLensIsLedWithoutASwing(t *testing.T) {
	ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
	defer cancel()
	s := standingBay()
	_, d := opened(t, ctx, s)
	var h drills.Pixel
	until(t, ctx, "the hands", func() bool {
		h.X, h.Y = d.Hands()
		return !math.IsNaN(h.X)
	})
	require.Empty(t, d.Snapshot().All, "no rep was made")
	o, err := d.Lens.Offset(d.Bay, h, drills.Right)
	require.NoError(t, err)
	b, err := virtual.New(s)
	require.NoError(t, err)
	truth, at := b.Truth(b.Events()[0].StillFrom+2), b.Lens()
	require.InDelta(t, 100*(truth.Hands[2]-at[2]), o.UpCm, 3)
	require.InDelta(t, -100*(truth.Hands[1]-at[1]), o.NearCm, 3)
	require.Less(t, o.Cm, 3.0)
	require.False(t, o.Good())
	require.Contains(t, voice.LensWords(o), voice.LensWords(bay.Offset{UpCm: -20})[0], "lower the camera")
}

// The lines that are offered while somebody stands there give the target
// point of the drawn bay.
func TestLinesAreOffered(t *testing.T) { synctest.Test(t, linesAreOffered) }

func linesAreOffered(t *testing.T) {
	ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
	defer cancel()
	s := standingBay()
	s.Width, s.Height = 960, 540
	_, d := opened(t, ctx, s)
	var lines []bay.Segment
	until(t, ctx, "lines", func() bool { lines = d.Lens.Find(); return len(lines) >= 2 })
	target, err := d.Lens.Meet(lines, s.Width, s.Height)
	require.NoError(t, err)
	b, err := virtual.New(s)
	require.NoError(t, err)
	x, y := b.TargetPoint()
	require.InDelta(t, x, target.X, 3)
	require.InDelta(t, y, target.Y, 3)
	require.Less(t, target.Sd, 4.0)
}

// A club that hangs in the drawn bay gives the camera's roll; as long as there
// is none, a sentence says so.
func TestTheRollComesFromAHungClub(t *testing.T) { synctest.Test(t, theRollComesFromAHungClub) }

func theRollComesFromAHungClub(t *testing.T) {
	ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
	defer cancel()
	s := standingBay()
	s.Camera.RollDeg = 2.2
	s.Reps[0].Before = []virtual.Interlude{virtual.Stand, virtual.Hang}
	_, d := opened(t, ctx, s)
	bay := d.Bay
	bay.Roll = 0
	var roll, sigma float64
	refused := false
	until(t, ctx, "the roll", func() bool {
		var err error
		roll, sigma, err = d.Lens.Roll(bay)
		refused = refused || err != nil
		return err == nil
	})
	require.True(t, refused, "not before the club hangs")
	require.InDelta(t, 2.2, roll, 0.6)
	require.Less(t, sigma, 0.6)
}

func sceneryOf(t *testing.T, s virtual.Setup) *sight.Scenery {
	t.Helper()
	b, err := virtual.New(s)
	require.NoError(t, err)
	var pics []*frame.Picture
	for i := range 8 {
		p := frame.New(s.Width, s.Height, frame.Sub420)
		require.NoError(t, b.Draw(3*i, p))
		pics = append(pics, p)
	}
	out := sight.NewScenery(pics)
	return &out
}

// A bay whose camera stands elsewhere than when it was set asks to be set
// again, and is content once it was. What it is known by is kept with it.
func TestABayWhosePictureHasShiftedAsksToBeSet(t *testing.T) {
	synctest.Test(t, aBayWhosePictureHasShiftedAsksToBeSet)
}

func aBayWhosePictureHasShiftedAsksToBeSet(t *testing.T) {
	ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
	defer cancel()
	s := standingBay()
	live, d := opened(t, ctx, s)
	was := s
	was.Camera.YawDeg += 0.6
	bay := d.Bay
	bay.Scenery = sceneryOf(t, was)
	live.guide.Watch(bay, s.Width, s.Height)
	moved := func() bool {
		for _, n := range d.Snapshot().Notices {
			if n.Key == "bumped" {
				return strings.Contains(n.To, "set the lens again")
			}
		}
		return false
	}
	until(t, ctx, "that the camera was moved", moved)
	require.True(t, d.Lens.Shifted())
	bay.Scenery = nil
	d.Lens.Mark()
	require.NoError(t, d.KeepBay(bay))
	until(t, ctx, "that all is well again", func() bool { return !moved() })
	until(t, ctx, "the kept bay", func() bool {
		kept, ok, err := live.book.Bay(ctx, stage.Drawn)
		require.NoError(t, err)
		return ok && kept.Scenery != nil && kept.Scenery.Fits(s.Width, s.Height)
	})
	require.False(t, d.Lens.Shifted())
}
