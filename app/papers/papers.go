// Package papers writes what is known of players to files beside their ledger: reports,
// the page of a clinic, exports. It deletes them with the player.
package papers

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"

	"drillbay/drills"
	"drillbay/drills/book"
	"drillbay/drills/ledger"
)

// Papers writes what is known of players to files beside their ledger.
type Papers struct {
	Ledger *ledger.Ledger
	Book   *book.Book
	// Show opens a file in the system's own program for it; nil: nothing is opened.
	Show func(path string) error
}

// The folders beside the ledger for what is written of a player.
const (
	reports = "reports"
	exports = "exports"
)

func beside(l *ledger.Ledger, folder string) string {
	return filepath.Join(filepath.Dir(l.Path()), folder)
}

// written is the file of a player that is to be written into a folder beside
// the ledger.
func (p Papers) written(folder, player, ending string) (string, error) {
	return p.writtenAs(folder, p.nameOf(player), ending)
}

func (p Papers) writtenAs(folder, name, ending string) (string, error) {
	dir := beside(p.Ledger, folder)
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return "", fmt.Errorf("the folder for %s cannot be made: %w", folder, err)
	}
	return filepath.Join(dir, name+"-"+time.Now().Format("2006-01-02")+ending), nil
}

// eraseWritten deletes the reports and exports beside a ledger that hold a
// player's id, whatever the name was then.
func eraseWritten(l *ledger.Ledger, player string) (n int, err error) {
	for _, folder := range []string{reports, exports} {
		entries, err := os.ReadDir(beside(l, folder))
		if err != nil && !errors.Is(err, fs.ErrNotExist) {
			return n, err
		}
		for _, e := range entries {
			path := filepath.Join(beside(l, folder), e.Name())
			if !e.Type().IsRegular() {
				continue
			}
			text, err := os.ReadFile(path)
			if err != nil {
				return n, err
			}
			if !bytes.Contains(text, []byte(player)) {
				continue
			}
			if err := os.Remove(path); err != nil {
				return n, err
			}
			n++
		}
	}
	return n, nil
}

// nameOf is a player's name as part of a file's.
func (p Papers) nameOf(player string) string {
	for _, known := range p.Book.Players() {
		if known.Player.ID == player {
			return drills.PlainName(known.Player.Name)
		}
	}
	return "player"
}

// Erase takes deleted players from the disk, and says what went. What was
// written of them beside the ledger goes first, so that what is left half-way
// is deleted the next time.
func Erase(ctx context.Context, l *ledger.Ledger, players []string) (said string, err error) {
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
