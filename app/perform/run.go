package perform

import (
	"context"
	"errors"
	"fmt"
	"io"
	"math"
	"path/filepath"
	"time"

	"drillbay/app/papers"
	"drillbay/camera/frame"
	"drillbay/camera/lookback"
	"drillbay/camera/virtual"
	"drillbay/drills"
	"drillbay/drills/book"
	"drillbay/drills/ledger"
	"drillbay/drills/measure"
	"drillbay/drills/picture"
	"drillbay/drills/read"
	"drillbay/drills/rep"
	"drillbay/drills/runner"
	"drillbay/drills/stage"
)

// Run runs a session of so many reps a rung in a virtual bay, faster than real
// time: the same eye, session and ledger as in the window, with the frames' own time
// as the clock. It prints each rep to w, and leaves ledger, clip, pictures and report
// in a folder. both has a second camera look on.
func Run(ctx context.Context, w, problems io.Writer, s virtual.Setup, perRung int, dir string, both bool) error {
	bay, err := virtual.New(s)
	if err != nil {
		return err
	}
	l, err := ledger.Open(filepath.Join(dir, ledger.FileName))
	if err != nil {
		return err
	}
	defer l.Close()
	if said := l.Claim().Sentence(); said != "" {
		fmt.Fprintln(problems, "drillbay:", said)
	}
	known, err := stage.KnownOf(s)
	if err != nil {
		return err
	}
	player, err := newLearner(ctx, l)
	if err != nil {
		return err
	}
	keep, err := picture.NewGallery(filepath.Join(dir, "pictures"), known)
	if err != nil {
		return err
	}
	var seen measure.Recall
	watch, err := measure.NewWatch(known.Setting, &seen)
	if err != nil {
		return err
	}
	defer watch.Close()
	p := &performance{bay: bay, watch: watch, reads: read.NewCamera(func(int, int) rep.Known { return known }, &seen), known: known, keep: keep, dir: dir, drills: demoDrills(perRung), events: bay.Events(), out: w, problems: problems, sure: map[bool][]float64{}}
	budget := lookback.Budget(s.Width, s.Height, s.FPS)
	pool := frame.NewPool(budget + 32*s.Width*s.Height*3/2)
	options := runner.Options{
		Ring:    lookback.NewRing(budget, lookback.Capacity(budget, s.Width, s.Height)),
		Analyse: p.read, Speaker: p, Store: book.Store{Ledger: l, Club: func() float64 { return s.Club.Length }},
		Now: func() float64 { return p.now }, Began: time.Now().Add(-time.Duration(bay.Seconds() * float64(time.Second))),
	}
	if both {
		if p.beside, err = newBeside(s); err != nil {
			return err
		}
		options.Beside = p.beside.view.Loop
	}
	p.session = runner.NewStepper(options)
	fmt.Fprintf(w, "A virtual bay, seed %d: %d reps on each of %d rungs, %.0f s of practice.\n", s.Seed, perRung, len(p.drills), bay.Seconds())
	fmt.Fprintln(w, "It draws a player, reads each rep from the pictures as a camera's are read, and prints what was read beside what was drawn.")
	fmt.Fprintf(w, "The last rung, %s, is swung through without a catch: its shaft line is read in passing, and only where enough pictures show the club at level: 30 a second are often too few.\n", drills.LowerFirst(p.drills[len(p.drills)-1].Name))
	p.title()
	p.session.Order(runner.Command{Do: runner.Begin, Player: player, Bay: stage.Drawn, Drill: p.drills[0]})
	p.session.Order(runner.Command{Do: runner.Ready})
	for i := range bay.Frames() {
		if ctx.Err() != nil {
			break
		}
		pic := pool.Get(s.Width, s.Height, frame.Sub420)
		if pic == nil {
			return fmt.Errorf("no memory left for a picture of %d × %d", s.Width, s.Height)
		}
		if err := bay.Draw(i, pic); err != nil {
			return err
		}
		p.now = pic.Seconds()
		p.turn(perRung)
		if err := p.beside.see(i, p.glance); err != nil {
			return err
		}
		p.see(pic)
		pic.Release()
	}
	if err := errors.Join(p.end(), p.finish(w, l)); err != nil {
		return err
	}
	if _, err := papers.OfPlayer(context.WithoutCancel(ctx), l, player.ID, filepath.Join(dir, "report.html"), time.Now()); err != nil {
		return err
	}
	fmt.Fprintln(w, "  report.html, to be opened in a browser")
	if ctx.Err() != nil {
		fmt.Fprintln(w, "Stopped early: every rep that was told is in the ledger.")
	}
	return nil
}

// newLearner is the demo's player, who agreed that clips are kept.
func newLearner(ctx context.Context, l *ledger.Ledger) (runner.Player, error) {
	p := ledger.Player{Name: "Demo", Consent: "drawn, nobody's picture", ConsentAt: time.Now()}
	known, err := l.Players(ctx)
	if err != nil {
		return runner.Player{}, err
	}
	for _, k := range known {
		if k.Name == p.Name {
			p = k
		}
	}
	if p.ID, err = l.PutPlayer(ctx, p); err != nil {
		return runner.Player{}, err
	}
	return runner.Player{ID: p.ID, Name: p.Name}, nil
}

// demoDrills are the three drills of virtual.DemoRungs.
func demoDrills(reps int) []runner.Drill {
	ladder := book.Ladder()
	first, swings := ladder[0], ladder[len(ladder)-1]
	for _, d := range ladder {
		if d.Kind == runner.Ordinary && !d.MovingStart {
			swings = d
			break
		}
	}
	out := []runner.Drill{first, first, swings}
	out[0].Name, out[0].ID = "Lead arm, gentle swing and catch", first.ID+"-gentle"
	for i := range out {
		out[i].Rung, out[i].Rungs, out[i].Reps, out[i].Beat = i+1, len(out), reps, 0
	}
	return out
}

func orDash(v float64, format string) string {
	if math.IsNaN(v) {
		return "–"
	}
	return fmt.Sprintf(format, v)
}
