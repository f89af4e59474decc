//go:build linux

package ledger

import (
	"bytes"
	"context"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"syscall"
	"testing"

	"github.com/stretchr/testify/require"
)

// A disk that is full while a player is brought back loses nothing: it is told,
// and once there is room she comes back whole. The disk is a real one, small.
func TestAnUndoOnAFullDisk(t *testing.T) {
	dir := t.TempDir()
	if out, err := exec.Command("mount", "-t", "tmpfs", "-o", "size=4m", "tmpfs", dir).CombinedOutput(); err != nil {
		t.Skipf("no small disk can be mounted here: %s", out)
	}
	t.Cleanup(func() { _ = exec.Command("umount", "-l", dir).Run() })
	ctx := context.Background()
	l := opened(t, filepath.Join(dir, "book", FileName))
	for n := 1; n <= 30; n++ {
		save(t, l, record("Marta", n), record("Ben", n))
	}
	before := exported(t, l, "")
	ballast := filepath.Join(dir, "ballast")
	fill := func() {
		f, err := os.Create(ballast)
		require.NoError(t, err)
		defer f.Close()
		for err == nil {
			_, err = f.Write(bytes.Repeat([]byte{1}, 4096))
		}
		require.ErrorIs(t, err, syscall.ENOSPC)
	}
	refused := 0
	for range 10 {
		_, err := l.Leave(ctx, id("Marta"))
		require.NoError(t, err)
		fill()
		if err := l.Stay(ctx, id("Marta")); err != nil {
			refused++
			require.True(t, errors.Is(err, ErrFull), err)
			require.NotContains(t, exported(t, l, ""), "Marta", "she is deleted still, as was told")
			require.NoError(t, os.Remove(ballast))
			require.NoError(t, l.Stay(ctx, id("Marta")))
		} else {
			require.NoError(t, os.Remove(ballast))
		}
		require.Equal(t, before, exported(t, l, ""), "all of her is back")
		require.NoError(t, l.Check(ctx))
	}
	require.Positive(t, refused, "the disk was full")
	t.Logf("%d of 10 undos were refused by the full disk", refused)
}
