package app

import (
	"fmt"
	"math"

	"drillbay/app/widget"
	"drillbay/drills/book"
)

// withdrawScreen asks, when consent is taken back, what becomes of the clips
// that were kept so far. Neither is chosen until somebody chooses.
type withdrawScreen struct {
	player book.PlayerLine
	list   widget.List
	chosen bool
}

func newWithdrawScreen(p book.PlayerLine) *withdrawScreen {
	s := &withdrawScreen{player: p}
	s.list.Fit(2, 2)
	return s
}

func (*withdrawScreen) name() string { return "consent taken back" }

func (s *withdrawScreen) choose(i int) {
	s.list.Choose(i)
	s.chosen = true
}

func (s *withdrawScreen) act(a *App, d Do, n int) {
	switch d {
	case Back, PageBack:
		a.back()
	case Up, Left:
		s.choose(0)
	case Down, Right:
		s.choose(1)
	case Next:
		s.choose(1 - s.list.Chosen())
	case Choose:
		s.choose(n)
	case Number:
		if n == 1 || n == 2 {
			s.choose(n - 1)
		}
	case Go:
		if s.chosen {
			s.note(a)
		}
	}
}

// note takes the consent back and does what was chosen.
func (s *withdrawScreen) note(a *App) {
	if a.waits() {
		return
	}
	name, erase := s.player.Player.Name, s.list.Chosen() == 1
	a.store(func() error { return a.d.Book.Consent(s.player.Player.ID, book.NoConsent) }, func(err error) {
		if err != nil {
			a.tell("consent", "The consent is not taken back: "+err.Error()+".", "")
			return
		}
		if a.on(s) {
			a.back()
		}
		a.tell("consent", "No more clips of "+name+" are kept.", "")
		if erase {
			a.work("Deleting the clips of "+name, Job{Do: Erase, Player: s.player.Player.ID})
		}
	})
}

func (s *withdrawScreen) draw(a *App, c *canvas) {
	clips := a.d.Book.Clips(s.player.Player.ID)
	these := fmt.Sprintf("these %d clips", len(clips))
	if len(clips) == 1 {
		these = "this clip"
	}
	c.head("Consent taken back", []string{s.player.Player.Name}, button{do: Down, word: "choose"}, button{do: Go, word: "note it"}, button{do: Back, word: "back, change nothing"})
	x, w := c.margin+c.px(120), c.Width-2*c.margin-c.px(240)
	y := c.headHeight() + c.px(44) + c.title
	ask := "Keep or delete " + these + "?"
	c.text(x, y, ask, c.title, Bold, Ink)
	y += c.px(34)
	for i, o := range []string{"Keep " + these, "Delete " + these} {
		r := Rect{x, y, w, c.px(72)}
		role := Ink
		if s.chosen && i == s.list.Chosen() {
			c.fill(r, Ink, 4)
			role = Page
		} else {
			c.frame(r, Edge, c.stroke(1), 4)
		}
		mid := r.Y + r.H/2
		end := c.key(x+c.px(20), mid-c.keyHeight(c.heading)/2, c.heading, string(rune('1'+i)), role)
		c.text(end+c.px(20), mid+math.Round(c.heading*CapHeight/2), o, c.heading, Bold, role)
		c.press(r, Choose, i)
		y += r.H + c.px(12)
	}
	y += c.px(20) + c.body
	rows := max(int((c.Height-c.margin-y)/math.Round(c.body*1.5)), 1)
	for i := len(clips) - 1; i >= 0; i-- {
		if rows--; rows == 0 && i > 0 {
			c.text(x, y, fmt.Sprintf("and %d more", i+1), c.body, Regular, Quiet)
			return
		}
		c.text(x, y, c.ruler.Cut(clips[i].File, c.body, Regular, w), c.body, Regular, Ink)
		y += math.Round(c.body * 1.5)
	}
}
