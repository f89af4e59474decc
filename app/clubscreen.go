package app

import (
	"fmt"
	"math"

	"drillbay/app/widget"
	"drillbay/drills"
	"drillbay/drills/book"
	"drillbay/drills/runner"
)

// clubScreen is a player's list of clubs: which one is practised with, how the
// player stands with each, and a new one.
type clubScreen struct {
	player book.PlayerLine
	list   widget.List
	begun  bool
	adding bool
	field  widget.Field // the new club's name
	length widget.Number
	focus  int // 0 name, 1 length
	why    string
}

func newClubScreen(p book.PlayerLine) *clubScreen {
	// Lengths by the Equipment Rules (R&A and USGA), part 2 §1c.
	s := &clubScreen{player: p, field: widget.Field{Most: 24}, length: widget.Number{Least: 46, Most: 121, Step: 0.5}}
	s.length.Set(94)
	return s
}

func (*clubScreen) name() string { return "clubs" }

func (s *clubScreen) typing() bool { return s.adding && s.focus == 0 }

func (s *clubScreen) typed(a *App, text string) { s.field.Type(text); s.why = "" }

func (s *clubScreen) act(a *App, d Do, n int) {
	if s.adding {
		s.add(a, d, n)
		return
	}
	clubs := a.d.Book.Clubs(s.player.Player.ID)
	switch d {
	case Back, PageBack, Up, Down, Next, Choose:
		a.browse(&s.list, d, n)
	case More:
		s.adding, s.focus, s.why = true, 0, ""
	case Go, PageOn:
		if s.list.Chosen() < len(clubs) {
			s.use(a, clubs[s.list.Chosen()])
		}
	}
}

// use takes a club; while its player practises, a new set begins with it.
func (s *clubScreen) use(a *App, c book.ClubLine) {
	if a.waits() {
		return
	}
	a.store(func() error { return a.d.Book.UseClub(s.player.Player.ID, c.Name) }, func(err error) {
		if err != nil {
			a.tell("club", drills.Sentence(err.Error()), "")
			return
		}
		if a.on(s) {
			a.back()
		}
		s.used(a, c)
	})
}

// used begins a new set with a club that was taken.
func (s *clubScreen) used(a *App, c book.ClubLine) {
	if snap := a.d.Snapshot(); snap.Session != "" && snap.Player.ID == s.player.Player.ID && !c.Used {
		r := here(a.d.Book.Rungs(s.player.Player.ID))
		a.plan = nil // it was for the other club
		a.d.Order(begins(runner.Change, r.Drill, r.Order))
	}
}

// add fills in the form for a new club.
func (s *clubScreen) add(a *App, d Do, n int) {
	if n > 0 {
		s.focus = 1 // a button of the length
	}
	switch d {
	case Back:
		s.adding = false
	case Next, Down, Up:
		s.focus = 1 - s.focus
	case Choose:
		s.focus = min(n/10, 1)
	case Left, Less:
		s.move(-1)
	case Right, More, Hold:
		s.move(1)
	case Erase, EraseOn, Home, End:
		edit(&s.field, d)
	case Go, PageOn:
		if a.waits() {
			return
		}
		name, cm := s.field.Value(), s.length.Value()
		a.store(func() error { return a.d.Book.AddClub(s.player.Player.ID, name, cm) }, func(err error) {
			if err != nil {
				s.why = drills.Sentence(err.Error())
				return
			}
			s.field.Set("")
			s.adding = false
		})
	}
}

func (s *clubScreen) move(n int) {
	if s.focus == 0 {
		s.field.Move(n)
		return
	}
	s.length.Move(n)
}

