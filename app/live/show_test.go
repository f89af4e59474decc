package live

import (
	"context"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/require"

	"drillbay/app"
	"drillbay/drills"
	"drillbay/drills/book"
	"drillbay/drills/ledger"
)

// Without a program that shows folders it is said where the clip is.
func TestAClipIsShownInItsFolder(t *testing.T) {
	bin, seen := t.TempDir(), filepath.Join(t.TempDir(), "seen")
	clip := filepath.Join(t.TempDir(), "Marta rep 7.avi")
	require.NoError(t, os.WriteFile(clip, nil, 0o600))
	t.Setenv("PATH", bin)
	said, err := showFile(clip)
	require.NoError(t, err)
	require.Equal(t, "It is "+clip+".", said)
	if runtime.GOOS == "linux" {
		require.NoError(t, os.WriteFile(filepath.Join(bin, "xdg-open"), []byte("#!/bin/sh\necho \"$1\" > "+seen+"\n"), 0o700))
		_, err = showFile(clip)
		require.NoError(t, err)
		require.Eventually(t, func() bool { got, _ := os.ReadFile(seen); return string(got) == filepath.Dir(clip)+"\n" }, 10*time.Second, time.Millisecond)
	}
	_, err = showFile(clip + "x")
	require.ErrorContains(t, err, "not there")
}

// A copy is saved elsewhere only of players whose consent stands.
func TestACopyNeedsConsent(t *testing.T) {
	ctx := context.Background()
	l, err := ledger.Open(filepath.Join(t.TempDir(), "ledger.db"))
	require.NoError(t, err)
	t.Cleanup(func() { _ = l.Close() })
	b, err := book.Read(ctx, l, "")
	require.NoError(t, err)
	ada, err := b.AddPlayer("Ada", drills.Right, 94)
	require.NoError(t, err)
	rep := ledger.Record{ID: uuid.NewString(), Player: ledger.Player{ID: ada.Player.ID, Name: "Ada"}, Session: uuid.NewString(), Drill: "both-catch", Set: 1, At: time.Now(), Rep: drills.Rep{Number: 1, Moments: drills.NoMoments()}}
	require.NoError(t, l.Save(ctx, rep))
	require.NoError(t, b.Consent(ada.Player.ID, book.PlayerAgrees))
	clip, err := l.KeepClip(ctx, rep.ID, drills.NoView, "avi", strings.NewReader("pictures"))
	require.NoError(t, err)

	drive := t.TempDir()
	live := &Live{cfg: Config{Ledger: l}, book: b}
	j := app.Job{Do: app.Keep, Player: ada.Player.ID, Clip: book.ClipLine{ID: clip.ID, Rep: rep.ID, Who: "Ada", File: clip.File}, Name: drive}
	said, err := live.work(ctx, j)
	require.NoError(t, err)
	require.Equal(t, "A copy is saved: "+filepath.Join(drive, clip.File)+".", said)

	require.NoError(t, b.Consent(ada.Player.ID, book.NoConsent))
	j.Name = t.TempDir()
	_, err = live.work(ctx, j)
	require.ErrorContains(t, err, "Ada has not agreed, or no longer agrees")
	entries, err := os.ReadDir(j.Name)
	require.NoError(t, err)
	require.Empty(t, entries)
}
