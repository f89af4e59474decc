package live

import (
	"context"

	"drillbay/app/papers"
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
	l.parting, err = papers.Erase(ctx, l.cfg.Ledger, players)
	return err
}

// Parting says, once the session was finished, what went from the disk with
// it; "" for nothing.
func (l *Live) Parting() string { return l.parting }
