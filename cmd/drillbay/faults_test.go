//go:build !windows

package main

import (
	"bufio"
	"context"
	"database/sql"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"drillbay/drills/ledger"
)

// session is a session without a window that a test spoils.
type session struct {
	t        *testing.T
	cmd      *exec.Cmd
	lines    *bufio.Scanner
	told     []place
	last     string // line
	problems said
	code     int
}

// said collects what a session says of problems; it may be read while it grows.
type said struct {
	mu   sync.Mutex
	text strings.Builder
}

func (s *said) Write(p []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.text.Write(p)
}

func (s *said) String() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.text.String()
}

// practise prepares a session of three drills, some reps each, that leaves all in
// a folder.
func practise(t *testing.T, program, dir string, reps int, seed uint64) *session {
	t.Helper()
	s := &session{t: t}
	s.cmd = exec.Command(program, "demo", "--headless", "--size", "320x180", "--reps", strconv.Itoa(reps), "--out", dir, "--seed", fmt.Sprint(seed+1))
	s.cmd.Stderr = &s.problems
	return s
}

func (s *session) start() *session {
	s.t.Helper()
	read, err := s.cmd.StdoutPipe()
	require.NoError(s.t, err)
	require.NoError(s.t, s.cmd.Start())
	s.lines = bufio.NewScanner(read)
	return s
}

// until reads what the session says until so many reps are told, or its end.
func (s *session) until(reps int) *session {
	for len(s.told) < reps && s.lines.Scan() {
		s.last = s.lines.Text()
		if p, ok := announced(s.last); ok {
			s.told = append(s.told, p)
		}
	}
	return s
}

// end waits for the session's end. What it said of problems is a sentence, and
// no panic.
func (s *session) end() *session {
	s.t.Helper()
	s.until(1 << 30)
	_ = s.cmd.Wait()
	s.code = s.cmd.ProcessState.ExitCode()
	require.NotContains(s.t, s.problems.String(), "panic")
	require.NotContains(s.t, s.problems.String(), "goroutine ")
	return s
}

// seeds are those of n sessions; DRILLBAY_LONG=1 takes four times as many.
func seeds(t *testing.T, n int) []uint64 {
	t.Helper()
	if testing.Short() {
		n = 1
	}
	if os.Getenv("DRILLBAY_LONG") != "" {
		n *= 4
	}
	out := make([]uint64, n)
	for i := range out {
		out[i] = uint64(i)
	}
	return out
}

func TestATerminatedSessionStopsCleanly(t *testing.T) {
	program := built(t)
	for _, seed := range seeds(t, 3) {
		dir := filepath.Join(t.TempDir(), "out")
		s := practise(t, program, dir, 2, seed).start()
		random := rand.New(rand.NewPCG(seed, 3))
		s.until(1 + random.IntN(4))
		require.NoError(t, s.cmd.Process.Signal(syscall.SIGTERM))
		s.end()
		require.Zero(t, s.code, s.problems.String())
		require.Equal(t, "Stopped early: every rep that was told is in the ledger.", s.last)
		checkLeft(t, dir, s.told, seed)
	}
}

// On a disk that fills up, what was told is kept, the rest is told to be lost,
// and no half clip has its name.
func TestADiskThatFillsUp(t *testing.T) {
	t.Parallel() // it waits more than it works
	program := built(t)
	for _, seed := range seeds(t, 2) {
		kilobytes := 180 + rand.New(rand.NewPCG(seed, 5)).IntN(250)
		dir, limited := smallDisk(t, kilobytes)
		s := practise(t, program, filepath.Join(dir, "out"), 1, seed)
		if limited != nil {
			limited(s.cmd, kilobytes)
		}
		s.start().end()
		t.Logf("%d kB: %d told, status %d: %s", kilobytes, len(s.told), s.code, firstLine(s.problems.String()))
		require.NotZero(t, s.code)
		require.Regexp(t, `(?i)disk|space|full|too large`, s.problems.String())
		copied := t.TempDir() // reading a ledger needs some room as well
		if out, err := exec.Command("cp", "-a", filepath.Join(dir, "out")+"/.", copied).CombinedOutput(); err != nil {
			require.Empty(t, s.told, string(out))
			continue
		}
		checkLeft(t, copied, s.told, seed)
	}
}

