// Package whole writes files that appear whole: under another name first, put
// on the disk, then renamed. A program that is ended half-way leaves nothing
// under the final name. What is read and written are files: no pipe, which may
// never say anything, and no device.
package whole

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"time"
)

// early begins the name of a file that is being written.
const early = ".drillbay-"

// File is a file that is being written. Drop, or Keep, ends it.
type File struct {
	*os.File
	path string
}

// ErrNoFile is the error for what is there and is not a file.
var ErrNoFile = errors.New("it is not a file, but a folder, a pipe or a device")

// Open opens a file to read.
func Open(path string) (*os.File, error) {
	if st, err := os.Stat(path); err == nil && !st.Mode().IsRegular() {
		return nil, &os.PathError{Op: "open", Path: path, Err: ErrNoFile}
	}
	return os.Open(path)
}

// Create begins a file, readable by the user alone; errors are those of the
// operating system, without a path of their own. What a program that was killed
// left in the folder more than an hour ago is removed.
func Create(path string) (*File, error) {
	if st, err := os.Stat(path); err == nil {
		if !st.Mode().IsRegular() {
			return nil, ErrNoFile
		}
		if to, err := filepath.EvalSymlinks(path); err == nil {
			path = to // a link stays one
		}
	}
	sweep(filepath.Dir(path), time.Now())
	f, err := os.CreateTemp(filepath.Dir(path), early+filepath.Base(path)+"-*")
	if err != nil {
		return nil, bare(err)
	}
	return &File{f, path}, nil
}

// Keep puts the file on the disk and gives it its name. After an error nothing
// is left behind.
func (f *File) Keep() error {
	err := f.Sync()
	if cerr := f.Close(); err == nil {
		err = cerr
	}
	if err == nil {
		err = os.Rename(f.Name(), f.path)
	}
	if err != nil {
		_ = os.Remove(f.Name()) // what is wrong is told already
		return bare(err)
	}
	syncFolder(filepath.Dir(f.path))
	return nil
}

// Drop gives the file up: nothing is left of it.
func (f *File) Drop() {
	_ = f.Close()
	_ = os.Remove(f.Name())
}

// Write writes a file that appears once write has returned without an error.
func Write(path string, write func(io.Writer) error) error {
	f, err := Create(path)
	if err != nil {
		return err
	}
	if err := write(f); err != nil {
		f.Drop()
		return bare(err)
	}
	return f.Keep()
}

// sweep leaves what is younger: another program may be writing it.
func sweep(folder string, now time.Time) {
	entries, _ := os.ReadDir(folder) // Create says what is wrong with it
	for _, e := range entries {
		if !strings.HasPrefix(e.Name(), early) || !e.Type().IsRegular() {
			continue
		}
		if info, err := e.Info(); err == nil && now.Sub(info.ModTime()) > time.Hour {
			_ = os.Remove(filepath.Join(folder, e.Name()))
		}
	}
}

// syncFolder puts the new name on the disk where the system can.
func syncFolder(path string) {
	if d, err := os.Open(path); err == nil {
		_ = d.Sync()
		_ = d.Close()
	}
}

// bare is an error without the name of the file that is being written, which
// tells nobody anything.
func bare(err error) error {
	switch e := err.(type) { // not wrapped: what others have said about it stays
	case *os.PathError:
		return e.Err
	case *os.LinkError:
		return e.Err
	}
	return err
}
