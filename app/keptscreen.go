package app

import (
	"fmt"
	"math"
	"path/filepath"
	"strings"

	"drillbay/app/widget"
	"drillbay/camera/lookback"
	"drillbay/drills"
	"drillbay/drills/book"
	"drillbay/drills/clips"
)

// keptScreen lists the clips and pictures that were kept, of all players: each
// can be played, beside another too, saved elsewhere, renamed, shown in its folder and
// deleted.
type keptScreen struct {
	clips  []book.ClipLine
	asked  float64 // when the list was read last, s
	list   widget.List
	ending bool // deleting is asked
	naming bool
	field  widget.Field
	why    string

	film   chan watched
	loop   clips.Loop // plays
	second clips.Loop // plays beside it; nil: none does
	beside beside
	player lookback.Player
	first  book.ClipLine // the one that another is to be played beside, no ID: none

	shelf shelf // what the chosen one looks like
}

type watched struct {
	file   string
	with   book.ClipLine // what plays first where two do
	loop   clips.Loop
	second clips.Loop // nil: none was asked for
	err    error
}

// release gives the pictures back.
func (w watched) release() {
	for _, l := range []clips.Loop{w.loop, w.second} {
		if l != nil {
			l.Release()
		}
	}
}

// keptEvery is the time between two readings of the list, s.
const keptEvery = 0.5

func (a *App) openKept() {
	a.open(&keptScreen{asked: math.Inf(-1), field: widget.Field{Most: 120}, film: make(chan watched, 1), shelf: newShelf()})
}

func (*keptScreen) name() string             { return "kept clips" }
func (s *keptScreen) typing() bool           { return s.naming }
func (s *keptScreen) typed(a *App, t string) { s.field.Type(t); s.why = "" }

// chosen is the clip that is chosen, false without any.
func (s *keptScreen) chosen() (book.ClipLine, bool) {
	if len(s.clips) == 0 {
		return book.ClipLine{}, false
	}
	return s.clips[min(s.list.Chosen(), len(s.clips)-1)], true
}

func (s *keptScreen) act(a *App, d Do, n int) {
	clip, ok := s.chosen()
	switch {
	case s.naming:
		s.rename(a, clip, d)
	case s.ending:
		switch d {
		case Go, PageOn:
			s.ending = false
			a.work("Deleting "+clip.File, Job{Do: EraseOn, Player: clip.Player, Clip: clip})
			s.stop()
		case Back, PageBack:
			s.ending = false
		}
	case s.loop != nil:
		s.watch(a, d)
	default:
		s.choose(a, clip, ok, d, n)
	}
}

func (s *keptScreen) choose(a *App, clip book.ClipLine, ok bool, d Do, n int) {
	s.why = ""
	switch d {
	case Back, PageBack:
		s.shelf.clear()
		a.back()
		return
	case Up, Down, Next, Choose:
		a.browse(&s.list, d, n)
	}
	if !ok {
		return
	}
	switch d {
	case Go, PageOn:
		s.play(a, clip)
	case Pencil:
		s.naming = true
		s.field.Set(strings.TrimSuffix(clip.File, filepath.Ext(clip.File)))
	case Against: // this one beside another
		if s.first.ID == clip.ID {
			s.first = book.ClipLine{}
		} else {
			s.first = clip
		}
	case Keep:
		a.openSave(clip)
	case Export:
		a.work("Showing "+clip.File, Job{Do: Export, Player: clip.Player, Clip: clip})
	case EraseOn:
		s.ending = true
	}
}

// rename takes the keys while a name is written.
func (s *keptScreen) rename(a *App, clip book.ClipLine, d Do) {
	switch d {
	case Back, PageBack:
		s.naming = false
	case Left:
		s.field.Move(-1)
	case Right:
		s.field.Move(1)
	case Go, PageOn:
		if s.field.Value() == "" {
			s.why = "A clip needs a name."
			return
		}
		s.naming = false
		a.work("Renaming "+clip.File, Job{Do: Pencil, Player: clip.Player, Clip: clip, Name: s.field.Value()})
		s.asked = math.Inf(-1)
	default:
		edit(&s.field, d)
	}
}

