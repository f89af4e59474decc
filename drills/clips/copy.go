package clips

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"

	"drillbay/camera/whole"
)

// What is not done without the user having said so: a file that would be replaced, and a folder
// that would be made.
var (
	ErrThere    = errors.New("there is a file of that name already")
	ErrNoFolder = errors.New("there is no such folder yet")
)

// Copy saves a kept clip as a file in another folder, or on a drive, and returns where. The
// copy appears whole or not at all. What has its name there is replaced, and a folder in one
// that is there made, only when the user is sure, else Copy fails with ErrThere or ErrNoFolder.
func Copy(clip, folder string, sure bool) (string, error) {
	folder = fromHome(strings.TrimSpace(folder))
	if folder == "" {
		return "", errors.New("name the folder or the drive that the clip is to go to")
	}
	st, err := os.Stat(folder)
	if errors.Is(err, fs.ErrNotExist) && isFolder(filepath.Dir(folder)) {
		if !sure {
			return "", fmt.Errorf("%w: %s", ErrNoFolder, folder)
		}
		if err := os.Mkdir(folder, 0o700); err != nil {
			return "", fmt.Errorf("the folder %s cannot be made: %w", folder, inWords(err))
		}
		st, err = os.Stat(folder)
	}
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return "", fmt.Errorf("there is no folder %s: name one that is there, or plug the drive in", folder)
	case err != nil:
		return "", fmt.Errorf("%s cannot be reached: %w", folder, inWords(err))
	case !st.IsDir():
		return "", fmt.Errorf("%s is a file: name a folder", folder)
	}
	to := filepath.Join(folder, filepath.Base(clip))
	switch there, err := os.Stat(to); {
	case err == nil && !there.Mode().IsRegular():
		return "", fmt.Errorf("%s is there already and is not a file: name another folder", to)
	case err == nil && isSame(clip, there):
		return "", fmt.Errorf("%s is the clip itself: name another folder", to)
	case err == nil && !sure:
		return "", fmt.Errorf("%w: %s", ErrThere, to)
	}
	from, err := whole.Open(clip)
	if errors.Is(err, fs.ErrNotExist) {
		return "", fmt.Errorf("%s is not there any more", clip)
	}
	if err != nil {
		return "", fmt.Errorf("the clip cannot be read: %w", err)
	}
	defer from.Close()
	if err := whole.Write(to, func(w io.Writer) error { _, err := io.Copy(w, from); return err }); err != nil {
		return "", fmt.Errorf("no copy was saved to %s: %w", folder, inWords(err))
	}
	return to, nil
}

func isFolder(path string) bool {
	st, err := os.Stat(path)
	return err == nil && st.IsDir()
}

func isSame(path string, st fs.FileInfo) bool {
	own, err := os.Stat(path)
	return err == nil && os.SameFile(own, st)
}

// inWords says what is wrong with a drive and what to do; other errors stay as they are.
func inWords(err error) error {
	is := func(unix, windows syscall.Errno) bool {
		return errors.Is(err, unix) && runtime.GOOS != "windows" || runtime.GOOS == "windows" && errors.Is(err, windows)
	}
	switch {
	case is(syscall.ENOSPC, 112), is(syscall.EDQUOT, 39):
		return errors.New("it is full. Make room there, or name another folder")
	case is(syscall.EROFS, 19):
		return errors.New("it can only be read. Lift its write protection, or name another folder")
	case is(syscall.EIO, 21), is(syscall.ENODEV, 55), is(syscall.ENXIO, 433):
		return errors.New("it does not answer. Plug it in again, or name another folder")
	case errors.Is(err, fs.ErrPermission):
		return errors.New("you may not write there. Name another folder")
	}
	return err
}

// fromHome is a path whose "~" is the user's own folder.
func fromHome(path string) string {
	rest, ok := strings.CutPrefix(path, "~")
	home, err := os.UserHomeDir()
	if !ok || err != nil || rest != "" && !os.IsPathSeparator(rest[0]) {
		return path
	}
	return filepath.Join(home, rest)
}

// Places are the folders that a copy is likely to go to: drives that are plugged in, then
// the user's own.
func Places() []string {
	var out []string
	add := func(path string) {
		if isFolder(path) {
			out = append(out, path)
		}
	}
	switch runtime.GOOS {
	case "windows":
		for letter := 'D'; letter <= 'Z'; letter++ {
			add(string(letter) + `:\`)
		}
	case "darwin":
		drives(add, "/Volumes/*")
	default:
		drives(add, "/media/*/*", "/run/media/*/*")
	}
	if home, err := os.UserHomeDir(); err == nil {
		for _, folder := range []string{"Desktop", "Documents", "Videos", "Movies", "Downloads", "."} {
			add(filepath.Join(home, folder))
		}
	}
	return out
}

func drives(add func(string), patterns ...string) {
	for _, p := range patterns {
		found, _ := filepath.Glob(p) // fails only for a bad pattern
		for _, path := range found {
			add(path)
		}
	}
}
