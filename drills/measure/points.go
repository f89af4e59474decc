package measure

import (
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"strconv"

	"drillbay/camera/eye"
	"drillbay/camera/frame"
	"drillbay/camera/whole"
	"drillbay/drills"
)

// Points passes frames on and writes what the eye sees in each, a JSON line a
// frame: for each point u, v in px, their standard deviations in px, and the
// chance that it is there to be seen; null where it is not in the picture. The
// file is there once Keep returns without an error; Drop ends what is not kept.
type Points struct {
	src    Frames
	path   string
	file   *whole.File // nil once kept or dropped
	to     io.Writer
	follow func(now, before *frame.Picture) ([eye.Points]eye.Place, bool)
	before *frame.Picture
	hand   drills.Hand
	scale  float64
	line   []byte
	err    error
}

// WritePoints returns a source of src's frames that writes their points to a
// file. Places are multiplied by scale, for pictures that were made smaller.
func WritePoints(src Frames, path string, hand drills.Hand, scale float64) (*Points, error) {
	n, err := eye.Taught()
	if err != nil {
		return nil, err
	}
	file, err := whole.Create(path)
	if err != nil {
		return nil, unwritten(path, err)
	}
	e, f := n.NewEye(), eye.Finder{}
	see := func(now, before *frame.Picture) ([eye.Points]eye.Place, bool) {
		s, ok := f.Follow(e, now, before, nil, hand == drills.Left)
		return s.Places, ok
	}
	return &Points{src: src, path: path, file: file, to: file, follow: see, hand: hand, scale: scale}, nil
}

// Next implements Frames. After an error of the file nothing more is written;
// Keep returns it.
func (p *Points) Next() (*frame.Picture, error) {
	pic, err := p.src.Next()
	if err != nil || p.err != nil {
		return pic, err
	}
	places, found := p.follow(pic, p.before)
	p.release()
	p.before = pic.Retain()
	p.line = p.write(p.line[:0], pic, places, found)
	_, p.err = p.to.Write(p.line)
	return pic, nil
}

// Keep puts the file in its place.
func (p *Points) Keep() error {
	if p.err != nil {
		return unwritten(p.path, p.err)
	}
	f := p.file
	p.file = nil
	if err := f.Keep(); err != nil {
		return unwritten(p.path, err)
	}
	return nil
}

// Drop gives the last frame back, and the file up where it was not kept.
func (p *Points) Drop() {
	p.release()
	if p.file != nil {
		p.file.Drop()
		p.file = nil
	}
}

func unwritten(path string, err error) error {
	var of *os.PathError
	if errors.As(err, &of) {
		err = of.Err // the name in it is that of the unfinished file
	}
	return fmt.Errorf("the points cannot be written to %s: %w", path, err)
}

func (p *Points) release() {
	if p.before != nil {
		p.before.Release()
		p.before = nil
	}
}

// write adds the line of one frame.
func (p *Points) write(b []byte, pic *frame.Picture, places [eye.Points]eye.Place, found bool) []byte {
	b = strconv.AppendInt(append(b, `{"frame": `...), pic.Index, 10)
	b = strconv.AppendFloat(append(b, `, "t": `...), pic.Seconds(), 'f', 4, 64)
	for i := range eye.Point(eye.Points) {
		b = append(append(append(b, `, "`...), sided(i)...), `": `...)
		q := places[i]
		if p.hand == drills.Left {
			q = places[i.Mirrored()] // whose lead side is the right one
		}
		if !found || q.Here < told {
			b = append(b, "null"...)
			continue
		}
		before := "["
		for _, v := range [...]float64{q.U * p.scale, q.V * p.scale, math.Sqrt(q.UU) * p.scale, math.Sqrt(q.VV) * p.scale, q.Here * q.Seen} {
			b = strconv.AppendFloat(append(b, before...), v, 'f', 3, 64)
			before = ", "
		}
		b = append(b, ']')
	}
	return append(b, "}\n"...)
}

// sided is a right-hander's point by its name, left as lead and right as trail.
func sided(i eye.Point) string {
	switch s := i.String(); {
	case i < eye.LeftShoulder || i > eye.RightAnkle:
		return s
	case i.Mirrored() > i:
		return "lead" + s[len("left"):]
	default:
		return "trail" + s[len("right"):]
	}
}
