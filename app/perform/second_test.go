package perform

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"path/filepath"
	"strings"
	"testing"
	"testing/synctest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drillbay/camera/virtual"
	"drillbay/drills"
	"drillbay/drills/ledger"
	"drillbay/drills/stage"
)

// performed performs reps on each rung before two cameras without a complaint, and
// returns what was printed and the ledger.
func performed(t *testing.T, s virtual.Setup, reps int) (string, *ledger.Ledger) {
	t.Helper()
	dir := t.TempDir()
	var out, problems bytes.Buffer
	require.NoError(t, Run(context.Background(), &out, &problems, s, reps, dir, true))
	t.Log("\n" + out.String())
	require.Empty(t, problems.String())
	l, err := ledger.Open(filepath.Join(dir, ledger.FileName))
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, l.Close()) })
	return out.String(), l
}

// Six reps without a window, seen by two cameras whose clocks differ: each is
// counted once, the shaft line is read down the line and the body along the target
// line face-on, as they were drawn; the ledger knows which is which, and the
// difference of the clocks is found to a frame.
func TestSixRepsFromBothSides(t *testing.T) { synctest.Test(t, sixRepsFromBothSides) }

func sixRepsFromBothSides(t *testing.T) {
	if testing.Short() {
		t.Skip("six reps by two cameras take a minute")
	}
	s := virtual.Demo(3, virtual.DemoRungs(3)[:2])
	s.Width, s.Height = 640, 360
	out, l := performed(t, s, 3)
	require.Contains(t, out, "head back")
	require.Contains(t, out, drills.NoAdvice)
	var lag, sigma, n float64
	_, line, _ := strings.Cut(out, "The second camera's")
	_, err := fmt.Sscanf(line, " pictures come %f ms later, ± %f ms, by %f reps; drawn were 60 ms.", &lag, &sigma, &n)
	require.NoError(t, err)
	require.InDelta(t, 60, lag, 1000/s.FPS, "to a frame")
	require.GreaterOrEqual(t, n, 5.0)

	reps, err := l.Reps(context.Background(), ledger.Which{})
	require.NoError(t, err)
	require.Len(t, reps, 6, "none is counted twice")
	bay, err := virtual.New(s)
	require.NoError(t, err)
	both := 0
	for i, r := range reps {
		e := bay.Events()[i]
		require.InDelta(t, e.Catch, r.Rep.Moments.Catch, 0.1, "on the first camera's clock")
		if r.Rep.ShaftLine.OK() {
			require.InDelta(t, drawnLine(e), r.Rep.ShaftLine.Value, 5, "rep %d", i+1)
		}
		if !r.Rep.Views.Two() {
			continue
		}
		both++
		require.Equal(t, drills.DownTheLine, r.Rep.Views.Line)
		for p, x := range r.Rep.Body {
			from := r.Rep.Views.Body[p]
			require.Equal(t, x.Known(), from != drills.NoView, "rep %d: %s", i+1, drills.BodyPart(p))
			if drills.BodyPart(p) != drills.ArmBend && x.Known() {
				require.Equal(t, drills.ViewOf(drills.BodyPart(p).FaceOn()), from)
			}
		}
		home, here := bay.Joints(e.StillFrom+0.5), bay.Joints(e.Catch+0.15)
		if x := r.Rep.Body[drills.HeadBack]; x.Known() {
			assert.InDelta(t, 100*(home.Crown[0]-here.Crown[0]), x.Value, math.Max(2, 3*x.Sigma), "rep %d: head along the target line", i+1)
		}
		hips := func(j virtual.Joints) float64 { return (j.LeadHip[0] + j.TrailHip[0]) / 2 }
		if x := r.Rep.Body[drills.HipsBack]; x.Known() {
			assert.InDelta(t, 100*(hips(home)-hips(here)), x.Value, math.Max(2, 3*x.Sigma), "rep %d: hips along the target line", i+1)
		}
	}
	require.GreaterOrEqual(t, both, 5, "of six reps both cameras read five")
	b := bytes.Buffer{}
	require.NoError(t, l.Export(context.Background(), &b, ""))
	require.Contains(t, b.String(), `"views":"down the line: line`)
}

// With the camera before the chest first each rep is told once all the same, with the
// shaft line that the second camera has.
func TestRepsFromTheFrontFirst(t *testing.T) { synctest.Test(t, repsFromTheFrontFirst) }

func repsFromTheFrontFirst(t *testing.T) {
	if testing.Short() {
		t.Skip("four reps by two cameras take a minute")
	}
	s := virtual.Demo(3, virtual.DemoRungs(2)[:2])
	s.Width, s.Height, s.Camera = 640, 360, stage.FaceOnCamera()
	_, l := performed(t, s, 2)
	reps, err := l.Reps(context.Background(), ledger.Which{})
	require.NoError(t, err)
	require.Len(t, reps, 4)
	bay, err := virtual.New(s)
	require.NoError(t, err)
	lines := 0
	for i, r := range reps {
		e := bay.Events()[i]
		require.InDelta(t, e.Catch, r.Rep.Moments.Catch, 0.12, "on the first camera's clock")
		if r.Rep.Views.Line == drills.DownTheLine && r.Rep.ShaftLine.OK() {
			lines++
			require.InDelta(t, drawnLine(e), r.Rep.ShaftLine.Value, 5, "rep %d", i+1)
		}
	}
	require.GreaterOrEqual(t, lines, 3, "shaft lines of four")
}

// The second camera sees the same player from the other side, and is late.
func TestTheSecondCameraStandsOnTheOtherSide(t *testing.T) {
	s := virtual.Demo(3, virtual.DemoRungs(1))
	other := stage.OtherView(s)
	require.True(t, other.Camera.FaceOn)
	require.Positive(t, other.Camera.Late)
	back := stage.OtherView(other)
	require.False(t, back.Camera.FaceOn)
	require.Equal(t, s.Reps, other.Reps)
	require.Equal(t, s.Seed, other.Seed)
}
