package ledger

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
)

// Gone counts what was deleted with a player.
type Gone struct {
	Name                                                       string
	Clubs, Sessions, Sets, Reps, Marks, Verdicts, Notes, Clips int
	Copies                                                     int // of the whole ledger, put aside when its tables changed
}

// String says it to the coach.
func (g Gone) String() string {
	var parts []string
	for _, p := range []struct {
		n         int
		one, many string
	}{
		{g.Sessions, "session", "sessions"}, {g.Sets, "set", "sets"}, {g.Reps, "rep", "reps"}, {g.Clubs, "club", "clubs"},
		{g.Marks, "mark", "marks"}, {g.Verdicts, "verdict of the coach", "verdicts of the coach"}, {g.Notes, "note", "notes"}, {g.Clips, "clip", "clips"},
		{g.Copies, "older copy of the whole ledger", "older copies of the whole ledger"},
	} {
		switch {
		case p.n == 1:
			parts = append(parts, "1 "+p.one)
		case p.n > 1:
			parts = append(parts, fmt.Sprintf("%d %s", p.n, p.many))
		}
	}
	list := "nothing else was kept"
	if len(parts) > 0 {
		list = strings.Join(parts, ", ")
	}
	return fmt.Sprintf("%s is deleted: %s.", g.Name, list)
}

// Elsewhere says what a deletion does not reach.
const Elsewhere = "Exports, reports and clips that were saved elsewhere are not deleted: delete them too."

// DeletePlayer deletes a player and all that is theirs: rows, versions that a
// merge kept, clip files, and the copies of the ledger that were put aside.
// What was deleted is overwritten in the file (PRAGMA secure_delete, VACUUM);
// an import does not bring the player back.
func (l *Ledger) DeletePlayer(ctx context.Context, player string) (Gone, error) {
	var g Gone
	err := l.send(job{ctx: ctx, plain: func(ctx context.Context, db *sql.DB) error {
		var files []string
		if err := inOne(ctx, db, func(ctx context.Context, tx *sql.Tx) (err error) {
			if g, files, err = gather(ctx, tx, player); err != nil {
				return err
			}
			begun, err := l.begunOf(ctx, tx, player)
			files = append(files, begun...)
			return err
		}); err != nil {
			return err
		}
		// Files first: what is left half-way can be deleted again.
		for _, name := range files {
			if err := os.RemoveAll(filepath.Join(l.ClipFolder(), name)); err != nil {
				return fmt.Errorf("%s is not deleted: a clip cannot be: %w", g.Name, err)
			}
		}
		copies, err := l.copies()
		if err != nil {
			return err
		}
		for _, name := range copies {
			if err := os.RemoveAll(name); err != nil {
				return fmt.Errorf("%s is not deleted: an older copy of the ledger cannot be: %w", g.Name, err)
			}
		}
		g.Copies = len(copies)
		if err := inOne(ctx, db, func(ctx context.Context, tx *sql.Tx) error { return erase(ctx, tx, player) }); err != nil {
			return err
		}
		return squeezed(ctx, db)
	}})
	if err != nil {
		return Gone{}, err
	}
	return g, nil
}

// theirs chooses, by kind, the rows of one player; the player's id is ?.
func theirs() []struct{ kind, table, where string } {
	const (
		sessions = "SELECT id FROM sessions WHERE player = ?1"
		sets     = "SELECT id FROM sets WHERE session IN (" + sessions + ")"
		reps     = "SELECT id FROM reps WHERE part_of IN (" + sets + ")"
	)
	return []struct{ kind, table, where string }{
		{"player", "players", "id = ?1"},
		{"club", "clubs", "player = ?1"},
		{"session", "sessions", "player = ?1"},
		{"set", "sets", "session IN (" + sessions + ")"},
		{"rep", "reps", "part_of IN (" + sets + ")"},
		{"mark", "marks", "rep IN (" + reps + ")"},
		{"verdict", "verdicts", "rep IN (" + reps + ")"},
		{"note", "notes", "player = ?1 OR rep IN (" + reps + ")"},
		{"clip", "clips", "rep IN (" + reps + ")"},
	}
}