func (s *clubScreen) draw(a *App, c *canvas) {
	clubs := a.d.Book.Clubs(s.player.Player.ID)
	keys := []button{{do: More, word: "another club"}, {do: Go, word: "practise with it"}, {do: Back, word: "back"}}
	if s.adding {
		keys = []button{{do: Next, word: "next"}, {do: Go, word: "add it"}, {do: Back, word: "do not"}}
	}
	c.head("Clubs", []string{s.player.Player.Name}, keys...)
	y := c.headHeight() + c.px(16) + c.heading
	x, w := c.margin, c.Width-2*c.margin
	c.text(x, y, "Short irons first. Each club climbs the ladder on its own.", c.body, Regular, Quiet)
	y += c.px(20)
	row := max(c.px(64), math.Round(c.heading*1.9))
	foot := c.Height - c.margin
	if s.adding {
		foot -= c.px(160) + c.heading
		s.drawNew(c, Rect{x, foot + c.px(16), w, 0})
	}
	if len(clubs) == 0 {
		c.text(x, y+c.title*1.6, "No club on the list yet: add one with +.", c.title, Bold, Ink)
		return
	}
	s.list.Fit(len(clubs), max(int((foot-y-c.small*1.4)/row), 1))
	if !s.begun {
		s.begun = true
		for i, k := range clubs {
			if k.Used {
				s.list.Choose(i)
			}
		}
	}
	from, to := s.list.Seen()
	for i := from; i < to; i++ {
		s.drawClub(c, Rect{x, y, w, row - c.px(8)}, clubs[i], i)
		y += row
	}
	if n := s.list.Below(); n > 0 {
		c.text(x, y+c.small, fmt.Sprintf("%d more below", n), c.small, Regular, Quiet)
	}
}

func (s *clubScreen) drawClub(c *canvas, r Rect, k book.ClubLine, i int) {
	role, second := Ink, Quiet
	if i == s.list.Chosen() && !s.adding {
		c.fill(r, Ink, 4)
		role, second = Page, Page
	} else {
		c.frame(r, Edge, c.stroke(1), 4)
	}
	base := r.Y + math.Round(r.H/2+c.heading*CapHeight/2)
	word := ""
	switch {
	case k.Used:
		word = "in use"
	case k.Offered:
		word = "its turn"
	}
	right := r.Right() - c.px(20)
	c.before(right, base, word, c.heading, Bold, role)
	right -= c.ruler.Width("its turn", c.heading, Bold) + c.px(24)
	length := c.units().club(k.Cm)
	c.before(right, base, length, c.heading, Regular, role)
	right -= c.ruler.Width("120.0 cm", c.heading, Regular) + c.px(24)
	x := r.X + c.px(20)
	room := r.W * 0.32
	c.text(x, base, c.ruler.Cut(k.Name, c.heading, Bold, room), c.heading, Bold, role)
	x += room + c.px(20)
	c.text(x, base, c.ruler.Cut(k.Line, c.body, Regular, right-x), c.body, Regular, second)
	c.press(r, Choose, i)
}

// drawNew is the form for a new club; r's height has no meaning.
func (s *clubScreen) drawNew(c *canvas, r Rect) {
	half := math.Round(r.W/2) - c.px(20)
	c.text(r.X, r.Y+c.heading, "Name", c.heading, Bold, Ink)
	box := Rect{r.X, r.Y + c.heading + c.px(14), half, c.px(56)}
	c.field(box, &s.field, s.focus == 0)
	c.press(box, Choose, 0)
	x := r.X + half + c.px(40)
	c.text(x, r.Y+c.heading, c.ruler.Cut("Club, end of the grip to the sole", c.heading, Bold, half), c.heading, Bold, Ink)
	c.stepper(Rect{x, box.Y, min(half, c.px(340)), box.H}, c.units().club(s.length.Value()), s.focus == 1, 10)
	hint, role := "Without a name it goes by its length.", Quiet
	if s.why != "" {
		hint, role = s.why, Ink
	}
	c.text(r.X, box.Bottom()+math.Round(c.body*1.6), c.ruler.Cut(hint, c.body, Regular, r.W), c.body, Regular, role)
}
