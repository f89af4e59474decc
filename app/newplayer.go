package app

import (
	"math"

	"drillbay/app/widget"
	"drillbay/drills"
	"drillbay/drills/book"
)

// newPlayerScreen asks for a name, the hand, the club, and whether clips may
// be kept: the last three with an answer already in place.
type newPlayerScreen struct {
	field  widget.Field
	hand   widget.Choice
	club   widget.Number
	agreed widget.Choice
	focus  int // 0 name, 1 hand, 2 club, 3 clips
	reason string
}

func newPlayerForm() *newPlayerScreen {
	s := &newPlayerScreen{field: widget.Field{Most: 40}}
	s.hand.Options = []string{"right-handed", "left-handed"}
	// A 7-iron is about 0.94 m (common practice); the rules allow clubs of
	// 0.4572 m to 1.2192 m (The Equipment Rules, R&A and USGA, part 2 §1c).
	s.club = widget.Number{Least: 46, Most: 121, Step: 1}
	s.club.Set(94)
	s.agreed.Options = []string{"keep none", "player agrees", "minor: guardian agrees"}
	return s
}

const newPlayerRows = 4

// newPlayer opens the form, with what was typed into it before.
func (a *App) newPlayer() {
	if a.fresh == nil {
		a.fresh = newPlayerForm()
	}
	a.open(a.fresh)
}

func (*newPlayerScreen) name() string   { return "new player" }
func (s *newPlayerScreen) typing() bool { return s.focus == 0 }
func (s *newPlayerScreen) typed(a *App, t string) {
	s.field.Type(t)
	s.reason = ""
}

func (s *newPlayerScreen) act(a *App, d Do, n int) {
	switch d {
	case Back:
		a.back()
	case Go, PageOn:
		if s.naming() && s.field.Value() != "" && d == Go {
			s.focus = 1
			return
		}
		s.keep(a)
	case Next, Down:
		s.focus = (s.focus + 1) % newPlayerRows
	case Up:
		s.focus = (s.focus + newPlayerRows - 1) % newPlayerRows
	case Erase, EraseOn, Home, End:
		edit(&s.field, d)
	case Left, Less:
		s.move(n, -1)
	case Right, More, Hold:
		s.move(n, 1)
	case Choose:
		s.focus = n / 10
		switch s.focus {
		case 1:
			s.hand.Choose(n % 10)
		case 3:
			s.agreed.Choose(n % 10)
		}
	}
}

// naming reports that the name is being typed: Enter then goes to the hand.
func (s *newPlayerScreen) naming() bool { return s.focus == 0 }

// move changes the row with the focus or, when n is 10 times a row's number, that row.
func (s *newPlayerScreen) move(pressed, by int) {
	if pressed > 0 {
		s.focus = pressed / 10
	}
	switch s.focus {
	case 0:
		s.field.Move(by)
	case 1:
		s.hand.Move(by)
	case 2:
		s.club.Move(by)
	case 3:
		s.agreed.Move(by)
	}
}

func (s *newPlayerScreen) keep(a *App) {
	if s.field.Value() == "" {
		s.reason, s.focus = "Type a name first, so that the reps are the right player's.", 0
		return
	}
	if a.waits() {
		return
	}
	var p book.PlayerLine
	var unnoted error
	name, hand, club, c := s.field.Value(), drills.Hand(s.hand.Chosen()), s.club.Value(), book.Consent(s.agreed.Chosen())
	a.store(func() (err error) {
		if p, err = a.d.Book.AddPlayer(name, hand, club); err == nil && c != book.NoConsent {
			unnoted = a.d.Book.Consent(p.Player.ID, c)
		}
		return err
	}, func(err error) {
		if err != nil {
			s.reason, s.focus = err.Error(), 0
			return
		}
		if unnoted != nil {
			a.tell("consent", "The consent is not noted: "+unnoted.Error()+".", "Note it on the progress screen, with W.")
		}
		a.bay.Club = club / 100
		a.fresh = nil
		if a.on(s) {
			a.back()
			a.begin(p)
		}
	})
}

