package app

import (
	"fmt"
	"math"

	"drillbay/app/widget"
	"drillbay/camera/lookback"
	"drillbay/drills/book"
	"drillbay/drills/runner"
)

// keepScreen asks in which form a rep is kept. It comes up as it was left, so
// that the usual form takes one key.
type keepScreen struct {
	rep     runner.Done
	who     runner.Player
	loop    *lookback.Loop
	beside  *lookback.Loop    // the other camera's, nil: there is none
	later   float64           // s
	at      lookback.Position // what the lookback shows
	form    widget.Choice
	overlay widget.Choice
	row     int
}

var keepForms = [...]struct{ ending, word, why string }{
	{"avi", "clip", "As it was seen, large (AVI)"},
	{"mp4", "small clip", "For a phone (MP4)"},
	{"gif", "moving picture", "Small, to send; half as fast (GIF)"},
	{"jpg", "picture", "The one that is shown (JPEG)"},
}

func (*keepScreen) name() string { return "keep" }

// forms are the endings of the files that can be written here.
func (a *App) forms() (out []string) {
	for _, f := range keepForms {
		if f.ending != "mp4" || a.d.MP4 {
			out = append(out, f.ending)
		}
	}
	return out
}

// keepClip asks in which form the rep that is looked at is kept, and before it
// for consent where none is noted.
func (l *lookbackPart) keepClip(a *App) {
	if a.keeps == nil {
		a.keeps = &keepScreen{overlay: widget.Choice{Options: []string{"without the overlay", "with the overlay"}}}
	}
	k := a.keeps
	l.hold()
	k.rep, k.who, k.loop, k.at, k.row = l.rep, l.who, l.loop, l.player.At(a.now), 0
	k.beside, k.later = l.beside, l.later
	words := make([]string, 0, len(keepForms))
	for _, f := range keepForms {
		if f.ending != "mp4" || a.d.MP4 {
			words = append(words, f.word)
		}
	}
	k.form.Options = words
	open := func() { a.open(k) }
	if p, ok := a.player(l.who.ID); ok && p.Consent == book.NoConsent {
		a.open(newConsentScreen(p, open))
		return
	}
	open()
}

func (s *keepScreen) act(a *App, d Do, n int) {
	switch d {
	case Back, PageBack:
		a.back()
	case Next, Down, Up:
		s.row = 1 - s.row
	case Left, Less:
		s.choice().Move(-1)
	case Right, More, Hold:
		s.choice().Move(1)
	case Choose:
		s.row = min(n/10, 1)
		s.choice().Choose(n % 10)
	case Overlay:
		s.overlay.Choose(1 - s.overlay.Chosen())
	case Go, PageOn, Keep:
		a.back()
		ending := a.forms()[s.form.Chosen()]
		a.d.Order(markOf(s.rep.ID, s.rep.Coach, s.rep.Note, true))
		what := "Keeping the clip"
		if ending == "jpg" {
			what = "Keeping the picture"
		}
		var beside *lookback.Loop
		if s.beside != nil {
			what += " of both views"
			beside = s.beside.Again()
		}
		a.work(what, Job{Beside: beside, Later: s.later, Do: Keep, Player: s.who.ID, RepID: s.rep.ID, As: ending, Overlay: s.overlay.Chosen() == 1, At: s.at.At, Loop: s.loop.Again(), Rep: s.rep})
	}
}

func (s *keepScreen) choice() *widget.Choice {
	if s.row == 1 {
		return &s.overlay
	}
	return &s.form
}

func (s *keepScreen) draw(a *App, c *canvas) {
	c.head("Keep", []string{s.who.Name}, button{do: Next, word: "next"}, button{do: Right, word: "change"}, button{do: Go, word: "keep"}, button{do: Back, word: "back, keep nothing"})
	x := c.margin + c.px(120)
	w := c.Width - 2*x
	y := c.headHeight() + c.px(44) + c.title
	c.text(x, y, fmt.Sprintf("Keep rep %d", s.rep.Rep.Number), c.title, Bold, Ink)
	y += math.Round(c.heading * 1.6)
	tall := max(c.px(60), math.Round(c.body*2.2))
	c.options(x, y, tall, &s.form, s.row == 0, 0)
	y += tall + math.Round(c.heading*1.5)
	ending := a.forms()[s.form.Chosen()]
	for _, f := range keepForms {
		if f.ending == ending {
			c.text(x, y, f.why, c.heading, Regular, Quiet)
		}
	}
	y += math.Round(c.heading * 1.2)
	c.options(x, y, tall, &s.overlay, s.row == 1, 10)
	y += tall + math.Round(c.heading*1.5)
	c.paragraph(x, y, w, "The overlay is the target point, the path of the clubhead, and the shaft at level. The file stays on this laptop, and is deleted with the player.", c.body, Regular, Quiet)
	r := Rect{x, c.Height - c.margin - c.px(60), c.px(360), c.px(60)}
	c.fill(r, Ink, 4)
	c.text(r.X+c.px(24), r.Y+math.Round(r.H/2+c.heading*CapHeight/2), "Keep", c.heading, Bold, Page)
	k := c.keyWidth("Enter", c.heading)
	c.key(r.Right()-k-c.px(16), r.Y+(r.H-c.keyHeight(c.heading))/2, c.heading, "Enter", Page)
	c.press(r, Go, 0)
}
