package measure

import (
	"flag"
	"math"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drillbay/camera/clip"
	"drillbay/camera/frame"
	"drillbay/camera/virtual"
	"drillbay/drills"
)

var update = flag.Bool("update", false, "draw testdata/catch.avi anew")

// ownSetup is what testdata/catch.avi shows: one swing, caught 14° inside.
func ownSetup() virtual.Setup {
	s := virtual.Default()
	s.Width, s.Height, s.Seed = 640, 360, 5
	s.Reps = []virtual.RepSpec{{ShaftLineDeg: 14, Still: 0.8, Hold: 0.9}}
	return s
}

// A small clip of our own is always measured, and its truth is what was drawn.
func TestOwnClip(t *testing.T) {
	file := filepath.Join("..", "..", "testdata", "catch.avi")
	s := ownSetup()
	b, err := virtual.New(s)
	require.NoError(t, err)
	want := wantOf(s, b)
	if *update {
		src := &drawn{bay: b, s: s, pool: frame.NewPool(1 << 30)}
		writeOwn(t, file, src, s.FPS, want.catch+1.1)
	}
	k, err := bayOf(s, b).Known()
	require.NoError(t, err)
	src, err := clip.Open(file, 0, nil)
	require.NoError(t, err)
	defer src.Close()
	reps, _, bad, err := Reps(src, k, Catch, nil)
	require.NoError(t, err)
	assert.Zero(t, bad)
	require.Len(t, reps, 1)
	r := reps[0].Rep
	t.Log(line(want, r))
	assert.InDelta(t, want.catch, r.Moments.Catch, 2/s.FPS)
	assert.InDelta(t, want.start, r.Moments.Start, 0.1)
	assert.InDelta(t, want.turn, r.Moments.BackStart, 0.1)
	assert.Equal(t, drills.Swung, r.Manner)
	assert.Equal(t, drills.Inside, r.Verdict)
	require.True(t, r.ShaftLine.OK())
	assert.Less(t, math.Abs(r.ShaftLine.Value-want.line), 2*r.ShaftLine.Sigma, "the reading is as sure as it says")
}

// writeOwn writes the pictures of src up to a time, s, as a clip.
func writeOwn(t *testing.T, file string, src Frames, fps, until float64) {
	t.Helper()
	var w *clip.Writer
	for {
		p, err := src.Next()
		if err != nil || p.Seconds() > until {
			break
		}
		if w == nil {
			w, err = clip.NewWriter(file, p.Width, p.Height, fps)
			require.NoError(t, err)
		}
		require.NoError(t, w.Add(p))
		p.Release()
	}
	require.NoError(t, w.Close())
}