func (s *newPlayerScreen) draw(a *App, c *canvas) {
	keys := []button{{do: Next, word: "next"}, {do: Go, word: "begin"}, {do: Back, word: "back"}}
	switch {
	case s.naming():
		keys = []button{{do: Go, word: "next"}, {do: Back, word: "back"}}
	case s.focus > 0:
		keys = append([]button{{do: Right, word: "change"}}, keys...)
	}
	c.head("New player", nil, keys...)
	x, w := c.margin+c.px(120), c.Width-2*c.margin-c.px(240)
	y := c.headHeight() + c.px(44)
	label := func(s string) {
		c.text(x, y, s, c.heading, Bold, Ink)
		y += c.px(16)
	}
	label("Name")
	c.field(Rect{x, y, w, c.px(72)}, &s.field, s.focus == 0)
	c.press(Rect{x, y, w, c.px(72)}, Choose, 0)
	y += c.px(72) + math.Round(c.body*1.4)
	hint := "It is called out in a group, so keep it short."
	role := Quiet
	if !c.ruler.Draws(s.field.Text()) {
		hint = "This laptop has no font with all of these letters. A spelling in Latin, Greek or Cyrillic letters can be shown."
	}
	if s.reason != "" {
		hint, role = s.reason, Ink
	}
	c.text(x, y, c.ruler.Cut(hint, c.body, Regular, w), c.body, Regular, role)
	y += c.px(46)
	label("Hand")
	c.options(x, y, c.px(52), &s.hand, s.focus == 1, 10)
	y += c.px(52) + c.px(46)
	label("Club, end of the grip to the sole")
	box := Rect{x, y, c.px(320), c.px(52)}
	c.stepper(box, c.units().club(s.club.Value()), s.focus == 2, 20)
	c.text(box.Right()+c.px(24), y+math.Round(c.px(26)+c.body*CapHeight/2), usualClubs(c.units()), c.body, Regular, Quiet)
	y += c.px(52) + c.px(46)
	label("Clips that are kept on this laptop")
	c.options(x, y, c.px(52), &s.agreed, s.focus == 3, 30)
	y = c.Height - c.px(80)
	r := Rect{x, y, c.px(320), c.px(64)}
	c.fill(r, Ink, 4)
	c.text(r.X+c.px(24), r.Y+math.Round(r.H/2+c.heading*CapHeight/2), "Begin", c.heading, Bold, Page)
	if !s.naming() {
		k := c.keyWidth("Enter", c.heading)
		c.key(r.Right()-k-c.px(16), r.Y+(r.H-c.keyHeight(c.heading))/2, c.heading, "Enter", Page)
	}
	c.press(r, PageOn, 0)
}

// stepper draws a number between less and more.
func (c *canvas) stepper(r Rect, value string, focus bool, base int) {
	c.stepperIn(r, value, c.heading, focus, base)
}

// stepperIn is a stepper whose value has a size of its own.
func (c *canvas) stepperIn(r Rect, value string, size float64, focus bool, base int) {
	c.frame(r, Edge, c.stroke(1), 4)
	if focus {
		c.frame(r.Inset(-c.stroke(6)), Ink, c.stroke(3), 7)
	}
	side := r.H
	less, more := Rect{r.X, r.Y, side, side}, Rect{r.Right() - side, r.Y, side, side}
	mid := r.Y + r.H/2
	for _, b := range []struct {
		r Rect
		s string
		d Do
	}{{less, "−", Less}, {more, "+", More}} {
		c.middle(b.r.X+side/2, mid+math.Round(c.heading*CapHeight/2), b.s, c.heading, Bold, Ink)
	}
	c.middle(r.X+r.W/2, mid+math.Round(size*CapHeight/2), value, size, Bold, Ink)
	c.press(r, Choose, base)
	c.press(less, Less, base)
	c.press(more, More, base)
}

// usualClubs says how long clubs are.
func usualClubs(u units) string {
	return "A 7-iron is about " + u.club(94) + ", a wedge " + u.club(89) + ", a driver " + u.club(114) + "."
}
