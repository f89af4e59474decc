package app

import (
	"math"

	"drillbay/drills/book"
	"drillbay/drills/clips"
)

// shelf shows what the chosen one of the kept clips looks like, by the picture in the
// middle of it. It is read on a goroutine of its own, once somebody stays there.
type shelf struct {
	film    chan watched
	reading bool
	chosen  string     // a file
	since   float64    // s, when it was chosen
	read    string     // the file that was read last
	loop    clips.Loop // of that; nil where it cannot be read
}

// shelfAfter is how long a clip is chosen before it is read, s.
const shelfAfter = 0.2

func newShelf() shelf { return shelf{film: make(chan watched, 1)} }

// follow reads what is chosen, one after another, and takes what was read.
func (s *shelf) follow(a *App, clip book.ClipLine) {
	if clip.File != s.chosen {
		s.chosen, s.since = clip.File, a.now
	}
	select {
	case w := <-s.film:
		s.drop()
		s.reading, s.read = false, w.file
		if w.err == nil {
			s.loop = w.loop
		}
	default:
	}
	if a.d.Watch == nil || s.reading || s.read == s.chosen || a.now-s.since < shelfAfter {
		return
	}
	s.reading = true
	go func(file string) {
		loop, err := a.d.Watch(file)
		s.film <- watched{file: file, loop: loop, err: err}
	}(s.chosen)
}

// take gives the pictures of a file away where they are read already, else nil.
func (s *shelf) take(file string) clips.Loop {
	if s.read != file {
		return nil
	}
	loop := s.loop
	s.loop, s.read = nil, ""
	return loop
}

// drop gives the pictures back.
func (s *shelf) drop() {
	if s.loop != nil {
		s.loop.Release()
	}
	s.loop = nil
}

// clear gives the pictures back, also those that are being read.
func (s *shelf) clear() {
	s.drop()
	if s.reading {
		go func(film <-chan watched) {
			if w := <-film; w.err == nil {
				w.release()
			}
		}(s.film)
	}
}

// draw draws the picture, and below whose it is.
func (s *shelf) draw(a *App, c *canvas, r Rect, clip book.ClipLine) {
	box := Rect{r.X, r.Y, r.W, min(math.Round(r.W*9/16), r.H-c.px(60))}
	at, word := box, ""
	switch {
	case s.read == s.chosen && s.loop == nil:
		word = "It cannot be shown."
	case s.read != s.chosen:
		c.again(0.1)
		if a.now-s.since > 2*shelfAfter {
			word = "Opening it …"
		}
	default:
		if times := s.loop.Times(); len(times) > 0 {
			if p := s.loop.Frame(times[len(times)/2]); p != nil {
				at = c.show(0, p, box, Rect{})
			}
		}
	}
	if at == box && c.Pictures[0] == nil {
		c.fill(box, Plate, 0)
		c.middle(box.X+box.W/2, box.Y+box.H/2, word, c.body, Regular, Quiet)
	}
	end := c.text(r.X, at.Bottom()+math.Round(c.heading*1.4), c.ruler.Cut(clip.Who, c.heading, Bold, r.W*0.7), c.heading, Bold, Ink)
	if !clip.At.IsZero() {
		c.text(end+c.heading*0.5, at.Bottom()+math.Round(c.heading*1.4), clip.At.Local().Format("2 January"), c.heading, Regular, Ink)
	}
}
