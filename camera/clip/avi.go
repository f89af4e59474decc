package clip

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"image/jpeg"
	"io"
	"math"
	"time"

	"drillbay/camera/frame"
)

// The AVI layout is that of the AVI RIFF file reference with the OpenDML 1.02
// extension (further 'RIFF AVIX' parts); Motion JPEG frames are whole JFIF
// files in '00dc' or '00db' chunks.

// AVI reads Motion JPEG from an AVI file.
type AVI struct {
	src    io.ReaderAt
	closer io.Closer
	info   Info
	rate   uint32 // frames are scale/rate seconds apart
	scale  uint32
	at     []chunk
	next   int
	buf    []byte
	pool   *frame.Pool
}

type chunk struct {
	offset int64
	size   uint32
}

// NewAVI reads the header and finds the frames of an AVI of the given size in
// bytes. The reader closes src when src is an io.Closer. Errors wrap
// ErrNotAClip or ErrTooLarge.
func NewAVI(src io.ReaderAt, size int64, name string, pool *frame.Pool) (*AVI, error) {
	a := &AVI{src: src, info: Info{Name: name, Shrunk: 1}, pool: pool}
	if err := a.walk(0, size, 0); err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	if a.info.Width == 0 || a.rate == 0 {
		return nil, fmt.Errorf("%s has no video header: %w", name, ErrNotAClip)
	}
	if err := checkSize(name, a.info.Width, a.info.Height); err != nil {
		return nil, err
	}
	a.info.FPS = float64(a.rate) / float64(a.scale)
	if a.info.FPS < 1 || a.info.FPS > 1000 {
		return nil, fmt.Errorf("%s: a frame rate of %.4g per second is not believed (1 to 1000): %w", name, a.info.FPS, ErrNotAClip)
	}
	if a.info.Frames = len(a.at); a.info.Frames == 0 {
		return nil, fmt.Errorf("%s has no pictures, or is cut off before them: %w", name, ErrNotAClip)
	}
	if s := float64(len(a.at)) / a.info.FPS; s > MaxSeconds {
		return nil, fmt.Errorf("%s lasts %.0f s; at most %.0f s are read: %w", name, s, MaxSeconds, ErrTooLarge)
	}
	if c, ok := src.(io.Closer); ok {
		a.closer = c
	}
	return a, nil
}

// taken sets how many frames a second were taken; 0 leaves what the file says.
func (a *AVI) taken(fps float64) {
	if fps > 0 {
		a.rate, a.scale = uint32(math.Round(fps*1000)), 1000
		a.info.FPS = fps
	}
}

// walk goes through the chunks in [from, to).
func (a *AVI) walk(from, to int64, depth int) error {
	var head [12]byte
	for from+8 <= to {
		if _, err := a.src.ReadAt(head[:8], from); err != nil {
			return nil // truncated: what was found counts
		}
		id := string(head[:4])
		size := binary.LittleEndian.Uint32(head[4:8])
		body := from + 8
		end := min(body+int64(size), to)
		switch {
		case id == "RIFF" || id == "LIST":
			if _, err := a.src.ReadAt(head[8:12], body); err != nil {
				return nil
			}
			kind := string(head[8:12])
			if depth == 0 && (id != "RIFF" || kind != "AVI " && kind != "AVIX") {
				return errForeign
			}
			a.info.Cut = a.info.Cut || depth == 0 && body+int64(size) > to
			if size == 0 && id == "RIFF" || kind == "movi" && size == 0 {
				end = to // never finished by its writer
			}
			if depth < 4 {
				if err := a.walk(body+4, end, depth+1); err != nil {
					return err
				}
			}
		case depth == 0:
			return errForeign
		case id == "strh":
			if err := a.streamHeader(body, end); err != nil {
				return err
			}
		case id == "strf":
			if err := a.streamFormat(body, end); err != nil {
				return err
			}
		case (id == "00dc" || id == "00db") && size > 0:
			if size > MaxFrameBytes {
				return fmt.Errorf("a frame of %d MB: %w", size>>20, ErrTooLarge)
			}
			if body+int64(size) <= to {
				if len(a.at) >= MaxFrames {
					return fmt.Errorf("more than %d frames: %w", MaxFrames, ErrTooLarge)
				}
				a.at = append(a.at, chunk{body, size})
			}
		}
		from = body + int64(size) + int64(size&1)
		if end > from && (id == "RIFF" || id == "LIST") {
			from = end
		}
	}
	return nil
}

