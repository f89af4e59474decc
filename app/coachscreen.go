package app

import (
	"math"

	"drillbay/app/widget"
)

// coachScreen asks for what stands on reports: the coach's name and the place.
type coachScreen struct {
	fields [2]widget.Field
	row    int
}

func newCoachScreen(a *App) *coachScreen {
	s := &coachScreen{fields: [2]widget.Field{{Most: 60}, {Most: 60}}}
	s.fields[0].Set(a.setup.Coach)
	s.fields[1].Set(a.setup.Place)
	return s
}

func (*coachScreen) name() string { return "coach" }
func (*coachScreen) typing() bool { return true }
func (s *coachScreen) typed(_ *App, t string) {
	s.fields[s.row].Type(t)
}

func (s *coachScreen) act(a *App, d Do, n int) {
	switch d {
	case Back, PageBack:
		a.back()
	case Next, Down, Up:
		s.row = 1 - s.row
	case Choose:
		s.row = min(max(n, 0), 1)
	case Left:
		s.fields[s.row].Move(-1)
	case Right:
		s.fields[s.row].Move(1)
	case Go, PageOn:
		if s.row == 0 && d == Go {
			s.row = 1
			return
		}
		a.setup.Coach, a.setup.Place = s.fields[0].Value(), s.fields[1].Value()
		a.keepSetup()
		a.back()
	default:
		edit(&s.fields[s.row], d)
	}
}

func (s *coachScreen) draw(a *App, c *canvas) {
	word := "keep"
	if s.row == 0 {
		word = "next"
	}
	c.head("On reports", nil, button{do: Go, word: word}, button{do: Back, word: "back, change nothing"})
	x, w := c.margin+c.px(120), c.Width-2*c.margin-c.px(240)
	y := c.headHeight() + c.px(40) + c.title
	for i, l := range [...]string{"Coach", "Place"} {
		c.text(x, y, l, c.title, Bold, Ink)
		box := Rect{x, y + c.px(14), w, c.px(60)}
		c.field(box, &s.fields[i], s.row == i)
		c.press(box, Choose, i)
		y = box.Bottom() + c.px(36) + c.title
	}
	c.paragraph(x, y-c.title+math.Round(c.body), w, "They are printed at the top of every report, a player's or a clinic's. Leave them empty to print nothing.", c.body, Regular, Quiet)
}