func gather(ctx context.Context, tx *sql.Tx, player string) (g Gone, files []string, err error) {
	err = tx.QueryRowContext(ctx, "SELECT name FROM players WHERE id = ?", player).Scan(&g.Name)
	if errors.Is(err, sql.ErrNoRows) {
		return g, nil, fmt.Errorf("the player to delete is %w", ErrUnknown)
	}
	if err != nil {
		return g, nil, err
	}
	count := map[string]*int{"club": &g.Clubs, "session": &g.Sessions, "set": &g.Sets, "rep": &g.Reps, "mark": &g.Marks, "verdict": &g.Verdicts, "note": &g.Notes, "clip": &g.Clips}
	for _, t := range theirs() {
		if n := count[t.kind]; n != nil {
			if err := tx.QueryRowContext(ctx, "SELECT count(*) FROM "+t.table+" WHERE "+t.where, player).Scan(n); err != nil {
				return g, nil, err
			}
		}
		if t.kind != "clip" {
			continue
		}
		// A name that another player's clip has too is that one's file.
		rows, err := tx.QueryContext(ctx, "SELECT file FROM clips WHERE ("+t.where+") AND file NOT IN (SELECT file FROM clips WHERE NOT ("+t.where+"))", player)
		if err != nil {
			return g, nil, err
		}
		defer rows.Close()
		for rows.Next() {
			var name string
			if err := rows.Scan(&name); err != nil {
				return g, nil, err
			}
			if fitsFile(name) == nil {
				files = append(files, name)
			}
		}
		if err := rows.Err(); err != nil {
			return g, nil, err
		}
	}
	return g, files, nil
}

// begunOf are the clips of a player that were being written when a program
// ended.
func (l *Ledger) begunOf(ctx context.Context, tx *sql.Tx, player string) (files []string, err error) {
	entries, _ := os.ReadDir(l.ClipFolder()) // no folder, no clips
	for _, e := range entries {
		if !strings.HasSuffix(e.Name(), part) {
			continue
		}
		rep, _, _ := strings.Cut(e.Name(), ".")
		var theirs bool
		err := tx.QueryRowContext(ctx, "SELECT count(*) FROM reps JOIN sets ON sets.id = part_of JOIN sessions ON sessions.id = session WHERE reps.id = ? AND player = ?", rep, player).Scan(&theirs)
		if err != nil {
			return nil, err
		}
		if theirs {
			files = append(files, e.Name())
		}
	}
	return files, nil
}

func erase(ctx context.Context, tx *sql.Tx, player string) error {
	for _, t := range theirs() {
		if _, err := tx.ExecContext(ctx, "DELETE FROM others WHERE kind = ?2 AND id IN (SELECT id FROM "+t.table+" WHERE "+t.where+")", player, t.kind); err != nil {
			return err
		}
	}
	if _, err := tx.ExecContext(ctx, "DELETE FROM others WHERE instr(content, ?) > 0", player); err != nil {
		return err
	}
	if _, err := tx.ExecContext(ctx, "DELETE FROM players WHERE id = ?", player); err != nil {
		return err
	}
	// Which club was chosen, say: that of no other player has the id in its name.
	if _, err := tx.ExecContext(ctx, "DELETE FROM settings WHERE instr(key, ?) > 0", player); err != nil {
		return err
	}
	if _, err := tx.ExecContext(ctx, "INSERT OR REPLACE INTO settings VALUES (?, '')", squeezeKey); err != nil {
		return err
	}
	_, err := tx.ExecContext(ctx, "INSERT OR IGNORE INTO forgotten VALUES (?)", hidden(player))
	return err
}

// squeezeKey is the setting that stands from the erasing of a player until
// nothing of it is left in the file: a program may end in between.
const squeezeKey = "to be squeezed"

// squeezed squeezes a file in which somebody was erased.
func squeezed(ctx context.Context, db *sql.DB) error {
	var n int
	if err := db.QueryRowContext(ctx, "SELECT count(*) FROM settings WHERE key = ?", squeezeKey).Scan(&n); err != nil || n == 0 {
		return err
	}
	if err := squeeze(ctx, db); err != nil {
		return err
	}
	_, err := db.ExecContext(ctx, "DELETE FROM settings WHERE key = ?", squeezeKey)
	return err
}

// squeeze leaves nothing of deleted rows in the file or beside it.
func squeeze(ctx context.Context, db *sql.DB) error {
	if _, err := db.ExecContext(ctx, "VACUUM"); err != nil {
		return err
	}
	var busy, pages, moved int
	if err := db.QueryRowContext(ctx, "PRAGMA wal_checkpoint(TRUNCATE)").Scan(&busy, &pages, &moved); err != nil {
		return err
	}
	if busy != 0 {
		return fmt.Errorf("the player is deleted, but another program still reads the ledger and what it reads cannot be overwritten: close it, then delete again or restart: %w", ErrInUse)
	}
	return nil
}

// copies are the ledger's copies put aside when tables changed.
func (l *Ledger) copies() ([]string, error) {
	entries, err := os.ReadDir(filepath.Dir(l.path))
	if err != nil {
		return nil, fmt.Errorf("the ledger's folder cannot be listed: %w", err)
	}
	var out []string
	for _, e := range entries {
		if name := filepath.Join(filepath.Dir(l.path), e.Name()); strings.HasPrefix(name, l.backupPrefix()) {
			out = append(out, name)
		}
	}
	return out, nil
}

// hidden returns the digest that is kept in place of a deleted player's id.
func hidden(id string) string {
	sum := sha256.Sum256([]byte("drillbay/" + id))
	return hex.EncodeToString(sum[:])
}
