//go:build !windows

package main

import (
	"fmt"
	"os"
	"syscall"
)

// replace runs a program in place of this one. It returns only when that
// could not be done.
func replace(path string, args []string) error {
	return fmt.Errorf("cannot start %s: %w", path, syscall.Exec(path, args, os.Environ()))
}
