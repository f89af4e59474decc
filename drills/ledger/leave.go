package ledger

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"slices"
	"strings"
)

// leavingKey begins the name of the setting that says that a player was
// deleted in a session that goes on. The player's id follows.
const leavingKey = "leaving "

// staying keeps rows of a player who was deleted out; column is the player's id.
func staying(column string) string {
	return "NOT EXISTS (SELECT 1 FROM settings WHERE key = '" + leavingKey + "' || " + column + ")"
}

// Leave hides a player: players, reps and exports are without them from now on. The data
// stay on the disk until EraseLeaving, and Stay brings them back until then. What is to go
// is returned.
func (l *Ledger) Leave(ctx context.Context, player string) (Gone, error) {
	var g Gone
	err := l.change(ctx, func(ctx context.Context, tx *sql.Tx) (err error) {
		if g, _, err = gather(ctx, tx, player); err != nil {
			return err
		}
		if gone, err := deleted(ctx, tx, player); err != nil || gone {
			return errors.Join(err, fmt.Errorf("%s was deleted already: %w", g.Name, ErrUnknown))
		}
		_, err = tx.ExecContext(ctx, "INSERT OR REPLACE INTO settings VALUES (?, ?)", leavingKey+player, stamp(millis(l.now())))
		return err
	})
	if err != nil {
		return Gone{}, err
	}
	return g, nil
}

// Stay takes back that a player was deleted.
func (l *Ledger) Stay(ctx context.Context, player string) error {
	return l.change(ctx, func(ctx context.Context, tx *sql.Tx) error {
		done, err := tx.ExecContext(ctx, "DELETE FROM settings WHERE key = ?", leavingKey+player)
		if err != nil {
			return err
		}
		if n, err := done.RowsAffected(); err != nil || n == 0 {
			return errors.Join(err, fmt.Errorf("the player to bring back is %w", ErrUnknown))
		}
		return nil
	})
}

// Leaving are the ids of the players who were deleted and are on the disk
// still.
func (l *Ledger) Leaving(ctx context.Context) (players []string, err error) {
	rows, err := l.read.QueryContext(ctx, "SELECT key FROM settings WHERE substr(key, 1, length(?1)) = ?1 ORDER BY value, key", leavingKey)
	if err != nil {
		return nil, plain(l.path, err)
	}
	defer rows.Close()
	for rows.Next() {
		var key string
		if err := rows.Scan(&key); err != nil {
			return nil, plain(l.path, err)
		}
		players = append(players, strings.TrimPrefix(key, leavingKey))
	}
	return players, plain(l.path, rows.Err())
}

// EraseLeaving takes deleted players from the disk, of all that are on it or
// of those named, and says what went. One who cannot be erased is tried again
// the next time.
func (l *Ledger) EraseLeaving(ctx context.Context, named ...string) (gone []Gone, err error) {
	players, err := l.Leaving(ctx)
	for _, p := range players {
		if len(named) > 0 && !slices.Contains(named, p) {
			continue
		}
		g, fault := l.DeletePlayer(ctx, p)
		if fault != nil {
			err = errors.Join(err, fault)
			continue
		}
		gone = append(gone, g)
	}
	return gone, err
}
