// Package ledger keeps players, sessions and reps in one SQLite file, with
// the clips that someone chose to keep as files beside it. One goroutine
// writes; a call that changes something returns once it is on disk.
package ledger

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"time"

	_ "modernc.org/sqlite" // the driver of that name
)

// Ledger is an open ledger. It may be used by many goroutines.
type Ledger struct {
	path  string
	write *sql.DB // one connection, used by the writer alone
	read  *sql.DB
	now   func() time.Time
	jobs  chan job
	quit  chan struct{}
	done  chan struct{}
	once  sync.Once // closes

	unclaim func() // gives up what Claim noted; nil where nothing was
}

// settings holds what Open fixes and a test may choose otherwise.
type settings struct {
	busy time.Duration
	now  func() time.Time
}

// Open opens the ledger in a file, making it and its folder where missing,
// and brings an older one up to date after a copy of it was put aside. An
// empty path is DefaultPath.
func Open(path string) (*Ledger, error) {
	return open(path, settings{busy: 5 * time.Second, now: time.Now})
}

func open(path string, s settings) (*Ledger, error) {
	if path == "" {
		var err error
		if path, err = DefaultPath(); err != nil {
			return nil, err
		}
	}
	path, err := filepath.Abs(path)
	if err != nil {
		return nil, fmt.Errorf("the ledger's file: %w", err)
	}
	if err := prepare(path); err != nil {
		return nil, err
	}
	l := &Ledger{path: path, now: s.now, jobs: make(chan job), quit: make(chan struct{}), done: make(chan struct{})}
	common := []string{fmt.Sprintf("busy_timeout(%d)", s.busy.Milliseconds()), "foreign_keys(1)"}
	if l.write, err = sql.Open("sqlite", source(path, append(common, "journal_mode(wal)", "synchronous(full)", "secure_delete(1)"), "immediate")); err != nil {
		return nil, plain(path, err)
	}
	l.write.SetMaxOpenConns(1)
	if err := l.migrate(context.Background()); err != nil {
		return nil, errors.Join(err, l.write.Close())
	}
	if l.read, err = sql.Open("sqlite", source(path, append(common, "query_only(1)"), "deferred")); err != nil {
		return nil, errors.Join(plain(path, err), l.write.Close())
	}
	l.read.SetMaxOpenConns(4)
	l.renamed()
	l.sweep()
	_ = squeezed(context.Background(), l.write) // what cannot be now is tried at the next start
	go l.writer()
	return l, nil
}

// Path is the ledger's file.
func (l *Ledger) Path() string { return l.path }

// Close waits for what is being written and closes the file.
func (l *Ledger) Close() error {
	var err error
	l.once.Do(func() {
		close(l.quit)
		<-l.done
		err = plain(l.path, errors.Join(l.read.Close(), l.write.Close()))
		if l.unclaim != nil {
			l.unclaim()
		}
	})
	return err
}

// Check has the file looked through for damage (PRAGMA integrity_check and
// foreign_key_check).
func (l *Ledger) Check(ctx context.Context) error {
	var word string
	if err := l.read.QueryRowContext(ctx, "PRAGMA integrity_check").Scan(&word); err != nil {
		return plain(l.path, err)
	}
	if word != "ok" {
		return fmt.Errorf("the ledger %s: %w: %s", l.path, ErrDamaged, word)
	}
	rows, err := l.read.QueryContext(ctx, "PRAGMA foreign_key_check")
	if err != nil {
		return plain(l.path, err)
	}
	defer rows.Close()
	if rows.Next() {
		return fmt.Errorf("the ledger %s: %w: a row has lost what it belongs to", l.path, ErrDamaged)
	}
	return plain(l.path, rows.Err())
}

// prepare makes folder and file, readable by this user alone.
func prepare(path string) error {
	folder := filepath.Dir(path)
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return fmt.Errorf("the ledger's folder cannot be made: check that %s may be written by you: %w", folder, err)
	}
	if st, err := os.Stat(path); err == nil && !st.IsDir() {
		// Before anything is changed in it.
		if !st.Mode().IsRegular() {
			return fmt.Errorf("%s is a pipe or a device: name a file for the ledger: %w", path, ErrDamaged)
		}
		if err := recognise(path, st.Size()); err != nil {
			return err
		}
	}
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o600)
	if err != nil {
		return fmt.Errorf("the ledger %s cannot be written: check that the file and its folder may be written by you: %w (%v)", path, ErrReadOnly, err)
	}
	if err := f.Close(); err != nil {
		return fmt.Errorf("the ledger %s: %w", path, err)
	}
	if err := os.Chmod(path, 0o600); err != nil {
		return fmt.Errorf("the ledger %s cannot be kept private: %w", path, err)
	}
	return nil
}

// recognise says that a file is none of ours. What it cannot tell is no error
// yet.
func recognise(path string, size int64) error {
	if size == 0 {
		return nil
	}
	f, err := os.Open(path)
	if err != nil {
		return nil
	}
	defer f.Close()
	const magic = "SQLite format 3\x00" // SQLite, "Database File Format", 1.3.1
	head := make([]byte, len(magic))
	if _, err := io.ReadFull(f, head); err != nil || string(head) != magic {
		return fmt.Errorf("%s is no ledger: name another file: %w", path, ErrDamaged)
	}
	db, err := sql.Open("sqlite", source(path, []string{"query_only(1)"}, "deferred")+"&mode=ro")
	if err != nil {
		return nil
	}
	defer db.Close()
	if _, err := ours(context.Background(), db, path); errors.Is(err, ErrDamaged) {
		return err
	}
	return nil
}

// ours is the version of a ledger's tables, 0 for an empty file; another
// program's file is an error.
func ours(ctx context.Context, db *sql.DB, path string) (version int, err error) {
	if err := db.QueryRowContext(ctx, "PRAGMA user_version").Scan(&version); err != nil {
		return 0, plain(path, err)
	}
	var all, known int
	if err := db.QueryRowContext(ctx, "SELECT count(*), count(*) FILTER (WHERE name IN ('players', 'reps')) FROM sqlite_schema").Scan(&all, &known); err != nil {
		return 0, plain(path, err)
	}
	if version == 0 && all > 0 || version > 0 && known < 2 {
		return 0, fmt.Errorf("%s is the file of another program: name another file for the ledger: %w", path, ErrDamaged)
	}
	return version, nil
}

// Owns says whether a path is that of the ledger's own files.
func (l *Ledger) Owns(path string) bool {
	st, err := os.Stat(path)
	if err != nil {
		return false
	}
	for _, mine := range []string{l.path, l.path + "-wal", l.path + "-shm"} {
		if of, err := os.Stat(mine); err == nil && os.SameFile(st, of) {
			return true
		}
	}
	of, err := os.Stat(l.ClipFolder())
	in, err2 := os.Stat(filepath.Dir(path))
	return err == nil && err2 == nil && os.SameFile(in, of)
}

// source is the data source name of a file: any character may be in its path.
func source(path string, pragmas []string, lock string) string {
	slashed := filepath.ToSlash(path)
	if !strings.HasPrefix(slashed, "/") {
		slashed = "/" + slashed
	}
	u := url.URL{Scheme: "file", OmitHost: true, Path: slashed}
	q := url.Values{"_pragma": pragmas, "_txlock": {lock}}
	u.RawQuery = q.Encode()
	return u.String()
}
