package main

import (
	"context"
	"fmt"
	"os"

	"drillbay/cmd/drillbay/live"
	"drillbay/drills/ledger"
)

type exportCommand struct {
	File   string `arg:"" help:"The file to write, JSON Lines."`
	Ledger string `help:"File of the ledger; default: the user's own." placeholder:"FILE"`
	Player string `help:"Only this player's part, by name." placeholder:"NAME"`
}

// Run writes the ledger to a file.
func (e *exportCommand) Run(c console) error {
	ctx := context.Background()
	l, err := ledger.Open(e.Ledger)
	if err != nil {
		return err
	}
	defer l.Close()
	id := ""
	if e.Player != "" {
		if id, err = playerNamed(ctx, l, e.Player); err != nil {
			return err
		}
	}
	if err := live.WriteExport(ctx, l, e.File, id); err != nil {
		return err
	}
	fmt.Fprintf(c.out, "Written to %s.\n", e.File)
	return nil
}

// playerNamed is the id of the player of a name.
func playerNamed(ctx context.Context, l *ledger.Ledger, name string) (string, error) {
	players, err := l.Players(ctx)
	if err != nil {
		return "", err
	}
	id := ""
	for _, p := range players {
		if p.Name == name {
			if id != "" {
				return "", fmt.Errorf("%w: there are two players named %q: rename one", errUse, name)
			}
			id = p.ID
		}
	}
	if id == "" {
		return "", fmt.Errorf("%w: there is no player named %q in the ledger", errUse, name)
	}
	return id, nil
}

type importCommand struct {
	File   string `arg:"" help:"The file of an export."`
	Ledger string `help:"File of the ledger; default: the user's own." placeholder:"FILE"`
}

// Run merges an export into the ledger.
func (i *importCommand) Run(c console) error {
	f, err := os.Open(i.File)
	if err != nil {
		return fmt.Errorf("the export cannot be read: %w", err)
	}
	defer f.Close()
	l, err := ledger.Open(i.Ledger)
	if err != nil {
		return err
	}
	defer l.Close()
	done, err := l.Import(context.Background(), f)
	if err != nil {
		return fmt.Errorf("%s: %w", i.File, err)
	}
	fmt.Fprintln(c.out, done)
	return nil
}
