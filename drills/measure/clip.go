package measure

import (
	"errors"
	"fmt"
	"io"
	"math"

	"drillbay/camera/clip"
	"drillbay/camera/frame"
	"drillbay/camera/sight"
	"drillbay/drills/rep"
)

// Frames is a source of frames in order, io.EOF at the end; see clip.Reader.
type Frames interface {
	Next() (*frame.Picture, error)
}

// Reps finds and reads the reps of a source of frames. each, when not nil, is
// called for each rep once it is over, while its frames are held. Damaged
// frames are skipped, and counted in bad.
func Reps(src Frames, k rep.Known, d Drill, each func(Result, []*frame.Picture)) (reps []Result, frames, bad int, err error) {
	w, err := NewWatch(k.Setting, nil)
	if err != nil {
		return nil, 0, 0, err
	}
	defer w.Close()
	c := &seeking{reader: Reader{Known: k, Drill: d, Thorough: true}, each: each}
	defer c.release()
	for {
		p, err := src.Next()
		if errors.Is(err, io.EOF) {
			break
		}
		if errors.Is(err, clip.ErrNotAClip) {
			if bad++; bad > 1000 || frames == 0 && bad > 20 {
				return c.found, frames, bad, fmt.Errorf("too many damaged frames: %w", err)
			}
			continue
		}
		if err != nil {
			return c.found, frames, bad, err
		}
		frames++
		c.hold(p)
		if p.Seconds()-c.looked > watchStep-1e-4 || c.looked == 0 {
			c.looked = p.Seconds()
			g, _ := w.See(p)
			c.take(g)
		}
	}
	c.read()
	for i := range c.found {
		c.found[i].Rep.Number = i + 1
	}
	return c.found, frames, bad, nil
}

// seeking are the reps of a source as they come.
type seeking struct {
	reader  Reader
	each    func(Result, []*frame.Picture)
	held    []*frame.Picture // of the last keep seconds
	looked  float64          // s, by the live pass last
	pending []sight.Span     // what a rep that is not read yet was taken for, the newest last
	found   []Result
}

func (c *seeking) hold(p *frame.Picture) {
	c.held = append(c.held, p)
	for len(c.held) > 1 && p.Seconds()-c.held[0].Seconds() > keep {
		c.held[0].Release()
		c.held = append(c.held[:0], c.held[1:]...)
	}
}

func (c *seeking) release() { frame.ReleaseAll(c.held) }

// take goes on with what the live pass says. A rep is read once it is over: a
// later hold of the same rep takes the place of an earlier one, which was a
// pause, unless it is none: on the way back to address the club may seem to rest.
func (c *seeking) take(g sight.Glance) {
	if g.Caught {
		if n := len(c.pending); n > 0 && math.Abs(c.pending[n-1].Start-g.Span.Start) > sameStart {
			c.read()
		}
		if len(c.pending) == 0 || !c.reader.Known.FaceOn { // the way back shows there as well
			c.pending = append(c.pending, g.Span)
		}
	}
	if len(c.pending) == 0 {
		return
	}
	last := &c.pending[len(c.pending)-1]
	if g.Ended {
		last.End = g.Span.End
	}
	if over := g.At - last.Start; g.Phase == sight.Address || g.Phase == sight.Away || over > longestRep {
		c.read()
	}
}

// read reads the rep that is waiting.
func (c *seeking) read() {
	var r Result
	ok := false
	for i := len(c.pending) - 1; i >= 0 && !ok; i-- {
		r, ok = c.reader.Analyse(c.held, c.pending[i])
	}
	c.pending = c.pending[:0]
	if !ok {
		return
	}
	if n := len(c.held); math.IsNaN(r.Rep.Moments.End) && n > 0 {
		r.Rep.Moments.End = c.held[n-1].Seconds()
	}
	c.found = append(c.found, r)
	if c.each != nil {
		c.each(r, c.held)
	}
}
