package live

import (
	"context"
	"fmt"
	"os"
	"path/filepath"

	"drillbay/drills/ledger"
)

// WriteExport writes the ledger, or with an id one player's part of it, to a
// file that appears once it is whole.
func WriteExport(ctx context.Context, l *ledger.Ledger, path, player string) error {
	f, err := os.CreateTemp(filepath.Dir(path), ".export-*")
	if err != nil {
		return fmt.Errorf("the export cannot be written: %w", err)
	}
	defer os.Remove(f.Name())
	err = l.Export(ctx, f, player)
	if err == nil {
		err = f.Sync()
	}
	if cerr := f.Close(); err == nil {
		err = cerr
	}
	if err == nil {
		err = os.Rename(f.Name(), path)
	}
	if err != nil {
		return fmt.Errorf("the export to %s failed: %w", path, err)
	}
	return nil
}
