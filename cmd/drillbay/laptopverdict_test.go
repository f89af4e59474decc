//go:build !windows

package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"drillbay/app/laptop"
	"drillbay/camera"
)

// The verdict of the check is that of a window that practises, and what such a
// window says is taken at its word.
func TestTheLaptopCheckTimesAVerdictInTheWindow(t *testing.T) {
	says := func(script string) string {
		path := filepath.Join(t.TempDir(), "drillbay-window")
		require.NoError(t, os.WriteFile(path, []byte("#!/bin/sh\n"+script), 0o755))
		return path
	}
	after, err := laptop.VerdictIn(says(`[ "$*" = "--timed --size 640x360 --rate 30" ] && echo 1.625`), camera.Mode{Width: 640, Height: 361, Rate: 30})
	require.NoError(t, err)
	require.Equal(t, 1625*time.Millisecond, after)
	require.Equal(t, laptop.Poor, laptop.JudgeVerdict(after, "in the window", nil).Grade)
	_, err = laptop.VerdictIn(says("echo drillbay: no picture came >&2; exit 1"), camera.Mode{})
	require.EqualError(t, err, "no picture came")
	_, err = laptop.VerdictIn(says("echo"), camera.Mode{})
	require.ErrorContains(t, err, "no verdict")
}

// A real window gives a verdict by itself.
func TestAWindowTimesItsVerdicts(t *testing.T) {
	if testing.Short() {
		t.Skip("it practises for a while")
	}
	if _, err := exec.LookPath("Xvfb"); err != nil {
		t.Skip("Xvfb is not installed")
	}
	t.Setenv("DISPLAY", newScreen(t, 1280, 720))
	t.Setenv("LIBGL_ALWAYS_SOFTWARE", "1")
	after, err := laptop.VerdictIn(filepath.Join(programs(t), windowProgram), camera.Mode{Width: 480, Height: 270, Rate: 30})
	require.NoError(t, err)
	t.Logf("%.2f s after the catch", after.Seconds())
	require.Greater(t, after, 300*time.Millisecond, "a catch is seen once the club was still for 0.2 s, then it is read")
	require.Less(t, after, 10*time.Second)
}
