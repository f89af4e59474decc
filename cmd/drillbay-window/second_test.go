package main

import (
	"bufio"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"drillbay/app"
	"drillbay/app/beside"
	"drillbay/camera/frame"
)

// The second process tells how large its window is, shows what it is sent, and ends
// with the first.
func TestTheSecondWindow(t *testing.T) {
	if runtime.GOOS != "linux" || os.Getenv("DISPLAY") == "" {
		t.Skip("there is no display")
	}
	path := filepath.Join(t.TempDir(), "drillbay-window")
	out, err := exec.Command("go", "build", "-o", path, ".").CombinedOutput()
	require.NoError(t, err, string(out))
	cmd := exec.Command(path, "--mat")
	to, err := cmd.StdinPipe()
	require.NoError(t, err)
	from, err := cmd.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, cmd.Start())
	defer cmd.Process.Kill() //nolint:errcheck // it ended before, if all is well
	stuck := time.AfterFunc(time.Minute, func() { cmd.Process.Kill() })
	defer stuck.Stop()
	told := bufio.NewScanner(from)
	require.True(t, told.Scan())
	var s beside.Size
	n, err := fmt.Sscan(told.Text(), &s.Width, &s.Height, &s.Diagonal)
	require.NoError(t, err)
	require.Equal(t, 3, n)
	require.GreaterOrEqual(t, s.Width, 640.0)
	sender := beside.NewSender(to)
	p := frame.New(64, 36, frame.Sub420)
	v := &app.View{Screen: "practice", Theme: "daylight", Width: s.Width, Height: s.Height, Items: []app.Item{
		{Shape: app.Picture, W: 64, H: 36, Crop: app.Rect{W: 64, H: 36}}, {Shape: app.Wedge, Role: app.Ink, X: 10, Y: 10, W: 20, H: 90, R: 8}, {Shape: app.Text, Text: "inside", X: 100, Y: 100, Size: 60, Weight: app.Bold}}}
	v.Pictures[0] = p
	for range 20 {
		require.NoError(t, sender.Send(v))
	}
	require.NoError(t, to.Close())
	require.NoError(t, cmd.Wait(), "it ends when the first process does")
}
