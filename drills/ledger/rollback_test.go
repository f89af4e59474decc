package ledger

import (
	"context"
	"database/sql"
	"errors"
	"testing"

	"github.com/stretchr/testify/require"
)

// A change that fails half-way leaves nothing of itself behind.
func TestAChangeThatFailsLeavesNothing(t *testing.T) {
	l := fresh(t)
	save(t, l, record("Jo", 1), record("Jo", 2))
	before := reps(t, l, Which{})
	require.Len(t, before, 2)
	fault := errors.New("half-way")
	err := l.change(context.Background(), func(ctx context.Context, tx *sql.Tx) error {
		if _, err := tx.ExecContext(ctx, "DELETE FROM reps"); err != nil {
			return err
		}
		return fault
	})
	require.ErrorIs(t, err, fault)
	alike(t, before, reps(t, l, Which{}))
}
