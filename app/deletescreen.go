package app

import (
	"math"
	"strings"

	"drillbay/app/widget"
	"drillbay/drills/book"
)

// deleteScreen has the name of a player typed before the player is deleted
// with all that is theirs. No key does it alone, and none by being held.
type deleteScreen struct {
	player book.PlayerLine
	field  widget.Field
	why    string
}

func newDeleteScreen(p book.PlayerLine) *deleteScreen {
	return &deleteScreen{player: p, field: widget.Field{Most: 60}}
}

func (*deleteScreen) name() string { return "delete" }
func (*deleteScreen) typing() bool { return true }
func (s *deleteScreen) typed(a *App, t string) {
	s.field.Type(t)
	s.why = ""
}

// named reports whether the name that is typed is the player's.
func (s *deleteScreen) named() bool {
	return strings.EqualFold(s.field.Value(), strings.Join(strings.Fields(s.player.Player.Name), " "))
}

func (s *deleteScreen) act(a *App, d Do, n int) {
	switch d {
	case Back, PageBack:
		a.back()
	case Left:
		s.field.Move(-1)
	case Right:
		s.field.Move(1)
	case Go:
		if !s.named() {
			s.why = "That is not the name yet. Nothing is deleted."
			return
		}
		a.back()
		if snap := a.d.Snapshot(); snap.Session != "" && snap.Player.ID == s.player.Player.ID {
			a.tell("delete", s.player.Player.Name+" practises now.", "End the session first, with Esc.")
			return
		}
		a.work("Deleting "+s.player.Player.Name, Job{Do: EraseOn, Player: s.player.Player.ID})
	default:
		edit(&s.field, d)
	}
}

func (s *deleteScreen) draw(a *App, c *canvas) {
	c.head("Delete", []string{s.player.Player.Name}, button{do: Go, word: "delete"}, button{do: Back, word: "back, keep all"})
	x, w := c.margin+c.px(120), c.Width-2*c.margin-c.px(240)
	y := c.headHeight() + c.px(60) + c.title
	ask := "Delete " + s.player.Player.Name + "?"
	size, _ := c.ruler.Fit(ask, c.title, c.heading, Bold, w)
	c.text(x, y, c.ruler.Cut(ask, size, Bold, w), size, Bold, Ink)
	y = c.paragraph(x, y+math.Round(c.heading*2), w, "Everything goes: the name, clubs, sessions, reps, marks, remarks, the clips, and the reports and exports beside the ledger. Copies saved elsewhere, or on other laptops, stay.", c.heading, Regular, Ink)
	y = c.paragraph(x, y+c.px(10), w, "Until you close drillbay, Z on the progress screen brings it all back. After that it is gone from the disk.", c.heading, Regular, Ink)
	y += c.px(30)
	c.text(x, y, "Type the name to delete", c.heading, Bold, Ink)
	box := Rect{x, y + c.px(16), w, c.px(64)}
	c.field(box, &s.field, true)
	y = box.Bottom() + math.Round(c.body*1.5)
	if s.why != "" {
		c.text(x, y, s.why, c.body, Regular, Ink)
	}
	y += c.px(28)
	if s.named() {
		end := c.key(x, y, c.heading, Go.Cap(), Ink)
		x = c.text(end+c.px(14), y+math.Round(c.keyHeight(c.heading)/2+c.heading*CapHeight/2), "deletes", c.heading, Bold, Ink) + c.px(60)
	}
	end := c.key(x, y, c.heading, Back.Cap(), Ink)
	c.press(Rect{x, y, end - x, c.keyHeight(c.heading)}, Back, 0)
	c.text(end+c.px(14), y+math.Round(c.keyHeight(c.heading)/2+c.heading*CapHeight/2), "keeps all", c.heading, Regular, Ink)
}
