package papers

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

	"drillbay/app"
	"drillbay/camera/clip"
	"drillbay/camera/frame"
	"drillbay/camera/lens"
	"drillbay/camera/lookback"
	"drillbay/camera/whole"
	"drillbay/drills"
	"drillbay/drills/book"
	"drillbay/drills/ledger"
	"drillbay/drills/picture"
	"drillbay/drills/report"
	"drillbay/drills/stage"
)

// WriteReport writes the report of a player to a file that appears once it is whole. The
// faults name the parts that had to be left out.
func WriteReport(ctx context.Context, b *book.Book, l *ledger.Ledger, player, path string, now time.Time) (faults []error, err error) {
	if l.Owns(path) {
		return nil, fmt.Errorf("the report %s cannot be written: %w", path, errOwn)
	}
	faults = b.Faults()
	p, shown, err := b.Page(ctx, player, now)
	if err != nil {
		return faults, err
	}
	p.Moving, p.Moments = app.MovingDrawing(shown, p.Hand), app.DrillMoments(shown, p.Hand)
	kept, err := b.BestAndTypical(ctx, player)
	if err != nil {
		return faults, err
	}
	for _, k := range kept {
		p.Pictures = append(p.Pictures, pictureOf(k, l.ClipFolder(), p.Band, p.Hand, now, &faults))
	}
	if err := whole.Write(path, func(w io.Writer) error { return report.Write(w, p) }); err != nil {
		return faults, fmt.Errorf("the report %s cannot be written: %w", path, err)
	}
	return faults, nil
}

// pictureOf is a rep at level: of its clip with the line drawn in, or drawn from its
// reading where no clip is kept or it cannot be read.
func pictureOf(k book.Kept, folder string, band float64, hand drills.Hand, now time.Time, faults *[]error) report.Picture {
	pic := report.Picture{Word: k.Word, Caption: app.RepWords(k.Rep.Rep) + ", " + k.Rep.At.In(now.Location()).Format("2 January")}
	if k.Of > 0 {
		pic.Caption += fmt.Sprintf("; near the middle of %d readings", k.Of)
	}
	if k.File != "" {
		data, err := levelPicture(filepath.Join(folder, k.File), k)
		if err == nil {
			pic.Data = data
			return pic
		}
		*faults = append(*faults, fmt.Errorf("a picture is left out: %w", err))
	}
	pic.Drawn = app.RepDrawing(k.Rep.Rep, band, hand)
	return pic
}

// levelPicture is the picture of a kept clip nearest the level moment, JPEG, with
// the line through target point and hands, and the shaft.
func levelPicture(path string, k book.Kept) ([]byte, error) {
	in, err := clip.Open(path, 0, nil)
	if err != nil {
		return nil, err
	}
	defer in.Close()
	m := k.Rep.Rep.Moments
	want := drills.FirstOf(m.Main(), 0) - drills.FirstOf(m.BackStart, m.Start, 0) + lookback.Lead
	if !math.IsNaN(k.Line.At) {
		want = k.Line.At
	}
	var found *frame.Picture
	defer func() {
		if found != nil {
			found.Release()
		}
	}()
	best := math.Inf(1)
	for {
		pic, err := in.Next()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return nil, err
		}
		away := math.Abs(pic.Seconds() - want)
		if away >= best {
			pic.Release()
			continue
		}
		if found != nil {
			found.Release()
		}
		best, found = away, pic
	}
	if found == nil {
		return nil, fmt.Errorf("%s has no picture in it", filepath.Base(path))
	}
	img := picture.RGBA(found)
	var shown image.Image = img
	if k.Line.Known() {
		lined(img, k.Line, picture.ShaftOf(k.Rep.Rep.Verdict))
		shown = img.SubImage(about(img.Rect, k.Line.Hands.X))
	}
	var out bytes.Buffer
	err = jpeg.Encode(&out, shown, &jpeg.Options{Quality: 85})
	return out.Bytes(), err
}

