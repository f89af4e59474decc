//go:build linux

package main

import (
	"bufio"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"drillbay/app/paint"
	"drillbay/app/soaktest"
)

// everyName has the time between two samples, s. Where it is set this is the
// window, which says on its output what it holds.
const everyName = "DRILLBAY_TEST_WINDOW"

func TestMain(m *testing.M) {
	every, err := strconv.ParseFloat(os.Getenv(everyName), 64)
	if err != nil {
		os.Exit(m.Run())
	}
	go func() {
		out, began := json.NewEncoder(os.Stdout), time.Now()
		for range time.Tick(time.Duration(every * float64(time.Second))) {
			s := soaktest.Hold(time.Since(began).Seconds())
			s.Images = float64(paint.Images())
			if out.Encode(s) != nil {
				return
			}
		}
	}()
	os.Exit(run(os.Args[1:], os.Stderr))
}

// TestSoakOfTheWindow works the window for as long as the soak lasts, through
// its screens again and again: it holds no more at the end, images included.
func TestSoakOfTheWindow(t *testing.T) {
	minutes := soaktest.Minutes(t)
	for _, p := range []string{"Xvfb", "xdotool"} {
		if _, err := exec.LookPath(p); err != nil {
			t.Skipf("%s is not installed", p)
		}
	}
	w := newWorked(t, minutes*60/160)
	last, round, visits := "", 0, map[string]int{}
	var all []soaktest.Sample
	for end := minutes * 60; len(all) == 0 || all[len(all)-1].At < end; {
		s, ok := <-w.samples
		require.True(t, ok, "the window ended: %s", w.said)
		all = append(all, s)
		if name := w.title(); name != last {
			last = name
			visits[name]++
		}
		w.work(last, round)
		round++
	}
	t.Logf("%v minutes, screens and how often: %v", minutes, visits)
	require.Greater(t, len(visits), 4, "it was worked")
	most := 0.0
	for _, s := range all {
		most = max(most, s.Images)
	}
	t.Logf("%.0f images on the graphics card at most", most)
	require.Positive(t, most)
	// The library keeps 512 shaped texts of some 15 kB (ebiten 2.8.8, text/v2,
	// GoTextFaceSource): new numbers fill that for a quarter of an hour.
	soaktest.Flat(t, all, 8)
	require.NoError(t, w.window.Process.Signal(syscall.SIGTERM))
	require.NoError(t, w.window.Wait(), w.said.String())
}

// worked is the window on a screen of its own, worked by keys.
type worked struct {
	env     []string
	window  *exec.Cmd
	said    *strings.Builder
	samples chan soaktest.Sample
}

func newWorked(t *testing.T, every float64) *worked {
	t.Helper()
	read, write, err := os.Pipe()
	require.NoError(t, err)
	screen := exec.Command("Xvfb", "-displayfd", "3", "-screen", "0", "960x540x24", "-nolisten", "tcp")
	screen.ExtraFiles = []*os.File{write}
	require.NoError(t, screen.Start())
	write.Close()
	t.Cleanup(func() { _ = screen.Process.Signal(syscall.SIGTERM); _ = screen.Wait() })
	number, err := bufio.NewReader(read).ReadString('\n')
	require.NoError(t, err, "the screen does not start")
	dir := t.TempDir()
	w := &worked{said: &strings.Builder{}, samples: make(chan soaktest.Sample, 64)}
	w.env = append(os.Environ(), "DISPLAY=:"+strings.TrimSpace(number), "XDG_DATA_HOME="+dir, "LIBGL_ALWAYS_SOFTWARE=1", fmt.Sprintf("%s=%g", everyName, every))
	w.window = exec.Command(os.Args[0], "--virtual", "--silent", "--deaf", "--size", "320x180", "--seed", "3", "--ledger", filepath.Join(dir, "ledger.db"))
	w.window.Env, w.window.Stderr = w.env, w.said
	out, err := w.window.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, w.window.Start())
	t.Cleanup(func() { _ = w.window.Process.Kill() })
	go func() {
		defer close(w.samples)
		for in := bufio.NewScanner(out); in.Scan(); {
			var s soaktest.Sample
			if json.Unmarshal(in.Bytes(), &s) == nil {
				w.samples <- s
			}
		}
	}()
	return w
}

func (w *worked) do(args ...string) string {
	cmd := exec.Command("xdotool", args...)
	cmd.Env = w.env
	out, _ := cmd.Output()
	return strings.TrimSpace(string(out))
}

// title is the screen that the window is on.
func (w *worked) title() string {
	_, name, _ := strings.Cut(w.do("search", "--name", "^drillbay", "getwindowname"), ": ")
	return name
}

// work presses the next key on a screen: from practice to every other screen
// and back.
func (w *worked) work(screen string, round int) {
	next := func(keys ...string) string { return keys[round%len(keys)] }
	key := "Escape"
	switch screen {
	case "practice":
		key = next("b", "m", "l", "b", "p", "Return", "s", "b", "d", "question")
	case "lookback":
		key = next("a", "o", "i", "Return", "Right")
	case "new player":
		w.do("type", "--delay", "60", "Ada")
		key = "Return"
	case "start", "caution", "check":
		key = "Return"
	case "":
		return
	}
	w.do("search", "--name", "^drillbay", "windowfocus", "--sync")
	w.do("keydown", key, "sleep", "0.1", "keyup", key)
}
