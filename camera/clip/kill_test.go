package clip

import (
	"bufio"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

const clipLength = 12 // pictures

// TestHelperWrites is no test: it writes one clip after the other, and is
// killed.
func TestHelperWrites(t *testing.T) {
	dir := os.Getenv("DRILLBAY_TEST_CLIPS")
	if dir == "" {
		t.Skip("a helper of TestAKilledWriterLeavesNoHalfClip")
	}
	for n := 0; ; n++ {
		w, err := NewWriter(filepath.Join(dir, fmt.Sprintf("%04d.avi", n)), 64, 48, 25)
		require.NoError(t, err)
		for i := range clipLength {
			require.NoError(t, w.Add(painted(i, true)))
		}
		require.NoError(t, w.Close())
		fmt.Println("written", n)
	}
}

// A program that is killed while it writes clips leaves every clip that has
// its name whole. DRILLBAY_KILLS says how often.
func TestAKilledWriterLeavesNoHalfClip(t *testing.T) {
	kills := 10
	if n, err := strconv.Atoi(os.Getenv("DRILLBAY_KILLS")); err == nil {
		kills = n
	}
	whole, half := 0, 0
	for seed := range uint64(kills) {
		random := rand.New(rand.NewPCG(seed, 31))
		dir := t.TempDir()
		helper := exec.Command(os.Args[0], "-test.run=^TestHelperWrites$")
		helper.Env = append(os.Environ(), "DRILLBAY_TEST_CLIPS="+dir)
		out, err := helper.StdoutPipe()
		require.NoError(t, err)
		require.NoError(t, helper.Start())
		after, delay := random.IntN(5), time.Duration(random.IntN(3000))*time.Microsecond
		told := 0
		for lines := bufio.NewScanner(out); lines.Scan(); told++ {
			if told == after {
				time.AfterFunc(delay, func() { _ = helper.Process.Kill() })
			}
		}
		require.Error(t, helper.Wait(), "it was killed")
		named, err := filepath.Glob(filepath.Join(dir, "*.avi"))
		require.NoError(t, err)
		require.GreaterOrEqual(t, len(named), told-1)
		for _, path := range named {
			info, pics := readAll(t, path)
			require.Equal(t, clipLength, info.Frames, "seed %d: %s", seed, path)
			require.Len(t, pics, clipLength)
			whole++
		}
		rest, err := filepath.Glob(filepath.Join(dir, ".*"))
		require.NoError(t, err)
		half += len(rest)
	}
	t.Logf("%d kills: %d clips under their names, all whole; %d were being written and have another", kills, whole, half)
	require.Positive(t, whole)
	if kills > 1 {
		require.Positive(t, half, "no kill came while a clip was written")
	}
}
