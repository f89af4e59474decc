package main

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"

	"drillbay/app/live"
)

type windowCommand struct {
	live.Options
}

// Run shows the window.
func (w *windowCommand) Run(c console) error { return showWindow(w.Options) }

// windowProgram is the program that is the window.
const windowProgram = "drillbay-window"

// showWindow starts the window's program in place of this one.
func showWindow(o live.Options) error {
	if err := o.Check(); err != nil {
		return fmt.Errorf("%w: %v", errUse, err)
	}
	if !canShow() {
		return deviceError{errors.New("there is no display here. Without one try: drillbay demo --headless, or drillbay measure CLIP")}
	}
	path, err := findWindow()
	if err != nil {
		return err
	}
	return replace(path, append([]string{path}, o.Arguments()...))
}

func canShow() bool { return !noDisplay(runtime.GOOS, os.Getenv) }

// noDisplay reports whether a window cannot be shown.
func noDisplay(system string, env func(string) string) bool {
	switch system {
	case "windows", "darwin":
		return false
	}
	return env("DISPLAY") == ""
}

// findWindow finds the window's program beside this one, or on the PATH.
func findWindow() (string, error) {
	name := windowProgram
	if runtime.GOOS == "windows" {
		name += ".exe"
	}
	if self, err := os.Executable(); err == nil {
		if self, err = filepath.EvalSymlinks(self); err == nil {
			beside := filepath.Join(filepath.Dir(self), name)
			if st, err := os.Stat(beside); err == nil && !st.IsDir() {
				return beside, nil
			}
		}
	}
	if path, err := exec.LookPath(name); err == nil {
		return path, nil
	}
	return "", errors.New("the program " + name + " is not beside this one: build both with make build, and keep them together")
}
