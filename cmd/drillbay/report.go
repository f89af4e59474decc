package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"image/jpeg"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"time"

	"drillbay/camera/clip"
	"drillbay/camera/lookback"
	"drillbay/cmd/drillbay/book"
	"drillbay/cmd/drillbay/live"
	"drillbay/drills/ledger"
	"drillbay/drills/pattern"
	"drillbay/drills/report"
)

type reportCommand struct {
	Player string `arg:"" help:"The player's name."`
	Out    string `help:"The file to write; default: report-NAME.html here." placeholder:"FILE"`
	Ledger string `help:"File of the ledger; default: the user's own." placeholder:"FILE"`
}

// Run writes a player's report.
func (r *reportCommand) Run(c console) error {
	ctx := context.Background()
	l, err := ledger.Open(r.Ledger)
	if err != nil {
		return err
	}
	defer l.Close()
	id, err := playerNamed(ctx, l, r.Player)
	if err != nil {
		return err
	}
	out := r.Out
	if out == "" {
		out = "report-" + fileName(r.Player) + ".html"
	}
	faults, err := writeReport(ctx, l, id, out, time.Now())
	for _, f := range faults {
		fmt.Fprintln(c.err, "drillbay:", f)
	}
	if err != nil {
		return err
	}
	fmt.Fprintf(c.out, "Written to %s. It holds what is known of %s: give it to nobody else.\n", out, r.Player)
	return nil
}

// writeReport writes the report of a player to a file that appears once it is
// whole. Faults are what had to be left out of it.
func writeReport(ctx context.Context, l *ledger.Ledger, player, path string, now time.Time) (faults []error, err error) {
	b, err := book.Read(ctx, l, live.Drawn)
	if err == nil && len(b.View(player).Progress.Sessions) == 0 {
		// Only reps of the drawn bay: then it is about those.
		b, err = book.Read(ctx, l, "")
	}
	if err != nil {
		return nil, err
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
		p.Pictures = append(p.Pictures, report.Picture{Data: data, Caption: fmt.Sprintf("%s: %s and %s, %s", k.Word,
			pattern.Side(k.Rep.Rep.ShaftLine.Value), k.Rep.Rep.Manner, k.Rep.At.In(now.Location()).Format("2 January"))})
	}
	return faults, writeWhole(path, func(w io.Writer) error { return report.Write(w, p) })
}

// levelPicture is the picture of a kept clip nearest the level moment, JPEG.
func levelPicture(path string, r ledger.Record) ([]byte, error) {
	in, err := clip.Open(path, 0, nil)
	if err != nil {
		return nil, err
	}
	defer in.Close()
	m := r.Rep.Moments
	want := firstOf(m.Level, m.Catch, m.Top) - firstOf(m.BackStart, m.Start) + lookback.Lead
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
			err = jpeg.Encode(&out, rgba(pic), &jpeg.Options{Quality: 85})
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

// writeWhole writes a file under another name and renames it.
func writeWhole(path string, write func(io.Writer) error) error {
	f, err := os.CreateTemp(filepath.Dir(path), ".report-*")
	if err != nil {
		return fmt.Errorf("the report cannot be written: %w", err)
	}
	defer os.Remove(f.Name())
	if err = write(f); err == nil {
		err = f.Sync()
	}
	if err = errors.Join(err, f.Close()); err == nil {
		err = os.Rename(f.Name(), path)
	}
	if err != nil {
		return fmt.Errorf("the report %s cannot be written: %w", path, err)
	}
	return nil
}

// fileName is a name as part of a file's name on any system.
func fileName(name string) string {
	out := strings.Map(func(r rune) rune {
		if r > 0x7f || r == '-' || (r >= '0' && r <= '9') || (r >= 'a' && r <= 'z') || (r >= 'A' && r <= 'Z') {
			return r
		}
		return '-'
	}, name)
	if out = strings.Trim(out, "-"); out == "" {
		return "player"
	}
	return out
}
