package clip

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"image"
	"image/jpeg"
	"math"
	"path/filepath"

	"drillbay/camera/frame"
	"drillbay/camera/whole"
)

// Writer writes Motion JPEG into an AVI file: one RIFF part with an index,
// which ordinary players read. The file appears under its name only once
// Close has put all of it on the disk.
type Writer struct {
	file          *whole.File
	path          string
	width, height int
	fps           float64
	index         []byte
	frames        int
	largest       int
	size          int64 // bytes written
	begin         float64
	body          bytes.Buffer // the frame as it is coded
	full          *image.YCbCr
	err           error
}

const (
	writeQuality = 88
	// largestAVI is the size in bytes up to which an AVI of one part is read
	// by everything (AVI RIFF file reference: 1 GB for the first part).
	largestAVI = 1 << 30
	headBytes  = 12 + 8 + 4 + 64 + 8 + 4 + 64 + 48 + 12
	longestGap = 5.0 // s that a frame is repeated for at most
)

// NewWriter begins a clip of pictures of one size at fps frames a second.
func NewWriter(path string, width, height int, fps float64) (*Writer, error) {
	if err := checkSize(filepath.Base(path), width, height); err != nil {
		return nil, err
	}
	if !(fps >= 1 && fps <= 1000) {
		return nil, fmt.Errorf("a clip of %.4g frames a second cannot be written (1 to 1000)", fps)
	}
	f, err := whole.Create(path)
	if err != nil {
		return nil, fmt.Errorf("cannot write the clip %s: %w", filepath.Base(path), err)
	}
	w := &Writer{file: f, path: path, width: width, height: height, fps: fps}
	w.put(make([]byte, headBytes))
	return w, w.err
}

// Add writes a picture at its place in time, counted from the first one:
// where pictures are missing the one before is shown longer, and one that
// comes sooner than its place is left out.
func (w *Writer) Add(p *frame.Picture) error {
	if w.err != nil {
		return w.err
	}
	if p.Width != w.width || p.Height != w.height {
		return w.fail(fmt.Errorf("a picture of %d × %d in a clip of %d × %d", p.Width, p.Height, w.width, w.height))
	}
	if w.frames == 0 {
		w.begin = p.Seconds()
	}
	place := int(math.Round((p.Seconds() - w.begin) * w.fps))
	if place < w.frames {
		return nil
	}
	if float64(place-w.frames) > longestGap*w.fps {
		return w.fail(fmt.Errorf("a gap of more than %.0f s in a clip", longestGap))
	}
	for w.frames > 0 && w.frames < place {
		w.chunk() // what was coded last
	}
	w.body.Reset()
	if err := jpeg.Encode(&w.body, w.fullRange(p), &jpeg.Options{Quality: writeQuality}); err != nil {
		return w.fail(err)
	}
	w.chunk()
	return w.err
}

// fullRange is the picture as JFIF has it: all of 0–255 (ITU-T T.871).
func (w *Writer) fullRange(p *frame.Picture) *image.YCbCr {
	img := p.Image()
	if p.Full {
		return img
	}
	if w.full == nil {
		w.full = image.NewYCbCr(image.Rect(0, 0, w.width, w.height), img.SubsampleRatio)
	}
	widen := func(dst, src []byte, dstStride, srcStride, width, height int, full func(byte) byte) {
		var levels [256]byte
		for v := range levels {
			levels[v] = full(byte(v))
		}
		for y := range height {
			for x, v := range src[y*srcStride : y*srcStride+width] {
				dst[y*dstStride+x] = levels[v]
			}
		}
	}
	f := w.full
	widen(f.Y, img.Y, f.YStride, img.YStride, w.width, w.height, frame.FullLuma)
	cw, ch := p.ChromaWidth(), p.ChromaHeight()
	widen(f.Cb, img.Cb, f.CStride, img.CStride, cw, ch, frame.FullChroma)
	widen(f.Cr, img.Cr, f.CStride, img.CStride, cw, ch, frame.FullChroma)
	return f
}

// chunk writes the coded frame once more and notes it in the index.
func (w *Writer) chunk() {
	n := w.body.Len()
	if w.size+int64(n)+int64(len(w.index))+64 > largestAVI || w.frames >= MaxFrames {
		w.fail(fmt.Errorf("a clip over 1 GB: keep a shorter part"))
		return
	}
	w.index = append(w.index, "00dc"...)
	w.index = le(w.index, 0x10, uint32(w.size-headBytes+4), uint32(n)) // a key frame; its place is counted from "movi"
	w.put(le([]byte("00dc"), uint32(n)))
	w.put(w.body.Bytes())
	if n&1 == 1 {
		w.put([]byte{0})
	}
	w.frames++
	w.largest = max(w.largest, n)
}

func le(b []byte, values ...uint32) []byte {
	for _, v := range values {
		b = binary.LittleEndian.AppendUint32(b, v)
	}
	return b
}

func (w *Writer) put(b []byte) {
	if w.err == nil {
		n, err := w.file.Write(b)
		w.size += int64(n)
		if err != nil {
			w.fail(unwrapPath(err))
		}
	}
}

func (w *Writer) fail(err error) error {
	if w.err == nil {
		w.err = fmt.Errorf("cannot write the clip %s: %w", filepath.Base(w.path), err)
	}
	return w.err
}

// head is everything before the first frame.
func (w *Writer) head(movi int64) []byte {
	scale := uint32(1000)
	rate := uint32(math.Round(w.fps * 1000))
	wide, high, n := uint32(w.width), uint32(w.height), uint32(w.frames)
	b := le([]byte("RIFF"), uint32(w.size-8))
	b = le(append(b, "AVI LIST"...), 4+64+8+4+64+48)
	b = le(append(b, "hdrlavih"...), 56, uint32(math.Round(1e6/w.fps)), uint32(float64(w.largest)*w.fps), 0, 0x10, n, 0, 1, uint32(w.largest), wide, high, 0, 0, 0, 0)
	b = le(append(b, "LIST"...), 4+64+48)
	b = le(append(b, "strlstrh"...), 56)
	b = le(append(b, "vidsMJPG"...), 0, 0, 0, scale, rate, 0, n, uint32(w.largest), math.MaxUint32, 0, 0, wide|high<<16)
	b = le(append(b, "strf"...), 40, 40, wide, high, 1|24<<16)
	b = le(append(b, "MJPG"...), wide*high*3, 0, 0, 0, 0)
	b = le(append(b, "LIST"...), uint32(movi-headBytes+4))
	return append(b, "movi"...)
}

// Close finishes the clip, puts it on the disk and gives it its name. A clip
// without a frame is an error. After a failed Add nothing is left behind.
func (w *Writer) Close() error {
	if w.file == nil {
		return w.err
	}
	if w.err == nil && w.frames == 0 {
		w.fail(errors.New("it has no frame"))
	}
	movi := w.size
	w.put(le([]byte("idx1"), uint32(len(w.index))))
	w.put(w.index)
	if w.err == nil {
		if _, err := w.file.WriteAt(w.head(movi), 0); err != nil {
			w.fail(unwrapPath(err))
		}
	}
	f := w.file
	w.file = nil
	if w.err != nil {
		f.Drop()
		return w.err
	}
	if err := f.Keep(); err != nil {
		return w.fail(err)
	}
	return nil
}

// Drop gives a clip up: nothing is left of it.
func (w *Writer) Drop() {
	w.fail(errors.New("it was given up"))
	_ = w.Close()
}