// play reads the chosen clip on a goroutine of its own.
func (s *keptScreen) play(a *App, clip book.ClipLine) {
	if a.d.Watch == nil {
		s.why = "Clips cannot be played here."
		return
	}
	if s.why == reading {
		return
	}
	s.why = reading
	list := []book.ClipLine{clip}
	if s.first.ID != "" && s.first.ID != clip.ID {
		list = []book.ClipLine{s.first, clip}
	}
	w := watched{file: clip.File, with: list[0], loop: s.shelf.take(list[0].File)}
	go func() {
		if w.loop == nil {
			w.loop, w.err = a.d.Watch(list[0].File)
		}
		if w.err == nil && len(list) > 1 {
			if w.second, w.err = a.d.Watch(list[1].File); w.err != nil {
				w.loop.Release()
			}
		}
		s.film <- w
	}()
}

const reading = "Opening it …"

// watch takes the keys while a clip plays.
func (s *keptScreen) watch(a *App, d Do) {
	l := lookbackPart{player: s.player}
	switch d {
	case Back, PageBack, Go, PageOn:
		s.stop()
	case Hold, Left, Right, Next, Quarter, Half, Full:
		l.play(a, d, 0)
		s.player = l.player
	}
}

func (s *keptScreen) stop() {
	watched{loop: s.loop, second: s.second}.release()
	s.loop, s.second = nil, nil
}

// follow takes what was read, and the list as it is now.
func (s *keptScreen) follow(a *App) {
	select {
	case w := <-s.film:
		clip, _ := s.chosen()
		switch s.why = ""; {
		case w.err != nil:
			s.why = drills.Sentence(w.err.Error())
		case clip.File == w.file && !s.naming && !s.ending:
			s.first = book.ClipLine{}
			s.loop, s.second = w.loop, w.second
			times := w.loop.Times()
			if w.second != nil {
				s.beside = layBeside(w.with, clip, times, w.second.Times())
				times = s.beside.times
			}
			s.player = lookback.NewPlayer(times, math.NaN(), a.now).AtSpeed(lookback.Full, a.now)
		default:
			w.release()
		}
	default:
	}
	if clip, ok := s.chosen(); ok && s.loop == nil && s.why != reading {
		s.shelf.follow(a, clip)
	}
	if a.now-s.asked >= keptEvery {
		was, _ := s.chosen()
		found := false
		s.clips, s.asked = a.d.Book.Kept(), a.now
		for i, c := range s.clips {
			found = found || c.ID == s.first.ID
			if c.ID == was.ID {
				s.list.Fit(len(s.clips), 1+i)
				s.list.Choose(i)
			}
		}
		if !found {
			s.first = book.ClipLine{}
		}
	}
}

