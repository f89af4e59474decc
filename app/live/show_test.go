package live

import (
	"os"
	"path/filepath"
	"runtime"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// Without a program that shows folders it is said where the clip is.
func TestAClipIsShownInItsFolder(t *testing.T) {
	bin, seen := t.TempDir(), filepath.Join(t.TempDir(), "seen")
	clip := filepath.Join(t.TempDir(), "Marta rep 7.avi")
	require.NoError(t, os.WriteFile(clip, nil, 0o600))
	t.Setenv("PATH", bin)
	said, err := showFile(clip)
	require.NoError(t, err)
	require.Equal(t, "It is "+clip+".", said)
	if runtime.GOOS == "linux" {
		require.NoError(t, os.WriteFile(filepath.Join(bin, "xdg-open"), []byte("#!/bin/sh\necho \"$1\" > "+seen+"\n"), 0o700))
		_, err = showFile(clip)
		require.NoError(t, err)
		require.Eventually(t, func() bool { got, _ := os.ReadFile(seen); return string(got) == filepath.Dir(clip)+"\n" }, 10*time.Second, time.Millisecond)
	}
	_, err = showFile(clip + "x")
	require.ErrorContains(t, err, "not there")
}
