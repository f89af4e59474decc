package picture

import (
	"fmt"
	"image"
	"image/draw"
	"image/jpeg"
	"io"
	"math"
	"os"
	"path/filepath"

	"drillbay/camera/frame"
	"drillbay/camera/lens"
	"drillbay/camera/whole"
	"drillbay/drills"
	"drillbay/drills/measure"
	"drillbay/drills/read"
	"drillbay/drills/rep"
	"drillbay/drills/runner"
)

// Gallery keeps, per rep, the frame of the level moment with its overlay and
// one strip of the rep.
type Gallery struct {
	dir   string
	k     rep.Known
	pages []page
}

type page struct {
	start        float64
	level, strip image.Image
}

// NewGallery makes the folder for pictures; k is the bay as the readings knew it.
func NewGallery(dir string, k rep.Known) (*Gallery, error) {
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return nil, fmt.Errorf("cannot make the folder for pictures: %w", err)
	}
	return &Gallery{dir: dir, k: k}, nil
}

// Add draws the pictures of a rep while its frames are held.
func (g *Gallery) Add(r measure.Result, pics []*frame.Picture) {
	m := r.Rep.Moments
	moment := drills.FirstOf(m.Main(), m.Start)
	best := pics[0]
	for _, p := range pics {
		if math.Abs(p.Seconds()-moment) < math.Abs(best.Seconds()-moment) {
			best = p
		}
	}
	p := page{start: m.Start, level: g.overlay(best, r), strip: strip(pics, drills.FirstOf(m.BackStart, m.Start), drills.FirstOf(m.Catch, m.Impact, moment))}
	if n := len(g.pages); n > 0 && math.Abs(g.pages[n-1].start-m.Start) < 0.35 {
		g.pages[n-1] = p
		return
	}
	g.pages = append(g.pages, p)
}

// Reps returns the number of reps that it has pictures of.
func (g *Gallery) Reps() int { return len(g.pages) }

// Write writes the pictures into the folder.
func (g *Gallery) Write() error {
	for i, p := range g.pages {
		for name, img := range map[string]image.Image{"level": p.level, "strip": p.strip} {
			if err := writeJPEG(filepath.Join(g.dir, fmt.Sprintf("rep-%02d-%s.jpg", i+1, name)), img); err != nil {
				return err
			}
		}
	}
	return nil
}

func writeJPEG(path string, img image.Image) error {
	err := whole.Write(path, func(w io.Writer) error { return jpeg.Encode(w, img, &jpeg.Options{Quality: 90}) })
	if err != nil {
		return fmt.Errorf("cannot write the picture %s: %w", filepath.Base(path), err)
	}
	return nil
}

// overlay draws the target point and the line from it through the hands, the
// head's trace as dots equally spaced in time, and the shaft at level.
func (g *Gallery) overlay(p *frame.Picture, r measure.Result) image.Image {
	img := RGBA(p)
	over := read.Overlay(r, g.k.Setting.View)
	at := func(d runner.Dot) lens.Point { return lens.Point{U: d.X, V: d.Y} }
	tp, hands, head := at(over.Target), at(over.Hands), at(over.Head)
	far := lens.Point{U: tp.U + 4*(hands.U-tp.U), V: tp.V + 4*(hands.V-tp.V)}
	if r.FaceOn {
		if !math.IsNaN(hands.U + head.U) {
			Stroke(img, hands, head, 3, White)
			Disc(img, hands, 5, White)
		}
		return img
	}
	Stroke(img, tp, far, 1.5, White)
	for _, d := range over.Trace {
		Disc(img, at(d), 4, Trace)
	}
	Stroke(img, hands, head, 3, ShaftOf(r.Rep.Verdict))
	Ring(img, tp, 8)
	Disc(img, hands, 5, White)
	return img
}

// strip is six frames of the rep side by side, at half size.
func strip(pics []*frame.Picture, from, to float64) image.Image {
	const n = 6
	w, h := pics[0].Width/2, pics[0].Height/2
	out := image.NewRGBA(image.Rect(0, 0, n*w, h))
	for i := range n {
		t := from + (to-from)*float64(i)/(n-1)
		best := pics[0]
		for _, p := range pics {
			if math.Abs(p.Seconds()-t) < math.Abs(best.Seconds()-t) {
				best = p
			}
		}
		draw.Draw(out, image.Rect(i*w, 0, (i+1)*w, h), Half(RGBA(best)), image.Point{}, draw.Src)
	}
	return out
}