// about is the part of a picture about the player, whose hands are at x: as wide as
// high.
func about(r image.Rectangle, x float64) image.Rectangle {
	wide := min(r.Dx(), r.Dy())
	left := min(max(int(x)-wide/2, r.Min.X), r.Max.X-wide)
	return image.Rect(left, r.Min.Y, left+wide, r.Max.Y)
}

// lined draws the line from the target point through the hands, and the shaft.
func lined(img *image.RGBA, m book.LineMark, shaft color.RGBA) {
	at := func(p drills.Pixel) lens.Point { return lens.Point{U: p.X, V: p.Y} }
	target, hands := at(m.Target), at(m.Hands)
	thin := max(1, float64(img.Rect.Dx())/640)
	picture.Stroke(img, target, lens.Point{U: target.U + 4*(hands.U-target.U), V: target.V + 4*(hands.V-target.V)}, thin, picture.White)
	picture.Stroke(img, hands, at(m.Head), 2*thin, shaft)
	picture.Disc(img, hands, 3*thin, picture.White)
	picture.Ring(img, target, 5*thin)
}

// Report writes a player's report beside the ledger and opens it.
func (p Papers) Report(ctx context.Context, player string) (string, error) {
	path, err := p.written(reports, player, ".html")
	if err != nil {
		return "", err
	}
	faults, err := WriteReport(ctx, p.Book, p.Ledger, player, path, time.Now())
	if err != nil {
		return "", err
	}
	return p.opened(path, faults), nil
}

// opened opens what was written and says so, with what was left out of it.
func (p Papers) opened(path string, faults []error) string {
	said := "Written to " + path + "."
	switch {
	case p.Show == nil:
	case p.Show(path) == nil:
		said = "It opens in your browser. If none comes, open the file yourself: " + path + "."
	default:
		said = "No browser could be opened. Open the file yourself: " + path + "."
	}
	if len(faults) > 0 {
		said += " " + drills.Sentence(faults[0].Error())
	}
	return said
}

// WriteGroup writes the page of the clinic that is going on.
func WriteGroup(ctx context.Context, b *book.Book, l *ledger.Ledger, path string, now time.Time) error {
	if l.Owns(path) {
		return fmt.Errorf("the report %s cannot be written: %w", path, errOwn)
	}
	g, err := b.GroupPage(ctx, now)
	if err != nil {
		return err
	}
	if err := whole.Write(path, func(w io.Writer) error { return report.WriteGroup(w, g) }); err != nil {
		return fmt.Errorf("the report %s cannot be written: %w", path, err)
	}
	return nil
}

// Group writes the clinic's page beside the ledger and opens it.
func (p Papers) Group(ctx context.Context) (string, error) {
	path, err := p.writtenAs(reports, "clinic", ".html")
	if err != nil {
		return "", err
	}
	if err := WriteGroup(ctx, p.Book, p.Ledger, path, time.Now()); err != nil {
		return "", err
	}
	return p.opened(path, nil), nil
}

// OfPlayer writes the report of a player of a ledger to a file, as WriteReport does.
// Where there are only reps of the drawn bay it is about those.
func OfPlayer(ctx context.Context, l *ledger.Ledger, player, path string, now time.Time) (faults []error, err error) {
	b, err := book.Read(ctx, l, stage.Drawn)
	if err == nil && len(b.View(player).Progress.Sessions) == 0 {
		b, err = book.Read(ctx, l, "")
	}
	if err != nil {
		return nil, err
	}
	return WriteReport(ctx, b, l, player, path, now)
}

// OfClinic writes the page of the clinic that is going on in a ledger to a file. Where
// there are only reps of the drawn bay it is about those.
func OfClinic(ctx context.Context, l *ledger.Ledger, path string, now time.Time) error {
	b, err := book.Read(ctx, l, stage.Drawn)
	if err == nil {
		if g, gerr := b.GroupPage(ctx, now); gerr == nil && g.Total().Of == 0 {
			b, err = book.Read(ctx, l, "")
		}
	}
	if err != nil {
		return err
	}
	return WriteGroup(ctx, b, l, path, now)
}
