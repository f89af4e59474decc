package clip

import (
	"bytes"
	"errors"
	"io"
	"os"
	"path/filepath"
	"testing"

	"drillbay/camera/frame"
)

// budget is the memory that the pictures of a fuzzed clip may take, bytes.
const budget = 32 << 20

// drain reads a clip as far as a hundred pictures, and fails when something
// else is wrong with it than its reader may say.
func drain(t *testing.T, r Reader, pool *frame.Pool) {
	t.Helper()
	i := r.Info()
	if i.Width < 16 || i.Height < 16 || i.Width > MaxSide || i.Height > MaxSide || i.Width*i.Height > MaxPixels || !(i.FPS >= 1 && i.FPS <= 1000) || i.Frames > MaxFrames {
		t.Fatalf("an impossible clip is accepted: %+v", i)
	}
	last := -1.0
	for range 100 {
		p, err := r.Next()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			continue
		}
		if p.Width != i.Width || p.Height != i.Height || p.Seconds() < last {
			t.Fatalf("a picture of %d × %d at %v after %v in %+v", p.Width, p.Height, p.Seconds(), last, i)
		}
		last = p.Seconds()
		p.Release()
	}
	if pool.InUse() > budget {
		t.Fatalf("%d bytes of pictures", pool.InUse())
	}
	if err := r.Close(); err != nil {
		t.Fatal(err)
	}
}

// FuzzAVI: whatever lies in an AVI, it is read or refused with a sentence that
// says it is no clip, or too large.
func FuzzAVI(f *testing.F) {
	f.Fuzz(func(t *testing.T, data []byte) {
		pool := frame.NewPool(budget)
		r, err := NewAVI(bytes.NewReader(data), int64(len(data)), "fuzz.avi", pool)
		if err != nil {
			if !errors.Is(err, ErrNotAClip) && !errors.Is(err, ErrTooLarge) {
				t.Fatalf("neither no clip nor too large: %v", err)
			}
			return
		}
		drain(t, r, pool)
	})
}

// FuzzPictures: the same for a folder of pictures.
func FuzzPictures(f *testing.F) {
	f.Fuzz(func(t *testing.T, first, second []byte, png bool) {
		dir := t.TempDir()
		ending := ".jpg"
		if png {
			ending = ".png"
		}
		for i, data := range [][]byte{first, second} {
			if err := os.WriteFile(filepath.Join(dir, string(rune('a'+i))+ending), data, 0o600); err != nil {
				t.Fatal(err)
			}
		}
		pool := frame.NewPool(budget)
		r, err := openSequence(dir, 30, pool)
		if err != nil {
			if !errors.Is(err, ErrNotAClip) && !errors.Is(err, ErrTooLarge) {
				t.Fatalf("neither no clip nor too large: %v", err)
			}
			return
		}
		drain(t, r, pool)
	})
}

// FuzzProbe: what another program says of a clip is believed no more than the
// clip itself.
func FuzzProbe(f *testing.F) {
	f.Fuzz(func(t *testing.T, said []byte) {
		s, err := understand(said, "fuzz.mp4", 0)
		if err != nil {
			if !errors.Is(err, ErrNotAClip) && !errors.Is(err, ErrTooLarge) && !errors.Is(err, ErrRate) {
				t.Fatalf("neither no clip nor too large: %v", err)
			}
			return
		}
		last := 0.0
		for _, at := range s.times {
			if !(at >= last && at <= MaxSeconds) {
				t.Fatalf("a picture at %v after %v", at, last)
			}
			last = at
		}
		if s.width < 16 || s.height < 16 || s.width*s.height > MaxPixels || len(s.times) > MaxFrames || !(s.fps > 0) {
			t.Fatalf("an impossible clip is accepted: %+v", s)
		}
	})
}
