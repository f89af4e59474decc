// Package clip reads and writes recordings: Motion-JPEG AVI in and out, image
// sequences in, and anything else through the ffmpeg program when it is
// there. Limits are checked before memory is taken.
package clip

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"drillbay/camera/frame"
	"drillbay/camera/whole"
)

// Limits on what is read; a clip beyond them is refused with ErrTooLarge.
const (
	MaxSide       = frame.MaxSide // px
	MaxPixels     = 4096 * 2304   // of one picture
	MaxFrames     = 200_000
	MaxFrameBytes = 32 << 20 // one compressed frame
	MaxFileBytes  = 16 << 30
	MaxSeconds    = 3600.0
)

// ErrTooLarge is wrapped by errors about clips beyond the limits.
var ErrTooLarge = errors.New("larger than drillbay reads")

// ErrNotAClip is wrapped by errors about files that are no readable clip.
var ErrNotAClip = errors.New("not a clip that drillbay can read")

// Info describes a clip. FPS is the mean frame rate; Frames is -1 when it is
// not known before the end.
type Info struct {
	Name          string
	Width, Height int
	FPS           float64
	Frames        int
	// Shrunk is the whole number by which the pictures were made smaller than
	// the clip's, 1 when they were not.
	Shrunk int
	// Guessed says that only the clip's own play tells its speed: slow motion
	// that does not say so is read too slow.
	Guessed bool
	// Cut says that the file ends before the clip does.
	Cut bool
}

// Reader gives the frames of a clip in order.
//
// Next returns a picture with one reference, its Index counted from 0 and its
// At set to the time of the frame; the caller releases it. At the end it
// returns io.EOF. A damaged frame returns an error that wraps ErrNotAClip and
// the caller may go on with the next. Close frees everything and may be
// called twice.
type Reader interface {
	Info() Info
	Next() (*frame.Picture, error)
	Close() error
}

// Open opens a clip: an AVI with Motion JPEG, a folder of PNG or JPEG pictures (read in the
// order of their names), or anything that ffmpeg reads when it is installed: there, large
// pictures are made smaller and very many a second thinned, so that a rep fits into memory.
// fps is the frame rate at which the clip was taken; 0 stands for the rate that the file
// says, and for 30 in a folder. A nil pool makes one.
func Open(path string, fps float64, pool *frame.Pool) (Reader, error) {
	if err := checkRate(fps); err != nil {
		return nil, err
	}
	if pool == nil {
		pool = frame.NewPool(1 << 30)
	}
	st, err := os.Stat(path)
	if err != nil {
		return nil, fmt.Errorf("cannot open the clip %s: %w", path, unwrapPath(err))
	}
	if st.IsDir() {
		return openSequence(path, fps, pool)
	}
	if st.Size() > MaxFileBytes {
		return nil, fmt.Errorf("%s has %d MB; at most %d MB are read: %w", filepath.Base(path), st.Size()>>20, MaxFileBytes>>20, ErrTooLarge)
	}
	f, err := whole.Open(path)
	if err != nil {
		return nil, fmt.Errorf("cannot open the clip %s: %w", path, unwrapPath(err))
	}
	r, err := NewAVI(f, st.Size(), filepath.Base(path), pool)
	if err == nil {
		r.taken(fps)
		return r, nil
	}
	f.Close()
	if errors.Is(err, ErrTooLarge) {
		return nil, err
	}
	if errors.Is(err, errForeign) || !strings.EqualFold(filepath.Ext(path), ".avi") {
		return openFFmpeg(path, fps, pool)
	}
	return nil, err
}

func unwrapPath(err error) error {
	var pe *os.PathError
	if errors.As(err, &pe) {
		return pe.Err
	}
	return err
}

// errForeign marks a file that is sound but not Motion-JPEG AVI.
var errForeign = fmt.Errorf("not Motion-JPEG AVI: %w", ErrNotAClip)

// checkRate says what is wrong with frames a second that were given.
func checkRate(fps float64) error {
	if fps != 0 && !(fps >= 1 && fps <= 1000) {
		return fmt.Errorf("%.4g frames a second cannot be: give 1 to 1000: %w", fps, ErrRate)
	}
	return nil
}

func checkSize(name string, w, h int) error {
	if w < 16 || h < 16 {
		return fmt.Errorf("%s: the picture size %d × %d is too small: %w", name, w, h, ErrNotAClip)
	}
	if w > MaxSide || h > MaxSide {
		return fmt.Errorf("%s: the picture size %d × %d is over %d: %w", name, w, h, MaxSide, ErrTooLarge)
	}
	if w*h > MaxPixels {
		return fmt.Errorf("%s: a picture of %d × %d has more than %d million pixels: %w", name, w, h, MaxPixels/1_000_000, ErrTooLarge)
	}
	return nil
}

var _ io.Closer = Reader(nil)
