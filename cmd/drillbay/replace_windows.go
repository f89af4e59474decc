package main

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
)

// replace runs a program and ends with its exit status.
func replace(path string, args []string) error {
	cmd := exec.Command(path, args[1:]...)
	cmd.Stdin, cmd.Stdout, cmd.Stderr = os.Stdin, os.Stdout, os.Stderr
	err := cmd.Run()
	var exit *exec.ExitError
	if errors.As(err, &exit) {
		os.Exit(exit.ExitCode())
	}
	if err != nil {
		return fmt.Errorf("cannot start %s: %w", path, err)
	}
	return nil
}
