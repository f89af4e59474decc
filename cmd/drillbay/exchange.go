package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"

	"drillbay/camera/whole"
	"drillbay/cmd/drillbay/live"
	"drillbay/drills/ledger"
)

type exportCommand struct {
	File   string `arg:"" help:"The file to write: JSON Lines, or with the ending .csv the reps as a table."`
	Ledger string `help:"File of the ledger; default: the user's own." placeholder:"FILE"`
	Player string `help:"Only this player's part, by name." placeholder:"NAME"`
}

// Run writes the ledger to a file.
func (e *exportCommand) Run(c console) error {
	ctx := context.Background()
	l, err := openKept(e.Ledger)
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

// openKept opens a ledger that is there when it is named: nothing can be read
// from a new one.
func openKept(path string) (*ledger.Ledger, error) {
	if path != "" {
		if _, err := os.Stat(path); err != nil {
			return nil, fmt.Errorf("there is no ledger to read: %w", err)
		}
	}
	return ledger.Open(path)
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

// largestImport is how much of an export is read, bytes: some hundred
// thousand reps.
const largestImport = 256 << 20

// limited reads so much and no more; what is longer is an error, not cut off.
type limited struct {
	from io.Reader
	left int64
}

// Read implements io.Reader.
func (l *limited) Read(p []byte) (int, error) {
	if l.left <= 0 {
		return 0, fmt.Errorf("it is larger than %d MB: is this an export?", largestImport>>20)
	}
	n, err := l.from.Read(p[:min(int64(len(p)), l.left)])
	l.left -= int64(n)
	return n, err
}

type importCommand struct {
	File   string `arg:"" help:"The file of an export."`
	Ledger string `help:"File of the ledger; default: the user's own." placeholder:"FILE"`
}

// Run merges an export into the ledger.
func (i *importCommand) Run(c console) error {
	f, err := whole.Open(i.File)
	if err != nil {
		return fmt.Errorf("the export cannot be read: %w", err)
	}
	defer f.Close()
	l, err := ledger.Open(i.Ledger)
	if err != nil {
		return err
	}
	defer l.Close()
	done, err := l.Import(context.Background(), &limited{f, largestImport})
	if err != nil {
		err = fmt.Errorf("%s: %w", i.File, err)
		for _, of := range []error{ledger.ErrInUse, ledger.ErrFull, ledger.ErrReadOnly} {
			if errors.Is(err, of) {
				return err
			}
		}
		return fmt.Errorf("%w: %w", errUnreadable, err)
	}
	fmt.Fprintln(c.out, done)
	return nil
}
