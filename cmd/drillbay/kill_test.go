//go:build !windows

package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"image/jpeg"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync/atomic"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"drillbay/camera/clip"
	"drillbay/drills/ledger"
)

// place is a rep by its rung and its number in the set.
type place struct{ rung, number int }

// announced reads the reps that a session printed.
func announced(line string) (place, bool) {
	f := strings.Fields(line)
	if len(f) < 3 {
		return place{}, false
	}
	rung, err1 := strconv.Atoi(f[0])
	number, err2 := strconv.Atoi(f[1])
	return place{rung, number}, err1 == nil && err2 == nil
}

// A session killed at any moment has every rep that it announced on the disk,
// once, in a sound ledger, and leaves no half-written file under its name.
func TestKilledSessionsLoseNothingTheyAnnounced(t *testing.T) {
	t.Parallel() // it waits more than it works
	kills := 10
	if os.Getenv("DRILLBAY_LONG") != "" {
		kills = 40
	}
	if n, err := strconv.Atoi(os.Getenv("DRILLBAY_KILLS")); err == nil {
		kills = n
	}
	if testing.Short() {
		kills = 2
	}
	program := built(t)
	const lanes = 2 // sessions at a time
	var told, early, clips atomic.Int64
	t.Run("", func(t *testing.T) {
		for lane := range lanes {
			t.Run(strconv.Itoa(lane), func(t *testing.T) {
				t.Parallel()
				for seed := uint64(lane); seed < uint64(kills); seed += lanes {
					dir := filepath.Join(t.TempDir(), "out")
					list := killed(t, program, dir, seed)
					told.Add(int64(len(list)))
					if len(list) == 0 {
						early.Add(1)
					}
					checkLeft(t, dir, list, seed)
					if _, err := os.Stat(filepath.Join(dir, "rep.avi")); err == nil {
						clips.Add(1)
					}
					if seed%20 < lanes {
						saysThatItWasEnded(t, program, dir, len(list) > 0)
					}
				}
			})
		}
	})
	t.Logf("%d kills, %d of them before the first rep, %d reps announced, none lost; %d clips, all whole", kills, early.Load(), told.Load(), clips.Load())
	require.Greater(t, int(told.Load()), kills, "the kills came too early to show anything")
}

// saysThatItWasEnded starts a killed session's program again: it says so, in
// a sentence, and goes on. One that died before it had a ledger may not.
func saysThatItWasEnded(t *testing.T, program, dir string, must bool) {
	t.Helper()
	s := practise(t, program, dir, 1, 0).start().until(1)
	require.NoError(t, s.cmd.Process.Signal(syscall.SIGTERM))
	s.end()
	require.Zero(t, s.code, s.problems.String())
	require.NotEmpty(t, s.told)
	if said := s.problems.String(); must || said != "" {
		require.Equal(t, "drillbay: "+ledger.Left.Sentence()+"\n", said)
	}
}

// built is the program.
func built(t *testing.T) string { return filepath.Join(programs(t), "drillbay") }

// killed runs a session, kills it at a moment that the seed decides, and
// returns what it had announced.
func killed(t *testing.T, program, dir string, seed uint64) (list []place) {
	t.Helper()
	random := rand.New(rand.NewPCG(seed, 77))
	cmd := exec.Command(program, "demo", "--headless", "--size", "320x180", "--out", dir, "--seed", fmt.Sprint(seed+1))
	read, err := cmd.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, cmd.Start())
	// Some die by the clock, most some moment after a rep was announced.
	after, delay := random.IntN(5), time.Duration(random.IntN(600))*time.Millisecond
	kill := func() { _ = cmd.Process.Kill() }
	if after == 0 {
		time.AfterFunc(delay, kill)
	}
	for lines := bufio.NewScanner(read); lines.Scan(); {
		if p, ok := announced(lines.Text()); ok {
			if list = append(list, p); len(list) == after {
				time.AfterFunc(delay, kill)
			}
		}
	}
	_ = cmd.Wait()
	return list
}

// checkLeft looks at what a killed session left.
func checkLeft(t *testing.T, dir string, list []place, seed uint64) {
	t.Helper()
	path := filepath.Join(dir, ledger.FileName)
	if _, err := os.Stat(path); errors.Is(err, os.ErrNotExist) {
		require.Empty(t, list, "seed %d: announced, and no ledger", seed)
		return
	}
	l, err := ledger.Open(path)
	require.NoError(t, err, "seed %d", seed)
	defer l.Close()
	ctx := context.Background()
	require.NoError(t, l.Check(ctx), "seed %d", seed)
	reps, err := l.Reps(ctx, ledger.Which{})
	require.NoError(t, err)
	kept := map[place]int{}
	for _, r := range reps {
		kept[place{r.Rung, r.Rep.Number}]++
	}
	for _, p := range list {
		kept[p]--
		require.GreaterOrEqual(t, kept[p], 0, "seed %d: rep %d of rung %d was announced and is not kept", seed, p.number, p.rung)
	}
	// At most the one that was being announced is there unannounced.
	require.LessOrEqual(t, len(reps)-len(list), 1, "seed %d: %d kept, %d announced", seed, len(reps), len(list))
	checkFiles(t, dir, seed)
}

// checkFiles reads every file that has its final name.
func checkFiles(t *testing.T, dir string, seed uint64) {
	t.Helper()
	pictures, err := filepath.Glob(filepath.Join(dir, "pictures", "*.jpg"))
	require.NoError(t, err)
	for _, path := range pictures {
		f, err := os.Open(path)
		require.NoError(t, err)
		_, err = jpeg.Decode(f)
		require.NoError(t, err, "seed %d: %s", seed, path)
		require.NoError(t, f.Close())
	}
	path := filepath.Join(dir, "rep.avi")
	if _, err := os.Stat(path); err != nil {
		return
	}
	r, err := clip.Open(path, 0, nil)
	require.NoError(t, err, "seed %d", seed)
	defer r.Close()
	n := 0
	for ; ; n++ {
		p, err := r.Next()
		if errors.Is(err, io.EOF) {
			break
		}
		require.NoError(t, err, "seed %d", seed)
		p.Release()
	}
	require.Equal(t, r.Info().Frames, n)
	require.Greater(t, n, 10)
}
