package live

import (
	"context"
	"database/sql"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"drillbay/app"
	"drillbay/drills/ledger"
	"drillbay/drills/runner"
	"drillbay/drills/stage"
)

// While the disk does not answer for three seconds the window goes on drawing,
// whatever is asked of it, and all of it is stored in the end.
func TestTheWindowDoesNotWaitForTheDisk(t *testing.T) {
	path := filepath.Join(t.TempDir(), ledger.FileName)
	l, err := ledger.Open(path)
	require.NoError(t, err)
	ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
	defer cancel()
	live, err := Open(ctx, Config{Ledger: l, Virtual: true, Drawn: stage.Practice(2, 320, 180, 30)})
	require.NoError(t, err)
	d, err := live.Deps(ctx)
	require.NoError(t, err)
	a := app.New(d)
	worst, steps := time.Duration(0), 0
	var view *app.View
	step := func(actions ...app.Action) {
		at := time.Now()
		view = a.Step(actions, live.Now())
		worst, steps = max(worst, time.Since(at)), steps+1
	}
	key := func(do app.Do) { step(app.Action{Kind: app.Key, Do: do}) }
	typed := func(s string) { step(app.Action{Kind: app.Typed, Text: s}) }
	until := func(what string, ok func() bool) {
		for !ok() {
			require.NoError(t, ctx.Err(), "%s: on %s %q", what, view.Screen, view.Texts())
			step()
			<-time.After(time.Second / 60)
		}
	}
	step(app.Action{Kind: app.Size, X: 1280, Y: 720, N: 1469})

	hold := func() (letGo func()) {
		db, err := sql.Open("sqlite", path)
		require.NoError(t, err)
		db.SetMaxOpenConns(1)
		_, err = db.Exec("BEGIN IMMEDIATE")
		require.NoError(t, err)
		return func() {
			_, err := db.Exec("ROLLBACK")
			require.NoError(t, err)
			require.NoError(t, db.Close())
		}
	}
	worst, steps = 0, 0
	letGo := hold()
	key(app.Settings)
	key(app.Right)
	key(app.Go)
	key(app.Clinic)
	typed("Ada\nBo\nCy\nDee\nEve\nFay")
	key(app.PageOn)
	key(app.PageOn) // once more, as somebody who waits does
	told := false
	until("three seconds", func() bool {
		told = told || view.Says("The disk is slow.")
		return steps > 3*60
	})
	require.Equal(t, "new clinic", view.Screen)
	require.True(t, told, "it says what it waits for")
	letGo()
	until("the clinic begins", func() bool { return view.Screen == "clinic" })
	sheet, ok := d.Book.Clinic()
	require.True(t, ok)
	require.Len(t, sheet.Players, 6)

	// And with a session that goes on.
	key(app.Go)
	for view.Screen != "practice" && view.Screen != "lookback" {
		key(app.PageOn)
	}
	until("a rep", func() bool { return len(d.Snapshot().All) > 0 })
	letGo = hold()
	from := steps
	key(app.NextPlayer)
	key(app.Progress)
	until("three seconds more", func() bool { return steps > from+3*60 })
	letGo()
	t.Logf("the longest of %d steps took %v", steps, worst)
	require.Less(t, worst, 150*time.Millisecond)
	d.Order(runner.Command{Do: runner.Finish})
	require.NoError(t, live.Finish(context.Background(), 20*time.Second))
	l, err = ledger.Open(path)
	require.NoError(t, err)
	defer l.Close()
	players, err := l.Players(context.Background())
	require.NoError(t, err)
	require.Len(t, players, 6)
}