func (s *keptScreen) draw(a *App, c *canvas) {
	s.follow(a)
	clip, ok := s.chosen()
	switch {
	case s.loop != nil:
		s.drawFilm(a, c, clip)
		return
	case s.why == reading, a.busy != "":
		c.again(0.1)
	}
	x, w := c.margin, c.Width-2*c.margin
	switch {
	case s.ending:
		c.head("Kept clips", []string{clip.File}, button{do: Go, word: "delete it"}, button{do: Back, word: "keep it"})
		y := c.headHeight() + c.px(60) + c.title
		ask := "Delete " + clip.File + "?"
		size, _ := c.ruler.Fit(ask, c.title, c.heading, Bold, w)
		c.text(x, y, c.ruler.Cut(ask, size, Bold, w), size, Bold, Ink)
		c.paragraph(x, y+math.Round(c.heading*2), w, "The file is deleted at once. The rep, its reading and its marks stay.", c.heading, Regular, Ink)
		return
	case s.naming:
		c.head("Kept clips", []string{clip.File}, button{do: Go, word: "rename it"}, button{do: Back, word: "back, change nothing"})
		y := c.headHeight() + c.px(60)
		c.text(x, y, "Its name", c.heading, Bold, Ink)
		box := Rect{x, y + c.px(16), w, c.px(64)}
		c.field(box, &s.field, true)
		if s.why != "" {
			c.text(x, box.Bottom()+math.Round(c.body*1.5), s.why, c.body, Regular, Ink)
		}
		return
	}
	if !ok {
		c.head("Kept clips", nil, button{do: Back, word: "back"})
		y := c.headHeight() + c.px(116)
		c.text(x, y, "No clip is kept.", c.title, Bold, Ink)
		c.paragraph(x, y+c.px(50), w, "K in practice keeps the last rep as a clip or as a picture, of players who agreed.", c.heading, Regular, Quiet)
		return
	}
	count := fmt.Sprintf("%d", len(s.clips))
	play, beside := "play", "beside another"
	switch {
	case s.first.ID == clip.ID:
		beside = "alone again"
	case s.first.ID != "":
		play = "play both"
	}
	c.head("Kept clips", []string{count}, button{do: Pencil, word: "rename"}, button{do: Export, word: "its folder"}, button{do: EraseOn, word: "delete"}, button{do: Against, word: beside}, button{do: Keep, word: "save a copy"}, button{do: Go, word: play}, button{do: Back, word: "back"})
	y := c.headHeight() + c.px(16)
	if a.d.Watch != nil {
		w = math.Round(0.52 * w)
		s.shelf.draw(a, c, Rect{x + w + c.px(32), y, c.Width - c.margin - x - w - c.px(32), c.Height - y - c.margin}, clip)
	}
	row := math.Round(c.heading * 1.9)
	s.list.Fit(len(s.clips), max(int((c.Height-y-c.margin-c.body*2)/row), 1))
	from, to := s.list.Seen()
	for i := from; i < to; i++ {
		box := Rect{x, y, w, row - 2}
		role, second := Ink, Quiet
		if i == s.list.Chosen() {
			c.fill(box, Ink, 4)
			role, second = Page, Page
		}
		base := y + math.Round(row/2+c.heading*CapHeight/2)
		who := s.clips[i].Who
		if at := s.clips[i].At; !at.IsZero() {
			who += at.Local().Format(", 2 Jan")
		}
		if s.clips[i].ID == s.first.ID {
			who = "beside …"
		}
		right := c.before(box.Right()-c.px(14), base, c.ruler.Cut(who, c.small, Regular, w*0.38), c.small, Regular, second)
		c.fitted(x+c.px(14), base, right-x-c.px(28), s.clips[i].File, c.heading, c.small, Regular, role)
		c.press(box, Choose, i)
		y += row
	}
	foot := s.why
	if n := s.list.Below(); foot == "" && n > 0 {
		foot = fmt.Sprintf("%d more below", n)
	}
	c.text(x, y+math.Round(c.body*1.3), c.ruler.Cut(foot, c.body, Regular, w), c.body, Regular, Quiet)
}

func (s *keptScreen) drawFilm(a *App, c *canvas, clip book.ClipLine) {
	which := clip.File
	if s.second != nil {
		which = "two side by side"
	}
	c.head("Kept clips", []string{which}, button{do: Hold, word: "hold"}, button{do: Right, word: "step"}, button{do: Back, word: "back to the list"})
	top := c.headHeight() + c.px(12)
	foot := c.px(60)
	box := Rect{c.margin, top, c.Width - 2*c.margin, c.Height - top - foot}
	at := s.player.At(a.now).At
	if s.second != nil {
		box.W = math.Round((box.W - c.px(8)) / 2)
		right := Rect{box.Right() + c.px(8), box.Y, box.W, box.H}
		if p := s.second.Frame(during(s.second.Times(), at+s.beside.second)); p != nil {
			c.named(c.show(1, p, right, Rect{}), clip)
		}
		at = during(s.loop.Times(), at+s.beside.first)
	}
	if p := s.loop.Frame(at); p != nil {
		box = c.show(0, p, box, Rect{})
	}
	x := c.speeds(c.margin, c.Height-foot/2, s.player.Speed()) + c.px(40)
	if s.second != nil {
		c.named(box, s.beside.with)
		c.fitted(x, c.Height-foot/2+math.Round(c.body*CapHeight/2), c.Width-c.margin-x, s.beside.words, c.body, c.small, Regular, Quiet)
	}
	c.again(min(1.0/60/s.player.Speed(), 1.0/15))
}