// smallDisk is a folder with room for so much: a file system of its own, or,
// where that may not be mounted, a limit on the size of each file.
func smallDisk(t *testing.T, kilobytes int) (dir string, limit func(*exec.Cmd, int)) {
	t.Helper()
	dir = t.TempDir()
	if exec.Command("mount", "-t", "tmpfs", "-o", fmt.Sprintf("size=%dk", kilobytes), "tmpfs", dir).Run() == nil {
		t.Cleanup(func() { _ = exec.Command("umount", "-l", dir).Run() })
		return dir, nil
	}
	t.Log("mounting is refused: the size of files is limited instead")
	return dir, func(cmd *exec.Cmd, kilobytes int) {
		line := fmt.Sprintf("ulimit -f %d; exec \"$@\"", kilobytes) // blocks of 1 kB or 512 bytes
		cmd.Args = append([]string{"sh", "-c", line, "sh", cmd.Path}, cmd.Args[1:]...)
		cmd.Path = "/bin/sh"
	}
}

func firstLine(s string) string { line, _, _ := strings.Cut(s, "\n"); return line }

// A user who may not write there is told so.
func TestWhereNothingMayBeWritten(t *testing.T) {
	program := built(t)
	dir := t.TempDir()
	for p := dir; p != "/" && p != os.TempDir(); p = filepath.Dir(p) {
		require.NoError(t, os.Chmod(p, 0o755))
	}
	require.NoError(t, os.Chmod(filepath.Dir(program), 0o755))
	l, err := ledger.Open(filepath.Join(dir, "kept", ledger.FileName))
	require.NoError(t, err)
	require.NoError(t, l.Close())
	require.NoError(t, os.Chmod(filepath.Join(dir, "kept"), 0o555))
	require.NoError(t, os.Chmod(filepath.Join(dir, "kept", ledger.FileName), 0o444))
	for _, out := range []string{"kept", "new"} {
		s := practise(t, program, filepath.Join(dir, out), 1, 1)
		if os.Geteuid() == 0 {
			s.cmd.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: 65534, Gid: 65534}}
		} else if out == "new" {
			require.NoError(t, os.Chmod(dir, 0o555))
		}
		s.start().end()
		t.Log(strings.TrimSpace(s.problems.String()))
		require.NotZero(t, s.code)
		require.Empty(t, s.told)
		require.Regexp(t, `cannot be (written|made)`, s.problems.String())
	}
	require.NoError(t, os.Chmod(filepath.Join(dir, "kept"), 0o700))
}

// While another program holds the ledger, a rep waits; one that waits too long
// is told to be, and is stored when the ledger is free again.
func TestALedgerThatAnotherProgramHolds(t *testing.T) {
	program := built(t)
	for _, seed := range seeds(t, 2) {
		toldOf := seed%2 == 1
		dir := filepath.Join(t.TempDir(), "out")
		s := practise(t, program, dir, 1, seed).start()
		s.until(1 + rand.New(rand.NewPCG(seed, 6)).IntN(2))
		held := len(s.told)
		db, err := sql.Open("sqlite", filepath.Join(dir, ledger.FileName))
		require.NoError(t, err)
		db.SetMaxOpenConns(1)
		_, err = db.Exec("PRAGMA busy_timeout = 5000")
		require.NoError(t, err)
		_, err = db.Exec("BEGIN IMMEDIATE")
		require.NoError(t, err)
		go func() {
			look := time.NewTicker(50 * time.Millisecond)
			defer look.Stop()
			for n := 0; n < 20 || toldOf && n < 1200 && s.problems.String() == ""; n++ { // a second, or until it is told
				<-look.C
			}
			_, _ = db.Exec("ROLLBACK")
			_ = db.Close()
		}()
		s.end()
		t.Logf("%d told; %s", len(s.told), firstLine(s.problems.String()))
		require.Zero(t, s.code, s.problems.String())
		require.Greater(t, len(s.told), held, "it went on")
		if toldOf {
			require.Contains(t, s.problems.String(), "held by another program")
		}
		checkLeft(t, dir, s.told, seed)
	}
}

// Two sessions with one ledger at the same time: it has the reps of both, and
// the second one says that there is another.
func TestTwoInstances(t *testing.T) {
	program := built(t)
	for _, seed := range seeds(t, 1) {
		dir := filepath.Join(t.TempDir(), "out")
		a := practise(t, program, dir, 1, 2*seed+4).start().until(1 + rand.New(rand.NewPCG(seed, 8)).IntN(2))
		b := practise(t, program, dir, 1, 2*seed+5).start()
		b.end()
		a.end()
		for _, s := range []*session{a, b} {
			require.Zero(t, s.code, s.problems.String())
		}
		require.Empty(t, a.problems.String())
		require.Equal(t, "drillbay: "+ledger.Shared.Sentence()+"\n", b.problems.String())
		checkLeft(t, dir, append(a.told, b.told...), seed)
		l, err := ledger.Open(filepath.Join(dir, ledger.FileName))
		require.NoError(t, err)
		reps, err := l.Reps(context.Background(), ledger.Which{})
		require.NoError(t, err)
		require.Len(t, reps, len(a.told)+len(b.told))
		require.NoError(t, l.Close())
	}
}
