package papers

import (
	"context"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"drillbay/camera/whole"
	"drillbay/drills/ledger"
)

// errOwn is the error for what would be written over the ledger.
var errOwn = errors.New("this is a file of the ledger itself: name another")

// WriteExport writes the ledger, or with an id one player's part of it, to a
// file that appears once it is whole: its reps as a table when the file's name
// ends in ".csv".
func WriteExport(ctx context.Context, l *ledger.Ledger, path, player string) error {
	if l.Owns(path) {
		return fmt.Errorf("the export to %s failed: %w", path, errOwn)
	}
	write := func(w io.Writer) error { return l.Export(ctx, w, player) }
	if strings.EqualFold(filepath.Ext(path), ".csv") {
		reps, err := l.Reps(ctx, ledger.Which{Player: player})
		if err != nil {
			return err
		}
		write = func(w io.Writer) error { return ledger.WriteCSV(w, reps) }
	}
	if err := whole.Write(path, write); err != nil {
		return fmt.Errorf("the export to %s failed: %w", path, err)
	}
	return nil
}

// Export writes a player's part of the ledger into the folder of exports.
func (p Papers) Export(ctx context.Context, player string) (string, error) {
	path, err := p.written(exports, player, ".jsonl")
	if err != nil {
		return "", err
	}
	if err := WriteExport(ctx, p.Ledger, path, player); err != nil {
		return "", err
	}
	return "Written to " + path + ".", nil
}
