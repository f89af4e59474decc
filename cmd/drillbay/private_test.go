//go:build linux

package main

import (
	"context"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"drillbay/cues/soundtest"
	"drillbay/drills/ledger"
)

// netTables are the system's tables of network sockets, by process (proc(5)).
// The sockets of display and sound are of another kind, in the table "unix".
var netTables = []string{"tcp", "tcp6", "udp", "udp6", "udplite", "udplite6", "raw", "raw6", "icmp", "icmp6", "packet", "sctp/eps"}

// networked are the network sockets that a process has open.
func networked(pid int) (out []string) {
	sockets := map[string]string{} // inode → table
	for _, table := range netTables {
		text, err := os.ReadFile(fmt.Sprintf("/proc/%d/net/%s", pid, table))
		if err != nil {
			continue
		}
		for _, row := range strings.Split(string(text), "\n")[1:] {
			for _, field := range strings.Fields(row) {
				if n, err := strconv.ParseUint(field, 10, 64); err == nil && n > 0 {
					sockets[field] = table
				}
			}
		}
	}
	for _, link := range opened(pid) {
		inode := strings.TrimSuffix(strings.TrimPrefix(link.to, "socket:["), "]")
		if table, ok := sockets[inode]; ok && strings.HasPrefix(link.to, "socket:[") {
			out = append(out, table+" "+inode)
		}
	}
	return out
}

type descriptor struct {
	to     string
	writes bool
}

// opened are the open files of a process.
func opened(pid int) (out []descriptor) {
	dir := fmt.Sprintf("/proc/%d/fd", pid)
	entries, _ := os.ReadDir(dir)
	for _, e := range entries {
		to, err := os.Readlink(filepath.Join(dir, e.Name()))
		if err != nil {
			continue
		}
		info, _ := os.ReadFile(fmt.Sprintf("/proc/%d/fdinfo/%s", pid, e.Name()))
		_, flags, _ := strings.Cut(string(info), "flags:")
		flags, _, _ = strings.Cut(strings.TrimSpace(flags), "\n")
		mode, _ := strconv.ParseInt(flags, 8, 64)
		out = append(out, descriptor{to, mode&3 != 0})
	}
	return out
}

// That the look at the tables finds a socket is shown by one of our own.
func TestANetworkSocketWouldBeSeen(t *testing.T) {
	require.Empty(t, networked(os.Getpid()))
	shut := openSocket(t)
	require.NotEmpty(t, networked(os.Getpid()))
	shut()
	require.Empty(t, networked(os.Getpid()))
}

// The window in a session, with sound and microphone, opens no network socket
// and writes nowhere but in its own folder; what it leaves is for the user
// alone.
func TestTheRunningProgramIsPrivate(t *testing.T) {
	if testing.Short() {
		t.Skip("a session in the window takes half a minute")
	}
	for _, name := range []string{"GOCACHE", "GOMODCACHE", "GOPATH"} { // the program is built once the home is another
		value, err := exec.Command("go", "env", name).Output()
		require.NoError(t, err)
		t.Setenv(name, strings.TrimSpace(string(value)))
	}
	server := soundtest.New(t)
	server.Start()
	server.Use(t)
	home := os.Getenv("HOME")
	d := newDesk(t, "--virtual", "--taps", "--size", "480x270", "--seed", "3")
	pid := d.program.Process.Pid
	looks := 0
	look := func() {
		looks++
		require.Empty(t, networked(pid))
		for _, f := range opened(pid) {
			inside := strings.HasPrefix(f.to, d.dir+"/drillbay/") || strings.HasPrefix(f.to, os.TempDir()+"/drillbay")
			system := !strings.HasPrefix(f.to, "/") || strings.HasPrefix(f.to, "/dev/") || strings.HasPrefix(f.to, "/memfd:") || strings.Contains(f.to, "mesa_shader_cache") || strings.HasSuffix(f.to, " (deleted)")
			require.True(t, !f.writes || inside || system, "it writes to %s", f.to)
		}
	}
	d.press("Return", "new player")
	d.do("type", "--delay", "200", "Zebulon")
	d.tap("Return")
	d.press("Return", "caution")
	look()
	d.shot("2-cautions")
	d.press("Return", "check")
	for range 3 {
		d.tap("Return") // a line of the list each
	}
	d.press("Return", "practice")
	l, err := ledger.Open(filepath.Join(d.dir, "drillbay", ledger.FileName))
	require.NoError(t, err)
	defer l.Close()
	ctx := context.Background()
	d.until("two reps are stored", 2*time.Minute, func() bool {
		look()
		reps, err := l.Reps(ctx, ledger.Which{})
		require.NoError(t, err)
		return len(reps) >= 2
	})
	plays, listens := server.Used()
	require.True(t, plays, "sound was on")
	require.True(t, listens, "and the microphone")
	d.leave()
	t.Logf("%d looks at the open files of the program", looks)

	for _, root := range []string{d.dir, home} {
		require.NoError(t, filepath.WalkDir(root, func(path string, e fs.DirEntry, err error) error {
			if err != nil || path == root {
				return err
			}
			rel, _ := filepath.Rel(root, path)
			if root == home {
				// The sound system's own, the graphics driver's, and the compiler's.
				require.Regexp(t, `^(\.asoundrc|go(/.*)?|\.?(config/)?pulse.*|[0-9a-f]{32}-.*|\.cache(/mesa.*)?|\.config|\.esd_auth)$`, rel)
				return nil
			}
			info, err := e.Info()
			require.NoError(t, err)
			want := fs.FileMode(0o600)
			if e.IsDir() {
				want = 0o700
			}
			require.Equal(t, want, info.Mode().Perm(), rel)
			return nil
		}))
	}
	// A player who is deleted is nowhere in the files.
	players, err := l.Players(ctx)
	require.NoError(t, err)
	require.Len(t, players, 1)
	require.NotEmpty(t, containing(t, d.dir, "Zebulon"))
	_, err = l.DeletePlayer(ctx, players[0].ID)
	require.NoError(t, err)
	require.Empty(t, containing(t, d.dir, "Zebulon"))
	require.NoError(t, l.Close())
	require.Empty(t, containing(t, d.dir, "Zebulon"))
	require.Empty(t, containing(t, d.dir, players[0].ID))
}

// containing are the files below a folder in which a text is, or whose names
// have it.
func containing(t *testing.T, root, text string) (out []string) {
	t.Helper()
	require.NoError(t, filepath.WalkDir(root, func(path string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		b, err := os.ReadFile(path)
		if err == nil && (strings.Contains(string(b), text) || strings.Contains(path, text)) {
			out = append(out, path)
		}
		return err
	}))
	return out
}
