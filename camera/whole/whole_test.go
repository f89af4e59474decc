package whole

import (
	"errors"
	"io"
	"io/fs"
	"net"
	"os"
	"path/filepath"
	"runtime"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

func names(t *testing.T, folder string) (out []string) {
	t.Helper()
	entries, err := os.ReadDir(folder)
	require.NoError(t, err)
	for _, e := range entries {
		out = append(out, e.Name())
	}
	return out
}

func TestAFileAppearsOnceItIsWhole(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "a.txt")
	require.NoError(t, os.WriteFile(path, []byte("old"), 0o600))
	require.NoError(t, Write(path, func(w io.Writer) error {
		_, err := w.Write([]byte("new"))
		old, _ := os.ReadFile(path)
		require.Equal(t, "old", string(old), "not there yet")
		return err
	}))
	got, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Equal(t, "new", string(got))
	require.Equal(t, []string{"a.txt"}, names(t, folder))
	if runtime.GOOS != "windows" {
		st, err := os.Stat(path)
		require.NoError(t, err)
		require.Equal(t, fs.FileMode(0o600), st.Mode().Perm())
	}
}

func TestWhatFailsLeavesNothing(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "a.txt")
	full := errors.New("the disk is full")
	require.ErrorIs(t, Write(path, func(w io.Writer) error {
		_, _ = w.Write([]byte("half"))
		return full
	}), full)
	require.Empty(t, names(t, folder))
	f, err := Create(path)
	require.NoError(t, err)
	f.Drop()
	require.Empty(t, names(t, folder))
	err = Write(filepath.Join(folder, "nowhere", "a.txt"), func(io.Writer) error { return nil })
	require.ErrorIs(t, err, fs.ErrNotExist)
	require.NotContains(t, err.Error(), folder, "the caller names the file")
	// A folder in its place: the name cannot be given.
	require.NoError(t, os.MkdirAll(filepath.Join(path, "in it"), 0o700))
	require.Error(t, Write(path, func(io.Writer) error { return nil }))
	require.Equal(t, []string{"a.txt"}, names(t, folder))
}

// What a killed program was writing is removed by the next that writes there,
// an hour later; nothing else is.
func TestWhatWasNeverFinishedIsRemoved(t *testing.T) {
	folder := t.TempDir()
	f, err := Create(filepath.Join(folder, "a.avi"))
	require.NoError(t, err)
	require.NoError(t, f.Close()) // killed
	half := filepath.Base(f.Name())
	long := time.Now().Add(-2 * time.Hour)
	mine := filepath.Join(folder, ".a.avi")
	require.NoError(t, os.WriteFile(mine, nil, 0o600))
	require.NoError(t, os.Chtimes(mine, long, long))
	write := func() {
		require.NoError(t, Write(filepath.Join(folder, "b.txt"), func(io.Writer) error { return nil }))
	}
	write()
	require.ElementsMatch(t, []string{half, ".a.avi", "b.txt"}, names(t, folder))
	require.NoError(t, os.Chtimes(f.Name(), long, long))
	write()
	require.ElementsMatch(t, []string{".a.avi", "b.txt"}, names(t, folder))
}

// A pipe to which nobody writes would keep a reader for ever, and what is
// renamed over a device is no device any more.
func TestOnlyFilesAreReadAndWritten(t *testing.T) {
	folder := t.TempDir()
	none := func(io.Writer) error { return nil }
	require.ErrorIs(t, Write(folder, none), ErrNoFile)
	_, err := Open(folder)
	require.ErrorIs(t, err, ErrNoFile)
	_, err = Open(filepath.Join(folder, "none"))
	require.ErrorIs(t, err, fs.ErrNotExist)
	if runtime.GOOS == "windows" {
		return
	}
	pipe, err := net.ListenUnix("unix", &net.UnixAddr{Name: filepath.Join(folder, "p"), Net: "unix"})
	require.NoError(t, err)
	defer pipe.Close()
	require.ErrorIs(t, Write(filepath.Join(folder, "p"), none), ErrNoFile)
	require.ErrorIs(t, Write(os.DevNull, none), ErrNoFile)
	_, err = Open(os.DevNull)
	require.ErrorIs(t, err, ErrNoFile)

	link, far := filepath.Join(folder, "link"), filepath.Join(t.TempDir(), "far")
	require.NoError(t, os.WriteFile(far, []byte("old"), 0o600))
	require.NoError(t, os.Symlink(far, link))
	require.NoError(t, Write(link, func(w io.Writer) error { _, err := io.WriteString(w, "new"); return err }))
	got, err := os.ReadFile(far)
	require.NoError(t, err)
	require.Equal(t, "new", string(got), "through the link, which stays")
}
