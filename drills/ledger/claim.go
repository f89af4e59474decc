package ledger

import (
	"errors"
	"os"
)

// Found says in which state a program that is about to practise finds the ledger.
type Found uint8

const (
	Free   Found = iota
	Shared       // another program practises with it: both may write
	Left         // the program before was ended in the middle
)

// Sentence says it in words, empty for Free.
func (f Found) Sentence() string {
	switch f {
	case Shared:
		return "Another drillbay practises with this ledger too: the reps of both are kept."
	case Left:
		return "drillbay was ended in the middle last time: every rep that was told is in the ledger."
	}
	return ""
}

// Claim notes until Close that a program practises with the ledger, in a file
// beside it that the program has locked. It keeps nobody out, and where the
// file cannot be made nothing is found.
func (l *Ledger) Claim() Found {
	path := l.path + ".in-use"
	_, err := os.Lstat(path)
	there := err == nil
	release, err := hold(path)
	switch {
	case errors.Is(err, errHeld):
		return Shared
	case err != nil:
		return Free
	}
	l.unclaim = func() {
		removed := os.Remove(path) // before another may have it, where the system allows
		_ = release()
		if removed != nil {
			_ = os.Remove(path)
		}
	}
	if there {
		return Left
	}
	return Free
}

var errHeld = errors.New("held by another program")
