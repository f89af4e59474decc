// Package frame is one picture of the camera: planar YCbCr with its index and
// its time on the capture clock, counted and pooled so that the live path
// allocates nothing per frame.
package frame

import (
	"fmt"
	"image"
	"sync/atomic"
	"time"
)

// Subsampling says how the chroma planes are sampled.
type Subsampling uint8

const (
	// Sub420 has half the columns and half the rows.
	Sub420 Subsampling = iota
	// Sub422 has half the columns and all rows.
	Sub422
)

// MaxSide is the longest side that is accepted, px.
const MaxSide = 8192

// Picture is one frame. Width and Height are in pixels; Y has Height rows of
// YStride bytes, Cb and Cr have ChromaHeight rows of CStride bytes. Full says
// full range (0–255, JFIF) rather than limited (16–235, ITU-R BT.601).
//
// A picture from a Pool is held by reference count: Get returns it with one,
// Retain adds one, Release gives one back, and at none it returns to its pool.
// Who holds a reference may read; nobody writes after it was published.
type Picture struct {
	Width, Height    int
	Y, Cb, Cr        []byte
	YStride, CStride int
	Sub              Subsampling
	Full             bool
	Index            int64
	At               time.Duration // capture clock

	refs atomic.Int32
	pool *Pool
}

// Seconds is At in seconds of the capture clock.
func (p *Picture) Seconds() float64 { return p.At.Seconds() }

// FullLuma is a limited level (16–235, ITU-R BT.601) as a full one (0–255, ITU-T
// T.871).
func FullLuma(v byte) byte { return widened(v, 16, 219, 0) }

// FullChroma is a limited level of Cb or Cr (16–240 about 128) as a full one.
func FullChroma(v byte) byte { return widened(v, 128, 224, 128) }

func widened(v byte, zero, span, middle int) byte {
	return byte(min(max(((int(v)-zero)*255+span/2)/span+middle, 0), 255))
}

// ChromaWidth is the width of the chroma planes in samples.
func (p *Picture) ChromaWidth() int { return (p.Width + 1) / 2 }

// ChromaHeight is the height of the chroma planes in samples.
func (p *Picture) ChromaHeight() int {
	if p.Sub == Sub422 {
		return p.Height
	}
	return (p.Height + 1) / 2
}

// Bytes is the memory that the planes take.
func (p *Picture) Bytes() int { return len(p.Y) + len(p.Cb) + len(p.Cr) }

// New returns an unpooled picture with planes of its own.
// It panics when a side is not within 1..MaxSide: the caller checks first.
func New(width, height int, sub Subsampling) *Picture {
	if width < 1 || height < 1 || width > MaxSide || height > MaxSide {
		panic(fmt.Sprintf("frame: size %d × %d is out of range", width, height))
	}
	p := &Picture{}
	p.shape(width, height, sub)
	p.refs.Store(1)
	return p
}

// shape sizes the planes, keeping memory that is large enough.
func (p *Picture) shape(width, height int, sub Subsampling) {
	p.Width, p.Height, p.Sub, p.Full = width, height, sub, true
	p.YStride, p.CStride = width, (width+1)/2
	p.Y = grow(p.Y, width*height)
	c := p.CStride * p.ChromaHeight()
	p.Cb, p.Cr = grow(p.Cb, c), grow(p.Cr, c)
	p.Index, p.At = 0, 0
}

func grow(b []byte, n int) []byte {
	if cap(b) < n {
		return make([]byte, n)
	}
	return b[:n]
}

// Retain adds a reference and returns p.
func (p *Picture) Retain() *Picture {
	p.refs.Add(1)
	return p
}

// Release gives one reference back; at none the picture returns to its pool.
// It panics on a reference too many.
func (p *Picture) Release() {
	switch n := p.refs.Add(-1); {
	case n < 0:
		panic("frame: released more often than retained")
	case n == 0 && p.pool != nil:
		p.pool.put(p)
	}
}

// Image shows the picture as a standard image that shares its planes. The
// range is not converted: a limited-range picture looks pale.
func (p *Picture) Image() *image.YCbCr {
	ratio := image.YCbCrSubsampleRatio420
	if p.Sub == Sub422 {
		ratio = image.YCbCrSubsampleRatio422
	}
	return &image.YCbCr{
		Y: p.Y, Cb: p.Cb, Cr: p.Cr, YStride: p.YStride, CStride: p.CStride,
		SubsampleRatio: ratio, Rect: image.Rect(0, 0, p.Width, p.Height),
	}
}

// ReleaseAll gives pictures back.
func ReleaseAll(pics []*Picture) {
	for _, p := range pics {
		p.Release()
	}
}
