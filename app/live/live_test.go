package live

import (
	"context"
	"os"
	"path/filepath"
	"testing"
	"testing/synctest"
	"time"

	"github.com/stretchr/testify/require"

	"drillbay/app"
	"drillbay/drills"
	"drillbay/drills/ledger"
	"drillbay/drills/runner"
	"drillbay/drills/stage"
)

func TestOptionsSurviveTheWayToTheWindow(t *testing.T) {
	o := Options{Camera: "a camera", Second: "another", Both: true, Virtual: true, Ledger: "x/y.db", Seed: 9, Size: "640x360", Rate: 60, FullScreen: true, Silent: true}
	args := o.Arguments()
	for _, want := range []string{"--camera=a camera", "--second=another", "--both", "--virtual", "--ledger=x/y.db", "--full-screen", "--silent"} {
		require.Contains(t, args, want)
	}
	require.NoError(t, o.Check())
	for _, size := range []string{"", "12", "0x0", "100000x5", "axb"} {
		o.Size = size
		require.Error(t, o.Check(), size)
	}
}

// A whole session on the virtual bay through a camera's driver: nothing is
// left behind, and every rep that was told is in the ledger.
func TestALiveSession(t *testing.T) { synctest.Test(t, aLiveSession) }

func aLiveSession(t *testing.T) {
	l, err := ledger.Open(filepath.Join(t.TempDir(), ledger.FileName))
	require.NoError(t, err)
	s := stage.Practice(2, 480, 270, 30)
	s.Reps[0].Still, s.Reps[0].Before = 0.6, nil
	ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
	defer cancel()
	live, err := Open(ctx, Config{Ledger: l, Virtual: true, Drawn: s})
	require.NoError(t, err)
	require.True(t, live.isDrawn)
	d, err := live.Deps(ctx)
	require.NoError(t, err)
	require.Contains(t, d.Camera(), "480 × 270")
	require.True(t, d.Bay.Set)
	p, err := d.Book.AddPlayer("Ada", drills.Right, 94)
	require.NoError(t, err)
	d.Order(runner.Command{Do: runner.Begin, Player: p.Player, Bay: d.Bay.Name, Drill: d.Book.Rungs(p.Player.ID)[0].Drill})
	d.Order(runner.Command{Do: runner.Ready})
	for len(d.Snapshot().All) == 0 {
		select {
		case <-live.Wake():
		case <-ctx.Done():
			t.Fatal("no rep was told")
		}
	}
	told := d.Snapshot().All[0]
	kept, err := l.Reps(ctx, ledger.Which{Player: p.Player.ID})
	require.NoError(t, err)
	require.Equal(t, told.ID, kept[0].ID)
	require.InDelta(t, 0.94, kept[0].ClubLong, 1e-9)
	require.Contains(t, d.Book.Players()[0].Line, "Rung 1")
	pic := d.Picture(0)
	require.NotNil(t, pic)
	pic.Release()
	_, err = d.Work(app.Job{Do: app.Keep, RepID: "unknown"})
	require.ErrorContains(t, err, "gone")
	text, err := d.Work(app.Job{Do: app.Export, Player: p.Player.ID})
	require.NoError(t, err)
	require.Contains(t, text, "Ada-")
	exports, err := os.ReadDir(filepath.Join(filepath.Dir(l.Path()), "exports"))
	require.NoError(t, err)
	require.Len(t, exports, 1)
	_, err = d.Work(app.Job{Do: app.Report, Player: p.Player.ID})
	require.NoError(t, err)
	other := filepath.Join(filepath.Dir(l.Path()), "reports", "Ada-of-another-day.html")
	require.NoError(t, os.WriteFile(other, []byte("another Ada"), 0o600))
	d.Order(runner.Command{Do: runner.Finish})
	text, err = d.Work(app.Job{Do: app.EraseOn, Player: p.Player.ID})
	require.NoError(t, err)
	require.Contains(t, text, "Ada is deleted: 1 session")
	require.Contains(t, text, "Z brings it back until drillbay is closed")
	require.Empty(t, d.Book.Players())
	require.Equal(t, "Ada", d.Book.Deleted()[0].Player.Name)
	_, err = d.Book.AddPlayer("ada", drills.Right, 94)
	require.ErrorContains(t, err, "was deleted in this session")
	text, err = d.Work(app.Job{Do: app.TakeBack, Player: p.Player.ID})
	require.NoError(t, err)
	require.Contains(t, text, "Ada is back")
	require.Contains(t, d.Book.Players()[0].Line, "Rung 1", "with what she did")
	_, err = d.Work(app.Job{Do: app.EraseOn, Player: p.Player.ID})
	require.NoError(t, err)
	require.NoError(t, live.Finish(context.Background(), 20*time.Second))
	require.Contains(t, live.Parting(), "Ada is deleted: 1 session")
	require.Contains(t, live.Parting(), "2 reports and exports beside the ledger went too")
	for folder, left := range map[string]int{"reports": 1, "exports": 0} {
		entries, err := os.ReadDir(filepath.Join(filepath.Dir(l.Path()), folder))
		require.NoError(t, err)
		require.Len(t, entries, left, folder)
	}
}
