package main

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

// Two clips are laid side by side from the command line; what is there already is
// not written over, and what is no clip is told.
func TestTwoClipsSideBySide(t *testing.T) {
	file, _ := ownClip(t)
	out := filepath.Join(t.TempDir(), "both.avi")
	status, said, problems := command("beside", file, file, "--out", out)
	require.Equal(t, exitDone, status, problems)
	require.Contains(t, said, "0.00 s later", "the same clip")
	require.Contains(t, said, "side by side")
	info, err := os.Stat(out)
	require.NoError(t, err)
	require.Greater(t, info.Size(), int64(100_000))
	status, _, problems = command("beside", file, file, "--out", out)
	require.Equal(t, 1, status)
	require.Contains(t, problems, "is there already")
	bad := filepath.Join(t.TempDir(), "bad.avi")
	require.NoError(t, os.WriteFile(bad, []byte("no clip at all"), 0o600))
	status, _, problems = command("beside", file, bad, "--out", out+"2")
	require.Equal(t, exitClip, status, problems)
	require.NoFileExists(t, out+"2")
}
