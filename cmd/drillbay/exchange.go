package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"unicode"

	"drillbay/app/papers"
	"drillbay/camera/whole"
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
		p, err := playerNamed(ctx, l, e.Player)
		if err != nil {
			return err
		}
		id = p.ID
	}
	if err := papers.WriteExport(ctx, l, e.File, id); err != nil {
		return err
	}
	form := "the ledger as JSON Lines, to be read by drillbay import"
	if e.Player != "" {
		form = e.Player + "'s part of the ledger as JSON Lines, to be read by drillbay import"
	}
	if strings.EqualFold(filepath.Ext(e.File), ".csv") {
		form = "reps as a table for a spreadsheet"
	}
	fmt.Fprintf(c.out, "Written to %s: %s.\n", e.File, form)
	return nil
}

// playerNamed is the player of a name.
func playerNamed(ctx context.Context, l *ledger.Ledger, name string) (ledger.Player, error) {
	p, err := l.PlayerNamed(ctx, name)
	if errors.As(err, &ledger.NameError{}) {
		err = fmt.Errorf("%w: %w", errUse, err)
	}
	return p, err
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

type importCommand struct {
	File    string   `arg:"" help:"The file of an export."`
	Ledger  string   `help:"File of the ledger; default: the user's own." placeholder:"FILE"`
	Restore []string `help:"Bring this player back, by name, who was deleted here and is in the file." placeholder:"NAME"`
}

// Run merges an export into the ledger. Players of it who were deleted here are
// asked about where somebody can answer, else it says how they come back.
func (i *importCommand) Run(c console) error {
	l, err := ledger.Open(i.Ledger)
	if err != nil {
		return err
	}
	defer l.Close()
	done, err := i.merge(l, i.Restore)
	if err != nil {
		return err
	}
	fmt.Fprintln(c.out, done)
	if len(done.Deleted) == 0 {
		return nil
	}
	var back []string
	for _, name := range done.Deleted {
		switch {
		case c.in == nil:
			fmt.Fprintf(c.out, "To bring %s back: drillbay import %s --restore %s\n", name, quoted(i.File), quoted(name))
		case asks(c, fmt.Sprintf("%s was deleted here. Bring %[1]s back, with all that the file holds?", name)):
			back = append(back, name)
		}
	}
	if len(back) == 0 {
		return nil
	}
	if done, err = i.merge(l, back); err == nil {
		fmt.Fprintln(c.out, done)
	}
	return err
}

// merge reads the file into a ledger; those to restore come back.
func (i *importCommand) merge(l *ledger.Ledger, restore []string) (ledger.Imported, error) {
	f, err := whole.Open(i.File)
	if err != nil {
		var at *fs.PathError
		if errors.As(err, &at) {
			err = at.Err
		}
		return ledger.Imported{}, fmt.Errorf("the export %s cannot be read: %w", i.File, err)
	}
	defer f.Close()
	done, err := l.Import(context.Background(), f, restore...)
	if err == nil {
		return done, nil
	}
	err = fmt.Errorf("%s: %w", i.File, err)
	switch {
	case errors.Is(err, ledger.ErrInUse), errors.Is(err, ledger.ErrFull), errors.Is(err, ledger.ErrReadOnly):
		return done, err
	case errors.Is(err, ledger.ErrUnknown) && len(restore) > 0:
		return done, fmt.Errorf("%w: %w", errUse, err)
	}
	return done, fmt.Errorf("%w: %w", errUnreadable, err)
}

// asks reports whether a question is answered with yes.
func asks(c console, question string) bool {
	return strings.EqualFold(answer(c, question+" (yes or no) "), "yes")
}

// answer asks a question and returns the line that is typed, "" at the end of the input.
func answer(c console, question string) string {
	fmt.Fprint(c.out, question)
	line, _ := c.in.ReadString('\n')
	return strings.TrimSpace(line)
}

// quoted is a word as a shell takes it.
func quoted(s string) string {
	if strings.IndexFunc(s, func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r) && !strings.ContainsRune("._-/\\:", r)
	}) < 0 {
		return s
	}
	return strconv.Quote(s)
}
