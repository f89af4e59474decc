package main

import (
	"context"
	"math"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/require"

	"drillbay/camera/clip"
	"drillbay/camera/frame"
	"drillbay/drills"
	"drillbay/drills/ledger"
)

// practice is a ledger with a set of a player who agreed that clips are kept.
func practice(t *testing.T) (l *ledger.Ledger, player string, reps []string) {
	t.Helper()
	l, err := ledger.Open(filepath.Join(t.TempDir(), ledger.FileName))
	require.NoError(t, err)
	t.Cleanup(func() { l.Close() })
	ctx := context.Background()
	player, err = l.PutPlayer(ctx, ledger.Player{Name: "<b>Ada</b>", Consent: "the player", ConsentAt: time.Now()})
	require.NoError(t, err)
	session := uuid.NewString()
	for i := range 10 {
		m := drills.NoMoments()
		m.BackStart, m.Level, m.Catch = 1, 1.5, 1.55
		r := ledger.Record{ID: uuid.NewString(), Session: session, Set: 1, Player: ledger.Player{ID: player}, Bay: "Net", Drill: "lead-arm-catch", Rung: 1, Band: 8,
			At: time.Date(2026, 3, 2, 18, i, 0, 0, time.UTC), Rep: drills.Rep{Number: i + 1, Moments: m, Verdict: drills.InLine, Manner: drills.Swung,
				ShaftLine: drills.Reading{Value: float64(i) - 3, Sigma: 1}, Elevation: drills.None(), Depth: drills.None(), Smoothness: math.NaN(),
				Tempo: math.NaN(), TempoLow: math.NaN(), TempoHigh: math.NaN()}}
		require.NoError(t, l.Save(ctx, r))
		reps = append(reps, r.ID)
	}
	return l, player, reps
}

// keep keeps a clip of a rep, grey and brighter with each picture.
func keep(t *testing.T, l *ledger.Ledger, rep string) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "clip.avi")
	w, err := clip.NewWriter(path, 64, 48, 30)
	require.NoError(t, err)
	for i := range 30 {
		p := frame.New(64, 48, frame.Sub420)
		for k := range p.Y {
			p.Y[k] = byte(40 + 6*i)
		}
		for k := range p.Cb {
			p.Cb[k], p.Cr[k] = 128, 128
		}
		require.NoError(t, w.Add(p))
	}
	require.NoError(t, w.Close())
	f, err := os.Open(path)
	require.NoError(t, err)
	defer f.Close()
	_, err = l.KeepClip(context.Background(), rep, "avi", f)
	require.NoError(t, err)
}

func TestTheReportOfAPlayer(t *testing.T) {
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	l, player, reps := practice(t)
	keep(t, l, reps[3]) // 0°: the best
	keep(t, l, reps[6]) // 3°
	file := filepath.Join(t.TempDir(), "ada.html")
	status, out, problems := command("report", "<b>Ada</b>", "--ledger", l.Path(), "--out", file)
	require.Equal(t, exitDone, status, problems)
	require.Contains(t, out, "ada.html")
	b, err := os.ReadFile(file)
	require.NoError(t, err)
	text := string(b)
	require.Contains(t, text, "&lt;b&gt;Ada&lt;/b&gt;")
	require.NotContains(t, text, "<b>Ada</b>")
	require.Contains(t, text, "passed, 10 of 10")
	require.Contains(t, text, "Best: in line and swung, 2 March")
	require.Contains(t, text, "data:image/jpeg;base64,")
	info, err := os.Stat(file)
	require.NoError(t, err)
	require.Equal(t, os.FileMode(0o600), info.Mode().Perm())

	// Consent that was taken back ends it.
	_, err = l.PutPlayer(context.Background(), ledger.Player{ID: player, Name: "Ada"})
	require.NoError(t, err)
	status, _, problems = command("report", "Ada", "--ledger", l.Path(), "--out", file)
	require.Equal(t, exitDone, status, problems)
	b, err = os.ReadFile(file)
	require.NoError(t, err)
	require.NotContains(t, string(b), "data:image")

	status, _, problems = command("report", "Nobody", "--ledger", l.Path())
	require.Equal(t, exitUse, status)
	require.Contains(t, problems, "no player named")
	status, _, problems = command("report", "Ada", "--ledger", l.Path(), "--out", filepath.Join(t.TempDir(), "none", "x.html"))
	require.NotEqual(t, exitDone, status)
	require.Contains(t, problems, "cannot be written")
}
