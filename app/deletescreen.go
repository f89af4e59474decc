package app

import "math"

// deleteScreen asks once more before a player is deleted with all that is
// theirs. Enter does not do it: the key that led here must be pressed again.
type deleteScreen struct{ player PlayerLine }

func (*deleteScreen) name() string { return "delete" }

func (s *deleteScreen) act(a *App, d Do, n int) {
	switch d {
	case Back, PageBack:
		a.back()
	case EraseOn:
		a.back()
		if snap := a.d.Snapshot(); snap.Session != "" && snap.Player.ID == s.player.Player.ID {
			a.tell("delete", s.player.Player.Name+" practises now.", "End the session first, with Esc.")
			return
		}
		a.work("Deleting "+s.player.Player.Name, Job{Do: EraseOn, Player: s.player.Player.ID})
	}
}

func (s *deleteScreen) draw(a *App, c *canvas) {
	c.head("Delete", []string{s.player.Player.Name}, button{do: EraseOn, word: "delete for good"}, button{do: Back, word: "back, keep all"})
	x, w := c.margin+c.px(120), c.Width-2*c.margin-c.px(240)
	y := c.headHeight() + c.px(80) + c.title
	ask := "Delete " + s.player.Player.Name + "?"
	size, _ := c.ruler.Fit(ask, c.title, c.heading, Bold, w)
	c.text(x, y, c.ruler.Cut(ask, size, Bold, w), size, Bold, Ink)
	y = c.paragraph(x, y+math.Round(c.heading*2), w, "All of it goes from this laptop: the name, clubs, sessions, reps, marks, remarks, and the clips that were kept. It cannot be brought back. The reports and exports beside the ledger go too; what was saved elsewhere, and other laptops, keep what they have.", c.heading, Regular, Ink)
	y += c.px(40)
	end := c.key(x, y, c.heading, EraseOn.Cap(), Ink)
	c.press(Rect{x, y, end - x, c.keyHeight(c.heading)}, EraseOn, 0)
	base := y + math.Round(c.keyHeight(c.heading)/2+c.heading*CapHeight/2)
	next := c.text(end+c.px(14), base, "once more deletes", c.heading, Bold, Ink) + c.px(60)
	end = c.key(next, y, c.heading, Back.Cap(), Ink)
	c.press(Rect{next, y, end - next, c.keyHeight(c.heading)}, Back, 0)
	c.text(end+c.px(14), base, "keeps all", c.heading, Regular, Ink)
}
