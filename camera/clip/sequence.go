package clip

import (
	"fmt"
	"image"
	_ "image/jpeg" // registers the decoder
	_ "image/png"  // registers the decoder
	"io"
	"os"
	"path/filepath"
	"sort"
	"strings"
	"time"

	"drillbay/camera/frame"
	"drillbay/camera/whole"
)

// sequence reads a folder of pictures in the order of their names.
type sequence struct {
	info  Info
	files []string
	next  int
	pool  *frame.Pool
}

func openSequence(dir string, fps float64, pool *frame.Pool) (Reader, error) {
	if fps == 0 {
		fps = 30
	}
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil, fmt.Errorf("cannot read the folder %s: %w", dir, unwrapPath(err))
	}
	s := &sequence{info: Info{Name: filepath.Base(dir), FPS: fps, Shrunk: 1}, pool: pool}
	for _, e := range entries {
		switch strings.ToLower(filepath.Ext(e.Name())) {
		case ".png", ".jpg", ".jpeg":
			if !e.IsDir() {
				s.files = append(s.files, filepath.Join(dir, e.Name()))
			}
		}
	}
	sort.Strings(s.files)
	if len(s.files) == 0 {
		return nil, fmt.Errorf("the folder %s has no PNG or JPEG pictures: %w", dir, ErrNotAClip)
	}
	if len(s.files) > MaxFrames {
		return nil, fmt.Errorf("the folder %s has %d pictures; at most %d are read: %w", dir, len(s.files), MaxFrames, ErrTooLarge)
	}
	f, err := whole.Open(s.files[0])
	if err != nil {
		return nil, fmt.Errorf("cannot open %s: %w", s.files[0], unwrapPath(err))
	}
	defer f.Close()
	cfg, _, err := image.DecodeConfig(f)
	if err != nil {
		return nil, fmt.Errorf("%s is damaged (%v): %w", filepath.Base(s.files[0]), err, ErrNotAClip)
	}
	if err := checkSize(s.info.Name, cfg.Width, cfg.Height); err != nil {
		return nil, err
	}
	s.info.Width, s.info.Height, s.info.Frames = cfg.Width, cfg.Height, len(s.files)
	return s, nil
}

func (s *sequence) Info() Info { return s.info }

func (s *sequence) Next() (*frame.Picture, error) {
	if s.next >= len(s.files) {
		return nil, io.EOF
	}
	i := s.next
	s.next++
	name := filepath.Base(s.files[i])
	f, err := whole.Open(s.files[i])
	if err != nil {
		return nil, fmt.Errorf("cannot open %s: %w", name, unwrapPath(err))
	}
	defer f.Close()
	cfg, _, err := image.DecodeConfig(f)
	if err != nil || cfg.Width != s.info.Width || cfg.Height != s.info.Height {
		return nil, fmt.Errorf("%s is damaged or not %d × %d like the first picture: %w", name, s.info.Width, s.info.Height, ErrNotAClip)
	}
	if _, err := f.Seek(0, io.SeekStart); err != nil {
		return nil, fmt.Errorf("cannot read %s: %w", name, err)
	}
	img, _, err := image.Decode(f)
	if err != nil {
		return nil, fmt.Errorf("%s is damaged (%v): %w", name, err, ErrNotAClip)
	}
	p := s.pool.Get(s.info.Width, s.info.Height, frame.Sub420)
	if p == nil {
		return nil, fmt.Errorf("frames of %d × %d take too much memory: make the clip smaller: %w", s.info.Width, s.info.Height, ErrTooLarge)
	}
	if err := p.CopyImage(img); err != nil {
		p.Release()
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	p.Index = int64(i)
	p.At = time.Duration(float64(i) / s.info.FPS * float64(time.Second))
	return p, nil
}

func (s *sequence) Close() error {
	s.next = len(s.files)
	return nil
}
