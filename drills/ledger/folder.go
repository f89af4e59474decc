package ledger

import (
	"errors"
	"os"
	"path/filepath"
	"runtime"
)

// FileName is the ledger's file in its folder.
const FileName = "ledger.db"

// Folder returns the folder in which a program's data belong on an operating system (GOOS):
// $XDG_DATA_HOME or ~/.local/share (XDG Base Directory Specification; a relative value is
// to be ignored), ~/Library/Application Support, %LOCALAPPDATA%, each with a folder
// "drillbay" in it.
func Folder(system string, env func(string) string, home string) (string, error) {
	var base string
	switch system {
	case "windows":
		if base = env("LOCALAPPDATA"); base == "" && home != "" {
			base = filepath.Join(home, "AppData", "Local")
		}
	case "darwin":
		if home != "" {
			base = filepath.Join(home, "Library", "Application Support")
		}
	default:
		if base = env("XDG_DATA_HOME"); !filepath.IsAbs(base) {
			base = ""
			if home != "" {
				base = filepath.Join(home, ".local", "share")
			}
		}
	}
	if base == "" {
		return "", errors.New("there is no home folder to keep the ledger in: set HOME, or name a file for the ledger")
	}
	return filepath.Join(base, "drillbay"), nil
}

// DefaultPath is the ledger's file in this user's folder.
func DefaultPath() (string, error) {
	home, _ := os.UserHomeDir()
	folder, err := Folder(runtime.GOOS, os.Getenv, home)
	if err != nil {
		return "", err
	}
	return filepath.Join(folder, FileName), nil
}
