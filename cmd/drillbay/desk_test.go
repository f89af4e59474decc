//go:build !windows

package main

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// programs is a folder with both programs as they are installed, beside each
// other. They are built once for all tests.
func programs(t *testing.T) string {
	t.Helper()
	dir, err := builtOnce()
	require.NoError(t, err)
	return dir
}

var builtOnce = sync.OnceValues(func() (string, error) {
	dir, err := os.MkdirTemp("", "drillbay-programs")
	if err != nil {
		return "", err
	}
	builtIn = dir
	out, err := exec.Command("go", "build", "-o", dir+string(filepath.Separator), ".", "../drillbay-window").CombinedOutput()
	if err != nil {
		return "", fmt.Errorf("%w: %s", err, out)
	}
	return dir, os.Chmod(dir, 0o755) // other users run it too
})

var builtIn string

func TestMain(m *testing.M) {
	code := m.Run()
	_ = os.RemoveAll(builtIn)
	os.Exit(code)
}

// desk is a screen of its own with the window on it, worked by keys as a
// user does.
type desk struct {
	t       *testing.T
	env     []string
	dir     string // of the user's files
	shots   string
	program *exec.Cmd
	log     *bytes.Buffer
	ended   chan error
	titles  []string // every screen that was seen, in order
}

// newDesk starts a screen of the least size that the window is made for, which
// costs the least to draw, and the window on it.
func newDesk(t *testing.T, args ...string) *desk {
	t.Helper()
	return newDeskOf(t, 1024, 600, args...)
}

// newDeskOf starts a screen of so many px and the window on it. The test is
// skipped where the programs for it are missing.
func newDeskOf(t *testing.T, width, height int, args ...string) *desk {
	t.Helper()
	for _, p := range []string{"Xvfb", "xdotool", "import"} {
		if _, err := exec.LookPath(p); err != nil {
			t.Skipf("%s is not installed", p)
		}
	}
	shots, err := filepath.Abs(filepath.Join("..", "..", "artefacts", t.Name()))
	require.NoError(t, err)
	require.NoError(t, os.MkdirAll(shots, 0o755))
	d := &desk{t: t, dir: t.TempDir(), shots: shots, log: &bytes.Buffer{}, ended: make(chan error, 1)}
	d.env = append(os.Environ(), "DISPLAY="+newScreen(t, width, height), "XDG_DATA_HOME="+d.dir, "LIBGL_ALWAYS_SOFTWARE=1")
	d.program = exec.Command(filepath.Join(programs(t), "drillbay"), args...)
	d.program.Env, d.program.Stderr, d.program.Stdout = d.env, d.log, d.log
	require.NoError(t, d.program.Start())
	go func() { d.ended <- d.program.Wait() }()
	t.Cleanup(func() { _ = d.program.Process.Kill() })
	d.until("the window is there", time.Minute, func() bool { return d.title() == "start" })
	d.until("the window is drawn", time.Minute, func() bool { return d.shot("1-start") > 20_000 })
	d.do("mousemove", fmt.Sprint(width/2), fmt.Sprint(height-30))
	d.do("search", "--name", "^drillbay", "windowfocus", "--sync")
	return d
}

// newScreen starts a screen of so many px that lasts as long as the test, and returns
// its name.
func newScreen(t *testing.T, width, height int) string {
	t.Helper()
	read, write, err := os.Pipe()
	require.NoError(t, err)
	screen := exec.Command("Xvfb", "-displayfd", "3", "-screen", "0", fmt.Sprintf("%dx%dx24", width, height), "-nolisten", "tcp")
	screen.ExtraFiles = []*os.File{write}
	require.NoError(t, screen.Start())
	write.Close()
	t.Cleanup(func() {
		_ = screen.Process.Signal(syscall.SIGTERM)
		_ = screen.Wait()
	})
	number, err := bufio.NewReader(read).ReadString('\n')
	require.NoError(t, err, "the screen does not start")
	return ":" + strings.TrimSpace(number)
}

// do works mouse and keys.
func (d *desk) do(args ...string) string {
	cmd := exec.Command("xdotool", args...)
	cmd.Env = d.env
	out, _ := cmd.Output()
	return strings.TrimSpace(string(out))
}

// title is the screen that the window is on, noted when it is another one.
func (d *desk) title() string {
	out := d.do("search", "--name", "^drillbay", "getwindowname")
	_, name, _ := strings.Cut(out, ": ")
	if n := len(d.titles); name != "" && (n == 0 || d.titles[n-1] != name) {
		d.titles = append(d.titles, name)
	}
	return name
}

// times counts how often a screen came up.
func (d *desk) times(name string) (n int) {
	for _, t := range d.titles {
		if t == name {
			n++
		}
	}
	return n
}

// until waits for something, looking ten times a second.
func (d *desk) until(what string, within time.Duration, ok func() bool) {
	d.t.Helper()
	tick := time.NewTicker(100 * time.Millisecond)
	defer tick.Stop()
	ctx, cancel := context.WithTimeout(context.Background(), within)
	defer cancel()
	for !ok() {
		select {
		case <-tick.C:
		case err := <-d.ended:
			d.t.Fatalf("%s: the window ended (%v): %s", what, err, d.log)
		case <-ctx.Done():
			d.shot("failed")
			d.t.Fatalf("%s: not within %v; the window is on %q after %v; %s", what, within, d.title(), d.titles, d.log)
		}
	}
}

// tap holds a key for as long as a finger does, 0.1 s.
func (d *desk) tap(key string) { d.do("keydown", key, "sleep", "0.1", "keyup", key) }

// press presses a key and waits for the screen that it leads to.
func (d *desk) press(key, leadsTo string) {
	d.t.Helper()
	d.tap(key)
	d.until(fmt.Sprintf("%s leads to %s", key, leadsTo), 20*time.Second, func() bool { return d.title() == leadsTo })
}

// file waits for a file of the user's, and returns its path.
func (d *desk) file(what string, path ...string) (found string) {
	d.t.Helper()
	d.until(what, 60*time.Second, func() bool {
		list, err := filepath.Glob(filepath.Join(append([]string{d.dir}, path...)...))
		require.NoError(d.t, err)
		if len(list) > 0 {
			found = list[0]
		}
		return found != ""
	})
	return found
}

// shot keeps a picture of the screen and returns its size in bytes: that of
// an empty screen is small.
func (d *desk) shot(name string) int64 {
	path := filepath.Join(d.shots, name+".png")
	cmd := exec.Command("import", "-window", "root", path)
	cmd.Env = d.env
	if out, err := cmd.CombinedOutput(); err != nil {
		d.t.Logf("no picture %s: %v %s", name, err, out)
		return 0
	}
	st, err := os.Stat(path)
	if err != nil {
		return 0
	}
	return st.Size()
}

// leave ends the window as a system does that shuts down.
func (d *desk) leave() {
	d.t.Helper()
	require.NoError(d.t, d.program.Process.Signal(syscall.SIGTERM))
	select {
	case err := <-d.ended:
		require.NoError(d.t, err, d.log.String())
	case <-time.After(30 * time.Second):
		d.t.Fatal("the window does not end")
	}
}
