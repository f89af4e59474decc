package live

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"drillbay/drills"
	"drillbay/drills/ledger"
)

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
func (l *Live) written(folder, player, ending string) (string, error) {
	return l.writtenAs(folder, l.nameOf(player), ending)
}

func (l *Live) writtenAs(folder, name, ending string) (string, error) {
	dir := beside(l.cfg.Ledger, folder)
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
func (l *Live) nameOf(player string) string {
	for _, p := range l.book.Players() {
		if p.Player.ID == player {
			return drills.PlainName(p.Player.Name)
		}
	}
	return "player"
}
