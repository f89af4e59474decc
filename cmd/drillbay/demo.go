package main

import (
	"context"
	"fmt"
	"os/signal"
	"path/filepath"
	"syscall"

	"drillbay/app/live"
	"drillbay/app/perform"
	"drillbay/camera/virtual"
	"drillbay/drills/ledger"
)

type demoCommand struct {
	Headless bool   `help:"Without a window: run a whole short session and print it."`
	Seed     uint64 `help:"Seed of what is drawn." default:"7"`
	Reps     int    `help:"Reps a rung, on three rungs." default:"5"`
	Both     bool   `help:"From both sides at once, by two cameras: down the line and face-on."`
	Out      string `help:"Folder for ledger, clip and pictures; default: a new one here." placeholder:"DIR"`
	Size     string `help:"Size of the drawn picture." default:"960x540" placeholder:"WxH"`
}

// Run runs the demo.
func (d *demoCommand) Run(c console) error {
	if d.Reps < 1 || d.Reps > 200 {
		return fmt.Errorf("%w: --reps %d: 1 to 200 reps a rung are possible", errUse, d.Reps)
	}
	o := live.Options{Virtual: true, Seed: d.Seed, Size: d.Size, Rate: 30, Both: d.Both}
	if err := o.Check(); err != nil {
		return fmt.Errorf("%w: %v", errUse, err)
	}
	if !d.Headless && !canShow() {
		fmt.Fprintln(c.out, "There is no display here: the demo runs without a window.")
		d.Headless = true
	}
	dir, err := perform.Folder(d.Out)
	if err != nil {
		return err
	}
	if !d.Headless {
		o.Ledger = filepath.Join(dir, ledger.FileName)
		return showWindow(o)
	}
	ctx, stop := signal.NotifyContext(context.Background(), syscall.SIGTERM, syscall.SIGINT)
	defer stop()
	s := virtual.Demo(d.Seed, virtual.DemoRungs(d.Reps))
	s.Width, s.Height = o.Pixels()
	return perform.Run(ctx, c.out, c.err, s, d.Reps, dir, d.Both)
}
