package ledger

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"drillbay/drills"

	"github.com/stretchr/testify/require"
)

// keptTwice is a ledger with two clips of one rep of Marta's.
func keptTwice(t *testing.T) (*Ledger, []Clip) {
	l := full(t, "Marta")
	ctx := context.Background()
	var out []Clip
	for range 2 {
		c, err := l.KeepClip(ctx, record("Marta", 1).ID, drills.NoView, "avi", strings.NewReader("pictures"))
		require.NoError(t, err)
		out = append(out, c)
	}
	return l, out
}

func files(t *testing.T, l *Ledger) (out []string) {
	entries, err := os.ReadDir(l.ClipFolder())
	require.NoError(t, err)
	for _, e := range entries {
		out = append(out, e.Name())
	}
	return out
}

func listed(t *testing.T, l *Ledger) (out []string) {
	clips, err := l.Clips(context.Background(), id("Marta"))
	require.NoError(t, err)
	for _, c := range clips {
		require.False(t, c.Missing, c.File)
		out = append(out, c.File)
	}
	return out
}

// dry gives a little and then fails, as a disk does that is taken out.
type dry struct{ left int }

func (d *dry) Read(p []byte) (int, error) {
	if d.left == 0 {
		return 0, errors.New("the stick was taken out")
	}
	d.left--
	return copy(p, "pict"), nil
}

// Clips of one rep are numbered from the second on, and one that does not come whole
// is an error and leaves nothing.
func TestClipsOfARepAreNumberedAndWhole(t *testing.T) {
	l, clips := keptTwice(t)
	require.Regexp(t, `-rep-1-2\.avi$`, clips[0].File, "one was kept before")
	require.Regexp(t, `-rep-1-3\.avi$`, clips[1].File)
	require.Contains(t, listed(t, l), strings.Replace(clips[0].File, "-2.avi", ".avi", 1))
	_, err := l.KeepClip(context.Background(), record("Marta", 1).ID, drills.NoView, "avi", &dry{3})
	require.ErrorContains(t, err, "taken out")
	require.Len(t, listed(t, l), 3)
	require.ElementsMatch(t, listed(t, l), files(t, l))
}

func TestAClipIsRenamedWithItsFile(t *testing.T) {
	l, clips := keptTwice(t)
	ctx := context.Background()
	got, err := l.RenameClip(ctx, clips[0].ID, "  Marta, catch ")
	require.Error(t, err, "a comma is in no name")
	require.Empty(t, got)
	got, err = l.RenameClip(ctx, clips[0].ID, "  Marta  first catch ")
	require.NoError(t, err)
	require.Equal(t, "Marta first catch.avi", got)
	require.Contains(t, listed(t, l), got)
	require.ElementsMatch(t, listed(t, l), files(t, l))
	_, err = l.RenameClip(ctx, clips[1].ID, "marta FIRST catch")
	require.ErrorContains(t, err, "already")
	for _, bad := range []string{"", "../out", "a/b", "con\x00", strings.Repeat("x", 300), ".hidden"} {
		_, err = l.RenameClip(ctx, clips[0].ID, bad)
		require.Error(t, err, "%q", bad)
	}
	_, err = l.RenameClip(ctx, id("nobody"), "x")
	require.ErrorIs(t, err, ErrUnknown)
	require.Contains(t, listed(t, l), got, "all the refusals changed nothing")

	// The file is gone: the ledger keeps the name that it had.
	require.NoError(t, os.Remove(filepath.Join(l.ClipFolder(), clips[1].File)))
	_, err = l.RenameClip(ctx, clips[1].ID, "second")
	require.Error(t, err)
	all, err := l.Clips(ctx, id("Marta"))
	require.NoError(t, err)
	names := []string{}
	for _, c := range all {
		names = append(names, c.File)
	}
	require.Contains(t, names, clips[1].File)
}

// What lies in the folder is always listed, and goes with the player: also
// where the program was killed while a clip got another name.
func TestARenamingThatWasKilledIsEnded(t *testing.T) {
	l, clips := keptTwice(t)
	ctx := context.Background()
	got, err := l.RenameClip(ctx, clips[0].ID, "first")
	require.NoError(t, err)
	// As it is on the disk between the two steps.
	require.NoError(t, os.Rename(filepath.Join(l.ClipFolder(), got), filepath.Join(l.ClipFolder(), clips[0].File)))
	require.NoError(t, l.PutSetting(ctx, renamingKey+clips[0].ID, clips[0].File))
	path := l.path
	require.NoError(t, l.Close())
	l = opened(t, path)
	require.Contains(t, listed(t, l), "first.avi")
	require.NotContains(t, files(t, l), clips[0].File)
	left, err := l.Setting(ctx, renamingKey+clips[0].ID)
	require.NoError(t, err)
	require.Empty(t, left)
}

func TestOneClipIsDeleted(t *testing.T) {
	l, clips := keptTwice(t)
	ctx := context.Background()
	require.NoError(t, l.DeleteClip(ctx, clips[0].ID))
	require.NotContains(t, files(t, l), clips[0].File)
	require.Contains(t, listed(t, l), clips[1].File)
	require.NotContains(t, exported(t, l, ""), clips[0].File)
	require.ErrorIs(t, l.DeleteClip(ctx, clips[0].ID), ErrUnknown)
}
