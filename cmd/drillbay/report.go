package main

import (
	"context"
	"fmt"
	"time"

	"drillbay/app/papers"
	"drillbay/drills"
	"drillbay/drills/book"
	"drillbay/drills/ledger"
	"drillbay/drills/stage"
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
	id, err := playerNamed(ctx, l, r.Player)
	if err != nil {
		return err
	}
	players, err := l.Players(ctx)
	if err != nil {
		return err
	}
	for _, p := range players {
		if p.ID == id {
			r.Player = p.Name
		}
	}
	out := r.Out
	if out == "" {
		out = "report-" + drills.PlainName(r.Player) + ".html"
	}
	faults, err := writeReport(ctx, l, id, out, time.Now())
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
	b, err := book.Read(ctx, l, stage.Drawn)
	if err == nil {
		if g, gerr := b.GroupPage(ctx, time.Now()); gerr == nil && g.Total().Of == 0 {
			b, err = book.Read(ctx, l, "") // only reps of the drawn bay: then it is about those
		}
	}
	if err != nil {
		return err
	}
	out := r.Out
	if out == "" {
		out = "report-clinic.html"
	}
	if err := papers.WriteGroup(ctx, b, l, out, time.Now()); err != nil {
		return err
	}
	fmt.Fprintf(c.out, "Written to %s. It holds what is known of each player: give it to nobody else.\n", out)
	return nil
}

// writeReport writes the report of a player to a file that appears once it is
// whole. Faults are what had to be left out of it.
func writeReport(ctx context.Context, l *ledger.Ledger, player, path string, now time.Time) (faults []error, err error) {
	b, err := book.Read(ctx, l, stage.Drawn)
	if err == nil && len(b.View(player).Progress.Sessions) == 0 {
		// Only reps of the drawn bay: then it is about those.
		b, err = book.Read(ctx, l, "")
	}
	if err != nil {
		return nil, err
	}
	return papers.WriteReport(ctx, b, l, player, path, now)
}