func (a *AVI) streamHeader(body, end int64) error {
	var h [48]byte
	n := int(min(end-body, int64(len(h))))
	if n < 32 || a.rate != 0 {
		return nil
	}
	if _, err := a.src.ReadAt(h[:n], body); err != nil {
		return nil
	}
	if string(h[:4]) != "vids" {
		return nil
	}
	a.scale = binary.LittleEndian.Uint32(h[20:])
	a.rate = binary.LittleEndian.Uint32(h[24:])
	if a.scale == 0 || a.rate == 0 {
		return fmt.Errorf("the header gives no frame rate: %w", ErrNotAClip)
	}
	return nil
}

func (a *AVI) streamFormat(body, end int64) error {
	var h [40]byte
	if end-body < int64(len(h)) || a.rate == 0 || a.info.Width != 0 {
		return nil
	}
	if _, err := a.src.ReadAt(h[:], body); err != nil {
		return nil
	}
	switch string(h[16:20]) {
	case "MJPG", "mjpg", "JPEG", "jpeg", "AVRn":
	default:
		return errForeign
	}
	w := int64(int32(binary.LittleEndian.Uint32(h[4:])))
	hh := int64(int32(binary.LittleEndian.Uint32(h[8:])))
	if w <= 0 || hh == 0 || w > math.MaxInt32 {
		return fmt.Errorf("the header gives the picture size %d × %d: %w", w, hh, ErrNotAClip)
	}
	a.info.Width, a.info.Height = int(w), int(max(hh, -hh))
	return nil
}

// Info describes the clip.
func (a *AVI) Info() Info { return a.info }

// Next decodes the next frame; see Reader.
func (a *AVI) Next() (*frame.Picture, error) {
	if a.next >= len(a.at) {
		return nil, io.EOF
	}
	i := a.next
	c := a.at[i]
	a.next++
	if cap(a.buf) < int(c.size) {
		a.buf = make([]byte, c.size)
	}
	a.buf = a.buf[:c.size]
	if _, err := a.src.ReadAt(a.buf, c.offset); err != nil && !errors.Is(err, io.EOF) {
		return nil, fmt.Errorf("%s, frame %d: %w", a.info.Name, i, err)
	}
	p, err := decodeJPEG(a.buf, a.info, a.pool)
	if err != nil {
		return nil, fmt.Errorf("%s, frame %d: %w", a.info.Name, i, err)
	}
	p.Index = int64(i)
	p.At = time.Duration(float64(i) * float64(a.scale) / float64(a.rate) * float64(time.Second))
	return p, nil
}

// decodeJPEG decodes one frame into a 4:2:0 picture of the clip's size.
func decodeJPEG(data []byte, info Info, pool *frame.Pool) (*frame.Picture, error) {
	cfg, err := jpeg.DecodeConfig(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("damaged picture (%v): %w", err, ErrNotAClip)
	}
	if cfg.Width != info.Width || cfg.Height != info.Height {
		return nil, fmt.Errorf("the picture is %d × %d, the clip %d × %d: %w", cfg.Width, cfg.Height, info.Width, info.Height, ErrNotAClip)
	}
	img, err := jpeg.Decode(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("damaged picture (%v): %w", err, ErrNotAClip)
	}
	p := pool.Get(info.Width, info.Height, frame.Sub420)
	if p == nil {
		return nil, fmt.Errorf("frames of %d × %d take too much memory: make the clip smaller: %w", info.Width, info.Height, ErrTooLarge)
	}
	if err := p.CopyImage(img); err != nil {
		p.Release()
		return nil, fmt.Errorf("%v: %w", err, ErrNotAClip)
	}
	return p, nil
}

// Close closes the file.
func (a *AVI) Close() error {
	c := a.closer
	a.closer, a.next = nil, len(a.at)
	if c != nil {
		return c.Close()
	}
	return nil
}
