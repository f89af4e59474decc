package app

import (
	"errors"
	"math"

	"drillbay/app/widget"
	"drillbay/drills"
	"drillbay/drills/book"
	"drillbay/drills/clips"
)

// saveScreen saves a copy of a kept clip in a folder or on a drive that the user names.
type saveScreen struct {
	clip   book.ClipLine
	folder widget.Field
	places []string // where it may go to, drives first
	found  chan []string
	list   widget.List
	ask    error // clips.ErrThere or ErrNoFolder: whether to replace the file, or make the folder
	why    string
}

func (a *App) openSave(clip book.ClipLine) {
	s := &saveScreen{clip: clip, folder: widget.Field{Most: 400}}
	s.folder.Set(a.saved)
	if a.d.Places != nil {
		found := make(chan []string, 1)
		s.found = found
		go func() { found <- a.d.Places() }()
	}
	a.open(s)
}

func (*saveScreen) name() string   { return "save a copy" }
func (s *saveScreen) typing() bool { return s.ask == nil }
func (s *saveScreen) typed(_ *App, t string) {
	s.folder.Type(t)
	s.why = ""
}

func (s *saveScreen) act(a *App, d Do, n int) {
	if s.ask != nil {
		switch d {
		case Go, PageOn:
			s.save(a)
		case Back, PageBack:
			s.ask = nil
		}
		return
	}
	switch d {
	case Back, PageBack:
		a.back()
	case Up, Down, Next:
		by := 1
		if d == Up {
			by = -1
		}
		i := s.list.Chosen()
		switch on := i < len(s.places) && s.folder.Value() == s.places[i]; {
		case on && i == 0 && d == Up: // above them all another one is typed
			s.folder.Set("")
			s.why = ""
			return
		case on: // else the first press takes the one that is chosen
			s.list.Move(by)
		}
		s.take(s.list.Chosen())
	case Choose:
		s.list.Choose(n)
		s.take(n)
	case Left:
		s.folder.Move(-1)
	case Right:
		s.folder.Move(1)
	case Go, PageOn:
		s.save(a)
	default:
		edit(&s.folder, d)
		s.why = ""
	}
}

// take puts a folder that was found into the field.
func (s *saveScreen) take(i int) {
	if i < len(s.places) {
		s.folder.Set(s.places[i])
		s.why = ""
	}
}

// save has the copy written off the window's goroutine; whether it may replace a file, or
// make a folder, is asked first.
func (s *saveScreen) save(a *App) {
	folder := s.folder.Value()
	a.workThen("Saving a copy of "+s.clip.File, Job{Do: Keep, Player: s.clip.Player, Clip: s.clip, Name: folder, Sure: s.ask != nil}, func(err error) bool {
		switch {
		case err == nil:
			a.saved = folder
			if a.on(s) {
				a.back()
			}
			return false
		case !a.on(s):
			return false
		case errors.Is(err, clips.ErrThere):
			s.ask = clips.ErrThere
		case errors.Is(err, clips.ErrNoFolder):
			s.ask = clips.ErrNoFolder
		default:
			s.ask, s.why = nil, drills.Sentence(err.Error())
		}
		return true
	})
}

func (s *saveScreen) follow() {
	select {
	case s.places = <-s.found:
		s.found = nil
		if s.folder.Text() == "" {
			s.take(0)
		}
	default:
	}
}

func (s *saveScreen) draw(a *App, c *canvas) {
	s.follow()
	x, w := c.margin, c.Width-2*c.margin
	y := c.headHeight() + c.px(40) + c.heading
	switch s.ask {
	case clips.ErrNoFolder:
		c.head("Save a copy", []string{s.clip.File}, button{do: Go, word: "make it and save"}, button{do: Back, word: "back, save nothing"})
		c.fitted(x, y+c.title-c.heading, w, "Make this folder?", c.title, c.heading, Bold, Ink)
		c.paragraph(x, y+c.title, w, s.folder.Value()+" is not there yet.", c.heading, Regular, Ink)
		return
	case clips.ErrThere:
		c.head("Save a copy", []string{s.clip.File}, button{do: Go, word: "replace it"}, button{do: Back, word: "back, replace nothing"})
		c.fitted(x, y+c.title-c.heading, w, "Replace the file that is there?", c.title, c.heading, Bold, Ink)
		c.paragraph(x, y+c.title, w, s.clip.File+" is in "+s.folder.Value()+" already. Replaced, that file is gone.", c.heading, Regular, Ink)
		return
	}
	c.head("Save a copy", []string{s.clip.File}, button{do: Down, word: "the folders"}, button{do: Go, word: "save it"}, button{do: Back, word: "back, save nothing"})
	c.text(x, y, "To which folder or drive?", c.heading, Bold, Ink)
	box := Rect{x, y + c.px(14), w, c.px(60)}
	c.field(box, &s.folder, true)
	if s.folder.Text() == "" {
		c.text(box.X+c.px(20), box.Y+math.Round(box.H/2+c.heading*CapHeight/2), "Type where, or choose one below", c.heading, Regular, Quiet)
	}
	y = box.Bottom() + math.Round(c.body*1.5)
	hint, role := "The copy is yours to look after: it is not deleted with the clip, nor with the player.", Quiet
	if s.why != "" {
		hint, role = s.why, Ink
	}
	y = c.paragraph(x, y, w, hint, c.body, Regular, role) + c.px(16)
	row := math.Round(c.heading * 1.9)
	s.list.Fit(len(s.places), max(int((c.Height-y-c.margin)/row), 1))
	from, to := s.list.Seen()
	for i := from; i < to; i++ {
		box := Rect{x, y, w, row - 2}
		role := Ink
		if s.places[i] == s.folder.Value() {
			c.fill(box, Ink, 4)
			role = Page
		}
		c.fitted(x+c.px(14), y+math.Round(row/2+c.heading*CapHeight/2), w-c.px(28), s.places[i], c.heading, c.small, Regular, role)
		c.press(box, Choose, i)
		y += row
	}
	if s.found != nil {
		c.again(0.2)
	}
}
