package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"

	"drillbay/app"
	"drillbay/app/live"
	"drillbay/app/window"
	"drillbay/drills"
	"drillbay/drills/ledger"
	"drillbay/drills/runner"
)

// timedReps is the number of verdicts that are waited for; the slowest is told.
const timedReps = 2

// timed practises by itself in the window, on the virtual bay and with a ledger
// of its own, and writes how many seconds after the catch the verdict came.
func timed(ctx context.Context, o live.Options, out io.Writer) error {
	folder, err := os.MkdirTemp("", "drillbay")
	if err != nil {
		return err
	}
	defer os.RemoveAll(folder)
	o.Ledger, o.Virtual, o.Camera, o.Silent, o.Deaf = filepath.Join(folder, ledger.FileName), true, "", true, true
	l, err := live.Start(ctx, o)
	if err != nil {
		return err
	}
	d, err := l.Deps(ctx)
	if err == nil {
		_, err = d.Book.AddPlayer("Somebody", drills.Right, 94)
	}
	if err != nil {
		return errors.Join(err, l.Finish(ctx, closing))
	}
	inside, end := context.WithCancel(ctx)
	defer end()
	t := timing{snapshot: d.Snapshot, now: l.Now, done: end, slowest: math.NaN()}
	err = window.Run(inside, window.Options{Title: "drillbay", App: app.New(d), Now: l.Now, Wake: l.Wake(), Press: t.press, Gone: end})
	if err = errors.Join(err, l.Finish(ctx, closing)); err != nil {
		return err
	}
	if t.reps < timedReps {
		return errors.New("no verdict came")
	}
	_, err = fmt.Fprintf(out, "%.3f\n", t.slowest)
	return err
}

// timing presses the keys that lead to practice, and times verdicts there.
type timing struct {
	snapshot func() *runner.Snapshot
	now      func() float64
	done     func()
	pressed  float64 // s
	reps     int
	slowest  float64 // s from a catch to its verdict
}

func (t *timing) press() []app.Action {
	snap, now := t.snapshot(), t.now()
	for ; t.reps < min(len(snap.All), timedReps); t.reps++ {
		if catch := snap.All[t.reps].Rep.Moments.Catch; !math.IsNaN(catch) && !(t.slowest > now-catch) {
			t.slowest = now - catch
		}
	}
	if t.reps == timedReps {
		t.done()
	}
	if snap.Ready || now-t.pressed < 0.5 {
		return nil
	}
	t.pressed = now
	return []app.Action{{Kind: app.Key, Do: app.Go}}
}
