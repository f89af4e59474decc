//go:build !windows

package main

import (
	"os/signal"
	"syscall"
)

// ignoreSizeLimit has a file that reaches the system's size limit be an error
// like a full disk, not the end of the program.
func ignoreSizeLimit() { signal.Ignore(syscall.SIGXFSZ) }
