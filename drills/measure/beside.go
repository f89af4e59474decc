package measure

import (
	"errors"
	"fmt"
	"io"
	"time"

	"drillbay/camera/clip"
	"drillbay/camera/frame"
)

// Beside writes two clips side by side, each picture of a with that of b of the
// same moment: what happens in a at a time happens in b later by offset, s. Where
// b has no picture its place is dark. It gives how many pictures were written.
func Beside(a, b clip.Reader, offset float64, to string) (n int, err error) {
	ai, bi := a.Info(), b.Info()
	wide := even2(float64(bi.Width) * float64(ai.Height) / float64(bi.Height))
	width, height := even2(float64(ai.Width))+wide, even2(float64(ai.Height))
	w, err := clip.NewWriter(to, width, height, ai.FPS)
	if err != nil {
		return 0, err
	}
	defer w.Drop()
	out := frame.New(width, height, frame.Sub420)
	other := &follower{src: b}
	defer other.close()
	for {
		p, err := a.Next()
		if errors.Is(err, io.EOF) {
			break
		}
		if errors.Is(err, clip.ErrNotAClip) && n > 0 {
			continue // a damaged frame
		}
		if err != nil {
			return n, err
		}
		q, err := other.at(p.Seconds() + offset)
		if err != nil {
			p.Release()
			return n, err
		}
		dark(out)
		place(out, p, 0, even2(float64(ai.Width)))
		if q != nil {
			place(out, q, width-wide, wide)
		}
		out.Index, out.At, out.Full = p.Index, p.At, true
		err = w.Add(out)
		p.Release()
		if err != nil {
			return n, err
		}
		n++
	}
	if n == 0 {
		return 0, fmt.Errorf("the clip has no pictures: %w", clip.ErrNotAClip)
	}
	return n, w.Close()
}

func even2(x float64) int { return 2 * max(1, int(x/2+0.5)) }

// follower gives a clip's pictures by their time, going on only.
type follower struct {
	src       clip.Reader
	now, next *frame.Picture
	over      bool
}

// at is the picture nearest to a time, s, nil where the clip has none.
func (f *follower) at(t float64) (*frame.Picture, error) {
	for !f.over && (f.next == nil || f.next.Seconds() < t) {
		p, err := f.src.Next()
		switch {
		case errors.Is(err, io.EOF):
			f.over = true
			continue
		case errors.Is(err, clip.ErrNotAClip) && f.next != nil:
			continue
		case err != nil:
			return nil, err
		}
		if f.now != nil {
			f.now.Release()
		}
		f.now, f.next = f.next, p
	}
	const most = 0.25 // s from where the clip begins or ends
	best := f.next
	if f.now != nil && (best == nil || t-f.now.Seconds() < best.Seconds()-t) {
		best = f.now
	}
	if best == nil || (best.At-time.Duration(t*float64(time.Second))).Abs() > time.Duration(most*float64(time.Second)) {
		return nil, nil
	}
	return best, nil
}

func (f *follower) close() {
	for _, p := range []*frame.Picture{f.now, f.next} {
		if p != nil {
			p.Release()
		}
	}
}

// dark empties a picture.
func dark(p *frame.Picture) {
	clear(p.Y)
	for i := range p.Cb {
		p.Cb[i], p.Cr[i] = 128, 128
	}
}

// place puts a picture into another at x, wide px across and as high as that is:
// the nearest sample of each plane, its range made full.
func place(to, p *frame.Picture, x, wide int) {
	plane := func(dst []byte, dstStride, dx, dw, dh int, src []byte, srcStride, sw, sh int, level func(byte) byte) {
		for r := range dh {
			line := src[r*sh/dh*srcStride:]
			for c := range dw {
				dst[r*dstStride+dx+c] = level(line[c*sw/dw])
			}
		}
	}
	luma, chroma := func(v byte) byte { return v }, func(v byte) byte { return v }
	if !p.Full {
		luma, chroma = frame.FullLuma, frame.FullChroma
	}
	plane(to.Y, to.YStride, x, wide, to.Height, p.Y, p.YStride, p.Width, p.Height, luma)
	plane(to.Cb, to.CStride, x/2, wide/2, to.ChromaHeight(), p.Cb, p.CStride, p.ChromaWidth(), p.ChromaHeight(), chroma)
	plane(to.Cr, to.CStride, x/2, wide/2, to.ChromaHeight(), p.Cr, p.CStride, p.ChromaWidth(), p.ChromaHeight(), chroma)
}
