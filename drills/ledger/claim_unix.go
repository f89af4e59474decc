//go:build !windows

package ledger

import (
	"errors"
	"os"
	"syscall"
)

// hold locks a file, made where missing, until release or the program's end.
func hold(path string) (release func() error, err error) {
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE|syscall.O_NOFOLLOW, 0o600)
	if err != nil {
		return nil, err
	}
	if err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB); err != nil {
		if errors.Is(err, syscall.EWOULDBLOCK) {
			err = errHeld
		}
		return nil, errors.Join(err, f.Close())
	}
	return f.Close, nil
}
