package live

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"drillbay/drills/ledger"
)

// delete deletes a player: for the eyes now, from the disk when the session
// ends.
func (l *Live) delete(ctx context.Context, player string) (string, error) {
	said, err := l.book.Delete(ctx, player)
	if err != nil {
		return "", err
	}
	return said + " Z brings it back until drillbay is closed; then it goes from the disk.", nil
}

// part takes those from the disk who were deleted in this session.
func (l *Live) part(ctx context.Context) error {
	var players []string
	for _, p := range l.book.Deleted() {
		players = append(players, p.Player.ID)
	}
	var err error
	l.parting, err = erase(ctx, l.cfg.Ledger, players)
	return err
}

// Parting says, once the session was finished, what went from the disk with
// it; "" for nothing.
func (l *Live) Parting() string { return l.parting }

// erase takes deleted players from the disk, and says what went. What was
// written of them beside the ledger goes first, so that what is left half-way
// is deleted the next time.
func erase(ctx context.Context, l *ledger.Ledger, players []string) (said string, err error) {
	if len(players) == 0 {
		return "", nil
	}
	n := 0
	for _, p := range players {
		k, err := eraseWritten(l, p)
		if n += k; err != nil {
			return "", fmt.Errorf("a deleted player is still on the disk: %w", err)
		}
	}
	gone, err := l.EraseLeaving(ctx, players...)
	var parts []string
	for _, g := range gone {
		parts = append(parts, g.String())
	}
	switch {
	case n == 1:
		parts = append(parts, "One report or export beside the ledger went too.")
	case n > 1:
		parts = append(parts, fmt.Sprintf("%d reports and exports beside the ledger went too.", n))
	}
	if len(gone) > 0 {
		parts = append(parts, ledger.Elsewhere)
	}
	if err != nil {
		err = errors.Join(errors.New("a deleted player is still on the disk, and goes at the next start"), err)
	}
	return strings.Join(parts, " "), err
}
