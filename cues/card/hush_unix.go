//go:build unix

package card

import (
	"os"
	"runtime/debug"

	"golang.org/x/sys/unix"
)

// Hush keeps what the system's libraries write to the terminal from the user:
// without a sound card they write dozens of lines (ALSA, JACK), and the
// program says it in one of its own. What the program itself has to say goes
// to own; should it crash, the reason does too. Restore takes it back.
func Hush() (own *os.File, restore func()) {
	nothing := func() {}
	null, err := os.OpenFile(os.DevNull, os.O_WRONLY, 0)
	if err != nil {
		return os.Stderr, nothing
	}
	defer null.Close()
	fd, err := unix.FcntlInt(2, unix.F_DUPFD_CLOEXEC, 3)
	if err != nil {
		return os.Stderr, nothing
	}
	if err := unix.Dup2(int(null.Fd()), 2); err != nil {
		unix.Close(fd)
		return os.Stderr, nothing
	}
	own = os.NewFile(uintptr(fd), "terminal")
	_ = debug.SetCrashOutput(own, debug.CrashOptions{})
	return own, func() {
		_ = debug.SetCrashOutput(nil, debug.CrashOptions{})
		_ = unix.Dup2(fd, 2)
		own.Close()
	}
}
