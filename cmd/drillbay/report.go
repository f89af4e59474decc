package main

import (
	"context"
	"fmt"
	"time"

	"drillbay/app/papers"
	"drillbay/drills"
	"drillbay/drills/ledger"
)

type reportCommand struct {
	Player string `arg:"" optional:"" help:"The player's name."`
	Group  bool   `help:"The clinic that is going on, on one page for the coach."`
	Out    string `help:"The file to write; default: report-NAME.html here." placeholder:"FILE"`
	Ledger string `help:"File of the ledger; default: the user's own." placeholder:"FILE"`
}

// Run writes a player's report.
func (r *reportCommand) Run(c console) error {
	ctx := context.Background()
	l, err := openKept(r.Ledger)
	if err != nil {
		return err
	}
	defer l.Close()
	switch {
	case r.Group && r.Player != "":
		return fmt.Errorf("%w: a report is of a player or, with --group, of the clinic: leave one out", errUse)
	case r.Group:
		return r.group(ctx, c, l)
	case r.Player == "":
		return fmt.Errorf("%w: whose report is it? Give the player's name, or --group for the clinic", errUse)
	}
	p, err := playerNamed(ctx, l, r.Player)
	if err != nil {
		return err
	}
	r.Player = p.Name
	out := r.Out
	if out == "" {
		out = "report-" + drills.PlainName(r.Player) + ".html"
	}
	faults, err := papers.OfPlayer(ctx, l, p.ID, out, time.Now())
	for _, f := range faults {
		fmt.Fprintln(c.err, "drillbay:", f)
	}
	if err != nil {
		return err
	}
	fmt.Fprintf(c.out, "Written to %s. It holds what is known of %s: give it to nobody else.\n", out, r.Player)
	return nil
}

// group writes the clinic's page.
func (r *reportCommand) group(ctx context.Context, c console, l *ledger.Ledger) error {
	out := r.Out
	if out == "" {
		out = "report-clinic.html"
	}
	if err := papers.OfClinic(ctx, l, out, time.Now()); err != nil {
		return err
	}
	fmt.Fprintf(c.out, "Written to %s. It holds what is known of each player: give it to nobody else.\n", out)
	return nil
}
