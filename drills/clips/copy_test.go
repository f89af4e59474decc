//go:build linux

package clips

import (
	"os"
	"path/filepath"
	"syscall"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/sys/unix"
)

// aClip is a file that stands for a kept clip.
func aClip(t *testing.T, text string) string {
	path := filepath.Join(t.TempDir(), "Marta-rep-7.avi")
	require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
	return path
}

func names(t *testing.T, folder string) (out []string) {
	entries, err := os.ReadDir(folder)
	require.NoError(t, err)
	for _, e := range entries {
		out = append(out, e.Name())
	}
	return out
}

func TestACopyIsSavedElsewhere(t *testing.T) {
	clip, drive := aClip(t, "pictures"), t.TempDir()
	to, err := Copy(clip, drive, false)
	require.NoError(t, err)
	require.Equal(t, filepath.Join(drive, "Marta-rep-7.avi"), to)
	text, err := os.ReadFile(to)
	require.NoError(t, err)
	require.Equal(t, "pictures", string(text))

	home := t.TempDir()
	t.Setenv("HOME", home)
	to, err = Copy(clip, " ~ ", false)
	require.NoError(t, err)
	require.Equal(t, home, filepath.Dir(to))
}

// What is there is replaced only by somebody who said so.
func TestACopyReplacesNothingUnasked(t *testing.T) {
	clip, drive := aClip(t, "new"), t.TempDir()
	there := filepath.Join(drive, "Marta-rep-7.avi")
	require.NoError(t, os.WriteFile(there, []byte("old"), 0o600))
	_, err := Copy(clip, drive, false)
	require.ErrorIs(t, err, ErrThere)
	text, _ := os.ReadFile(there)
	require.Equal(t, "old", string(text))
	_, err = Copy(clip, drive, true)
	require.NoError(t, err)
	text, _ = os.ReadFile(there)
	require.Equal(t, "new", string(text))

	_, err = Copy(clip, filepath.Dir(clip), true)
	require.ErrorContains(t, err, "is the clip itself")
	text, _ = os.ReadFile(clip)
	require.Equal(t, "new", string(text))
}

// A folder is made only by somebody who said so.
func TestACopyMakesNoFolderUnasked(t *testing.T) {
	clip, folder := aClip(t, "new"), filepath.Join(t.TempDir(), "Ben")
	_, err := Copy(clip, folder, false)
	require.ErrorIs(t, err, ErrNoFolder)
	require.NoDirExists(t, folder)
	to, err := Copy(clip, folder, true)
	require.NoError(t, err)
	require.Equal(t, folder, filepath.Dir(to))
}

func TestACopyThatCannotBeSavedSaysWhyAndLeavesNothing(t *testing.T) {
	clip, drive := aClip(t, "pictures"), t.TempDir()
	for folder, want := range map[string]string{
		"":                                   "name the folder",
		filepath.Join(drive, "away", "deep"): "there is no folder " + drive + "/away/deep",
		clip:                                 "is a file: name a folder",
	} {
		_, err := Copy(clip, folder, false)
		require.ErrorContains(t, err, want)
	}
	_, err := Copy(filepath.Join(drive, "gone.avi"), t.TempDir(), false)
	require.ErrorContains(t, err, "is not there any more")
	require.Empty(t, names(t, drive))
	for errno, want := range map[syscall.Errno]string{syscall.ENOSPC: "it is full", syscall.EROFS: "can only be read", syscall.EACCES: "may not write", syscall.EIO: "does not answer"} {
		require.ErrorContains(t, inWords(&os.PathError{Op: "write", Path: "x", Err: errno}), want)
	}
}

// A drive that is too small, or that can only be read, is told in words, and no half of a
// clip is left on it. It takes a drive of its own: without the right to mount one it is skipped.
func TestACopyToAFullOrAReadOnlyDrive(t *testing.T) {
	drive := t.TempDir()
	if err := unix.Mount("tmpfs", drive, "tmpfs", 0, "size=64k"); err != nil {
		t.Skip("no drive can be mounted here: ", err)
	}
	t.Cleanup(func() { _ = unix.Unmount(drive, 0) })
	big := aClip(t, string(make([]byte, 1<<20)))
	_, err := Copy(big, drive, false)
	require.EqualError(t, err, "no copy was saved to "+drive+": it is full. Make room there, or name another folder")
	require.Empty(t, names(t, drive))

	old := filepath.Join(drive, filepath.Base(big))
	require.NoError(t, os.WriteFile(old, []byte("old"), 0o600))
	_, err = Copy(big, drive, true)
	require.ErrorContains(t, err, "it is full")
	text, _ := os.ReadFile(old)
	require.Equal(t, "old", string(text), "what was to be replaced is still there")
	require.Len(t, names(t, drive), 1)

	require.NoError(t, os.Remove(old))
	require.NoError(t, unix.Mount("", drive, "", unix.MS_REMOUNT|unix.MS_RDONLY, ""))
	_, err = Copy(aClip(t, "small"), drive, false)
	require.ErrorContains(t, err, "it can only be read")
	require.Empty(t, names(t, drive))
}
