package ledger

import (
	"errors"
	"fmt"

	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"
)

// The faults that a caller may want to tell apart; each comes wrapped in a
// sentence that names the file and says what to do.
var (
	ErrInUse    = errors.New("in use by another program")
	ErrFull     = errors.New("disk full")
	ErrReadOnly = errors.New("not writable")
	ErrNewer    = errors.New("made by a newer drillbay")
	ErrDamaged  = errors.New("not a ledger, or damaged")
	ErrClosed   = errors.New("the ledger is closed")
	ErrConsent  = errors.New("no consent is noted")
	ErrUnknown  = errors.New("not in the ledger")
)

// plain turns what SQLite says into a sentence for people.
func plain(path string, err error) error {
	var e *sqlite.Error
	if err == nil || !errors.As(err, &e) {
		return err
	}
	say := func(kind error, what string) error {
		return fmt.Errorf("the ledger %s %s: %w (%v)", path, what, kind, err)
	}
	switch e.Code() & 0xff {
	case sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED:
		return say(ErrInUse, "is held by another program: close the other drillbay and try again")
	case sqlite3.SQLITE_FULL:
		return say(ErrFull, "cannot grow: make room on the disk, then go on")
	case sqlite3.SQLITE_READONLY, sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_PERM:
		return say(ErrReadOnly, "cannot be written: check that the file, its folder and the disk may be written by you")
	case sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB:
		return say(ErrDamaged, "cannot be read: put it aside, and take back a backup or import an export")
	case sqlite3.SQLITE_IOERR:
		return fmt.Errorf("the ledger %s: the disk did not read or write (is it still plugged in?): %w", path, err)
	}
	return fmt.Errorf("the ledger %s: %w", path, err)
}
