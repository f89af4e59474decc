package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/drills/ledger"
)

// The report of a drawn player, with the picture of a clip that was kept.
func TestTheReportOfAPlayer(t *testing.T) {
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	dir := t.TempDir()
	status, out, problems := command("demo", "--headless", "--seed", "5", "--reps", "3", "--size", "640x360", "--out", dir)
	require.Equal(t, exitDone, status, problems)
	require.Contains(t, out, "report.html")
	plain, err := os.ReadFile(filepath.Join(dir, "report.html"))
	require.NoError(t, err)
	require.NotContains(t, string(plain), "data:image")

	path, ctx := filepath.Join(dir, ledger.FileName), context.Background()
	l, err := ledger.Open(path)
	require.NoError(t, err)
	reps, err := l.Reps(ctx, ledger.Which{})
	require.NoError(t, err)
	avi, err := os.ReadFile(filepath.Join(dir, "rep.avi"))
	require.NoError(t, err)
	i := slices.IndexFunc(reps, func(r ledger.Record) bool { return r.Rep.ShaftLine.OK() })
	_, err = l.KeepClip(ctx, reps[i].ID, "avi", bytes.NewReader(avi))
	require.NoError(t, err)
	require.NoError(t, l.Close())

	file := filepath.Join(dir, "demo.html")
	status, out, problems = command("report", "Demo", "--ledger", path, "--out", file)
	require.Equal(t, exitDone, status, problems)
	require.Contains(t, out, "demo.html")
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	require.Contains(t, string(text), "data:image/jpeg;base64,")
	info, err := os.Stat(file)
	require.NoError(t, err)
	require.Equal(t, os.FileMode(0o600), info.Mode().Perm())

	status, _, problems = command("report", "Nobody", "--ledger", path)
	require.Equal(t, exitUse, status)
	require.Contains(t, problems, "no player named")
	status, _, problems = command("report", "Demo", "--ledger", path, "--out", filepath.Join(dir, "none", "x.html"))
	require.NotEqual(t, exitDone, status)
	require.Contains(t, problems, "cannot be written")
}
