package live

import (
	"context"
	"path/filepath"
	"testing"
	"testing/synctest"
	"time"

	"github.com/stretchr/testify/require"

	"drillbay/drills/book"
	"drillbay/drills/ledger"
	"drillbay/drills/stage"
)

// The camera of the settings is opened at the next start; one that is not
// there is no hindrance.
func TestTheCameraOfTheSettings(t *testing.T) { synctest.Test(t, theCameraOfTheSettings) }

func theCameraOfTheSettings(t *testing.T) {
	ctx := context.Background()
	l, err := ledger.Open(filepath.Join(t.TempDir(), ledger.FileName))
	require.NoError(t, err)
	b, err := book.Read(ctx, l, "")
	require.NoError(t, err)
	want := func(s book.Setup) (c Config) {
		require.NoError(t, b.KeepSetup(ctx, s))
		c.Ledger = l
		chosen(ctx, &c)
		return c
	}
	s := book.Defaults()
	require.Empty(t, want(s).Camera)
	s.Camera = "unplugged"
	require.Empty(t, want(s).Camera)
	s.Camera = stage.Drawn
	require.True(t, want(s).Virtual)

	live, err := Open(ctx, Config{Ledger: l, Virtual: true, Drawn: stage.Practice(1, 320, 180, 30)})
	require.NoError(t, err)
	d, err := live.Deps(ctx)
	require.NoError(t, err)
	list := d.Cameras()
	require.Equal(t, stage.Drawn, list[len(list)-1].Name)
	require.NotEmpty(t, list[len(list)-1].Modes, "the one in use")
	mode := list[len(list)-1].Modes[0]
	require.Equal(t, 320, mode.Width)
	require.True(t, list[len(list)-1].InUse)

	s.Taps = true
	require.NoError(t, d.KeepSetup(s))
	require.True(t, live.taps.Load(), "at once")
	require.NoError(t, live.Finish(context.Background(), 20*time.Second))
}
