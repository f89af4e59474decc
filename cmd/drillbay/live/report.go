package live

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"io"
	"math"
	"path/filepath"
	"time"

	"drillbay/camera/clip"
	"drillbay/camera/frame"
	"drillbay/camera/lookback"
	"drillbay/camera/whole"
	"drillbay/cmd/drillbay/book"
	"drillbay/drills/ledger"
	"drillbay/drills/pattern"
	"drillbay/drills/report"
)

// WriteReport writes the report of a player to a file that appears once it is
// whole. Faults are what had to be left out of it.
func WriteReport(ctx context.Context, b *book.Book, l *ledger.Ledger, player, path string, now time.Time) (faults []error, err error) {
	if l.Owns(path) {
		return nil, fmt.Errorf("the report %s cannot be written: %w", path, errOwn)
	}
	faults = b.Faults()
	p, err := b.Page(ctx, player, now)
	if err != nil {
		return faults, err
	}
	kept, err := b.BestAndTypical(ctx, player)
	if err != nil {
		return faults, err
	}
	for _, k := range kept {
		data, err := levelPicture(filepath.Join(l.ClipFolder(), k.File), k.Rep)
		if err != nil {
			faults = append(faults, fmt.Errorf("a picture is left out: %w", err))
			continue
		}
		side := pattern.Side(k.Rep.Rep.ShaftLine.Value)
		if side == pattern.Side(0) {
			side = "in line"
		}
		p.Pictures = append(p.Pictures, report.Picture{Data: data, Caption: fmt.Sprintf("%s: %s and %s, %s", k.Word,
			side, k.Rep.Rep.Manner, k.Rep.At.In(now.Location()).Format("2 January"))})
	}
	if err := whole.Write(path, func(w io.Writer) error { return report.Write(w, p) }); err != nil {
		return faults, fmt.Errorf("the report %s cannot be written: %w", path, err)
	}
	return faults, nil
}

// levelPicture is the picture of a kept clip nearest the level moment, JPEG.
func levelPicture(path string, r ledger.Record) ([]byte, error) {
	in, err := clip.Open(path, 0, nil)
	if err != nil {
		return nil, err
	}
	defer in.Close()
	m := r.Rep.Moments
	want := FirstOf(m.Level, m.Catch, m.Top) - FirstOf(m.BackStart, m.Start) + lookback.Lead
	var out bytes.Buffer
	best := math.Inf(1)
	for {
		pic, err := in.Next()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return nil, err
		}
		if away := math.Abs(pic.Seconds() - want); away < best {
			best = away
			out.Reset()
			err = jpeg.Encode(&out, RGBA(pic), &jpeg.Options{Quality: 85})
		}
		pic.Release()
		if err != nil {
			return nil, err
		}
	}
	if out.Len() == 0 {
		return nil, fmt.Errorf("%s has no picture in it", filepath.Base(path))
	}
	return out.Bytes(), nil
}

// RGBA is a picture in colours of the full range.
func RGBA(p *frame.Picture) *image.RGBA {
	src := p.Image()
	out := image.NewRGBA(src.Rect)
	for y := range p.Height {
		for x := range p.Width {
			c := src.YCbCrAt(x, y)
			if !p.Full {
				c.Y = byte(min(255, max(0, (int(c.Y)-16)*255/219)))
			}
			r, g, b := color.YCbCrToRGB(c.Y, c.Cb, c.Cr)
			i := out.PixOffset(x, y)
			out.Pix[i], out.Pix[i+1], out.Pix[i+2], out.Pix[i+3] = r, g, b, 255
		}
	}
	return out
}

// FirstOf is the first value that is known, 0 when none is.
func FirstOf(values ...float64) float64 {
	for _, v := range values {
		if !math.IsNaN(v) {
			return v
		}
	}
	return 0
}

// report writes a player's report beside the ledger.
func (l *Live) report(ctx context.Context, player string) (string, error) {
	path, err := l.written(reports, player, ".html")
	if err != nil {
		return "", err
	}
	faults, err := WriteReport(ctx, l.book, l.cfg.Ledger, player, path, time.Now())
	if err != nil {
		return "", err
	}
	said := "Written to " + path + "."
	if len(faults) > 0 {
		said += " " + sentence(faults[0].Error())
	}
	return said, nil
}
