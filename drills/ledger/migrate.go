package ledger

import (
	"context"
	"database/sql"
	"embed"
	"errors"
	"fmt"
	"os"
	"strings"
)

// Schema is the version of the tables that this program writes.
const Schema = 5

//go:embed schema/*.sql
var steps embed.FS

// migrate brings the tables to Schema, one version at a time, in one
// transaction. A file that already holds something is copied first.
func (l *Ledger) migrate(ctx context.Context) error {
	have, err := ours(ctx, l.write, l.path)
	if err != nil {
		return err
	}
	switch {
	case have > Schema:
		return fmt.Errorf("the ledger %s has tables of version %d and this program knows them up to %d: start the newer drillbay: %w", l.path, have, Schema, ErrNewer)
	case have == Schema:
		return nil
	case have > 0:
		if err := l.putAside(ctx, have); err != nil {
			return err
		}
	}
	return plain(l.path, inOne(ctx, l.write, func(ctx context.Context, tx *sql.Tx) error {
		// Another process may have done it while this one waited for the lock.
		if err := tx.QueryRowContext(ctx, "PRAGMA user_version").Scan(&have); err != nil {
			return err
		}
		if have >= Schema {
			return nil
		}
		for v := have + 1; v <= Schema; v++ {
			text, err := steps.ReadFile(fmt.Sprintf("schema/%d.sql", v))
			if err != nil {
				return err
			}
			if _, err := tx.ExecContext(ctx, string(text)); err != nil {
				return fmt.Errorf("tables of version %d: %w", v, err)
			}
		}
		if err := giveVersions(ctx, tx); err != nil {
			return err
		}
		_, err := tx.ExecContext(ctx, fmt.Sprintf("PRAGMA user_version = %d", Schema))
		return err
	}))
}

// backupPrefix is the beginning of the names of copies put aside.
func (l *Ledger) backupPrefix() string { return strings.TrimSuffix(l.path, ".db") + ".version-" }

// putAside copies the whole file before its tables change.
func (l *Ledger) putAside(ctx context.Context, version int) error {
	for n := 1; ; n++ {
		name := fmt.Sprintf("%s%d.%d.db", l.backupPrefix(), version, n)
		f, err := os.OpenFile(name, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o600)
		if errors.Is(err, os.ErrExist) {
			continue
		}
		if err != nil {
			return fmt.Errorf("the ledger is to be brought up to date, and no copy of it can be put aside first: check that its folder may be written by you: %w", err)
		}
		if err := f.Close(); err != nil {
			return fmt.Errorf("copy of the ledger %s: %w", name, err)
		}
		if _, err := l.write.ExecContext(ctx, "VACUUM INTO ?", name); err != nil {
			os.Remove(name)
			return plain(l.path, fmt.Errorf("copy of the ledger %s: %w", name, err))
		}
		return nil
	}
}

// giveVersions names the version of every row that has none yet.
func giveVersions(ctx context.Context, tx *sql.Tx) error {
	for _, k := range kinds() {
		rows, err := readRows(ctx, tx, k, "WHERE version = ''")
		if err != nil {
			return err
		}
		for _, r := range rows {
			if _, err := tx.ExecContext(ctx, "UPDATE "+k.table+" SET version = ? WHERE id = ?", r.content.version(nil), r.id); err != nil {
				return err
			}
		}
	}
	return nil
}
