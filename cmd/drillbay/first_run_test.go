//go:build !windows

package main

import (
	"context"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"drillbay/drills"
	"drillbay/drills/ledger"
)

// A first run from nothing to a finished set, on the virtual bay: a name, the
// cautions, and then no hand touches the laptop; from there to a report, a clip that is given
// away, and a clinic of six.
func TestFirstRunToAFinishedSet(t *testing.T) {
	t.Parallel() // it waits more than it works
	if testing.Short() {
		t.Skip("takes two minutes")
	}
	d := newDesk(t, "--virtual", "--silent", "--size", "640x360", "--seed", "3")
	d.press("Return", "new player")
	d.do("type", "--delay", "200", "Ada")
	d.shot("2-new-player")
	d.tap("Return") // on to the hand
	d.press("Return", "caution")
	d.shot("3-cautions")
	d.press("Return", "check")
	d.until("the list is ticked", 60*time.Second, func() bool {
		if d.title() == "check" {
			d.tap("Return") // a line of the list each
		}
		return d.title() == "practice"
	})
	d.shot("4-practice")

	l, err := ledger.Open(filepath.Join(d.dir, "drillbay", ledger.FileName))
	require.NoError(t, err)
	defer l.Close()
	ctx := context.Background()
	stored := func() []ledger.Record {
		reps, err := l.Reps(ctx, ledger.Which{})
		require.NoError(t, err)
		return reps
	}
	looked := 0
	d.until("three reps with a lookback each", 240*time.Second, func() bool {
		if d.title() == "lookback" && d.times("lookback") > looked {
			looked = d.times("lookback")
			// Read and stored, or dropped again: what looked like a rep was none.
			before := len(stored())
			for end := time.Now().Add(20 * time.Second); time.Now().Before(end) && len(stored()) == before && d.title() == "lookback"; {
				time.Sleep(100 * time.Millisecond)
			}
			d.shot("5-lookback")
		}
		return len(stored()) >= 3 && looked >= 3
	})
	d.until("the set is done", 360*time.Second, func() bool { return d.title() == "practice" && len(stored()) >= 10 })
	d.shot("6-set-done")
	d.press("k", "consent") // the last rep is kept
	d.tap("2")
	d.press("Return", "keep")
	d.press("Return", "lookback")
	kept := d.file("the clip is kept", "drillbay", "ledger-clips", "Ada-*.avi")
	d.press("Escape", "practice")
	time.Sleep(time.Second) // Esc still means the lookback's for a moment after that went by itself
	d.press("Escape", "start")
	d.press("p", "progress")
	d.shot("7-progress")
	d.tap("r")
	d.file("the report is written", "drillbay", "reports", "Ada-*.html")
	d.press("k", "kept clips")
	d.press("k", "save a copy")
	time.Sleep(time.Second) // it looks for drives
	d.tap("Up")
	drive := t.TempDir()
	d.do("type", "--delay", "60", drive)
	d.shot("8-save-a-copy")
	d.press("Return", "kept clips")
	_, err = os.Stat(filepath.Join(drive, filepath.Base(kept)))
	require.NoError(t, err, "the clip is shared")
	d.press("Escape", "progress")
	d.press("Escape", "start")

	d.press("c", "new clinic")
	for _, name := range []string{"Bo", "Cy", "Di", "Ed", "Fay", "Gil"} {
		d.do("type", "--delay", "100", name)
		d.tap("Return")
	}
	d.press("Return", "clinic")
	d.shot("9-clinic")
	d.press("Return", "caution")
	d.leave()

	reps := stored()
	require.NoError(t, l.Check(ctx))
	verdicts := map[drills.Verdict]int{}
	for i, r := range reps {
		require.Equal(t, "Ada", r.Player.Name)
		require.Equal(t, reps[0].Session, r.Session)
		verdicts[r.Rep.Verdict]++
		if i > 0 {
			require.Greater(t, r.Rep.Moments.Start, reps[i-1].Rep.Moments.Start)
		}
	}
	require.Less(t, verdicts[drills.NoReading], len(reps), "something is read: %v", verdicts)
}
