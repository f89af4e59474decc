package live

import (
	"context"
	"fmt"
	"io"

	"drillbay/camera/whole"
	"drillbay/drills/ledger"
)

// WriteExport writes the ledger, or with an id one player's part of it, to a
// file that appears once it is whole.
func WriteExport(ctx context.Context, l *ledger.Ledger, path, player string) error {
	if err := whole.Write(path, func(w io.Writer) error { return l.Export(ctx, w, player) }); err != nil {
		return fmt.Errorf("the export to %s failed: %w", path, err)
	}
	return nil
}
