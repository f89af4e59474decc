package app

import (
	"fmt"
	"math"
	"slices"

	"drillbay/app/widget"
	"drillbay/drills"
	"drillbay/drills/book"
)

// progressScreen is a player's way across the weeks: the rung and the numbers
// that keep it, and the sessions on the same scale as a set.
type progressScreen struct {
	players widget.List
	ladder  widget.List
}

func (*progressScreen) name() string { return "progress" }

func (s *progressScreen) act(a *App, d Do, n int) {
	players := a.d.Book.Players()
	s.players.Fit(len(players), max(len(players), 1)) // one may be deleted since it was drawn
	switch d {
	case Back, PageBack:
		a.back()
	case Up, Left:
		s.players.Move(-1)
	case Down, Right, Next:
		s.players.Move(1)
	case Report, Export:
		if len(players) > 0 {
			what := "Writing the report"
			if d == Export {
				what = "Writing the export"
			}
			a.work(what, Job{Do: d, Player: players[s.players.Chosen()].Player.ID})
		}
	case Pencil:
		if len(players) > 0 {
			p := players[s.players.Chosen()]
			a.open(newAnswerScreen(p, a.d.Book.Progress(p.Player.ID)))
		}
	case Club:
		if len(players) > 0 {
			a.open(newClubScreen(players[s.players.Chosen()]))
		}
	case EraseOn:
		if len(players) > 0 {
			a.open(newDeleteScreen(players[s.players.Chosen()]))
		}
	case TakeBack:
		if gone := a.d.Book.Deleted(); len(gone) > 0 {
			p := gone[len(gone)-1].Player
			a.work("Bringing "+p.Name+" back", Job{Do: TakeBack, Player: p.ID})
		}
	case Keep:
		a.openKept()
	case Agree:
		if len(players) > 0 {
			a.open(newConsentScreen(players[s.players.Chosen()], nil))
		}
	case Go, PageOn:
		if len(players) > 0 && a.d.Snapshot().Session == "" {
			p := players[s.players.Chosen()]
			a.back()
			a.begin(p)
		} else {
			a.back()
		}
	}
}

func (s *progressScreen) draw(a *App, c *canvas) {
	players := a.d.Book.Players()
	s.players.Fit(len(players), max(len(players), 1))
	var undo []button
	if gone := a.d.Book.Deleted(); len(gone) > 0 {
		undo = []button{{do: TakeBack, word: "bring " + gone[len(gone)-1].Player.Name + " back"}}
	}
	if len(players) == 0 {
		c.head("Progress", nil, append(undo, button{do: Back, word: "back"})...)
		y := c.headHeight() + c.px(120)
		c.text(c.margin, y, "Nobody has practised here yet.", c.title, Bold, Ink)
		c.paragraph(c.margin, y+c.px(48), c.Width-2*c.margin, "After the first set you see your sessions here, day by day, and what to work on next.", c.heading, Regular, Quiet)
		return
	}
	p := players[s.players.Chosen()]
	sheet := a.d.Book.Progress(p.Player.ID)
	hand := "right hand"
	if p.Player.Hand == drills.Left {
		hand = "left hand"
	}
	// The first ones give way on a narrow window.
	keys := []button{{do: Export, word: "export"}, {do: Agree, word: "consent"}, {do: Club, word: "clubs"}}
	if sheet.Asked {
		keys = append(keys, button{do: Pencil, word: "answer"})
	}
	if len(players) > 1 {
		keys = append(keys, button{do: Down, word: "next"})
	}
	keys = append(keys, button{do: Keep, word: "clips"}, button{do: Report, word: "report"}, button{do: Go, word: "practise"}, button{do: Back, word: "back"})
	if len(undo) > 0 { // in place of what the page of keys has too
		keys = append(undo, slices.DeleteFunc(keys, func(b button) bool { return b.do == Export || b.do == Agree || b.do == Club })...)
	}
	c.head("Progress", []string{p.Player.Name, hand, sheet.Club, p.ConsentAt}, keys...)
	top := c.headHeight() + c.px(20)
	left := Rect{c.margin, top, c.px(528), c.Height - top - c.margin}
	right := Rect{left.Right() + c.px(40), top, c.Width - left.Right() - c.px(40) - c.margin, c.Height - top - c.margin}
	s.drawRung(c, left, sheet)
	c.weeks(right, sheet, p.Short, p.Player.Hand)
}

func (s *progressScreen) drawRung(c *canvas, r Rect, sheet book.ProgressSheet) {
	y := r.Y + c.title
	c.fitted(r.X, y, r.W, sheet.Headline, c.title, c.body, Bold, Ink)
	y = c.paragraph(r.X, y+math.Round(c.body*1.7), r.W, plain(sheet.Why), c.body, Regular, Ink) - c.px(4)
	next := workOn(sheet)
	panel, wide := 0.0, r.W-c.px(40)
	size := c.body
	tall := func() (h float64) {
		for _, l := range next {
			h += float64(len(c.ruler.Wrap(l.text, size, l.weight, wide))) * math.Round(size*1.32)
		}
		return h
	}
	for size > c.small && tall() > r.H*0.42 {
		size--
	}
	if len(next) > 0 {
		panel = min(tall()+c.px(72), r.Bottom()-y-4*c.body)
	}
	row := max(math.Round(c.body*1.9), c.px(38))
	view := int((r.Bottom() - panel - c.px(28) - y) / row)
	s.ladder.Fit(len(sheet.Rungs), max(view, 1))
	for i, rung := range sheet.Rungs {
		if rung.Here {
			s.ladder.Choose(i)
		}
	}
	c.ladder(Rect{r.X, y, r.W, float64(view) * row}, sheet.Rungs, &s.ladder, row)
	if panel == 0 {
		return
	}
	box := Rect{r.X, r.Bottom() - panel, r.W, panel}
	c.fill(box, Plate, 4)
	y = box.Y + c.px(34)
	c.text(box.X+c.px(20), y, "Work on next", c.heading, Bold, Ink)
	y += c.px(32)
	for _, l := range next {
		lines := c.ruler.Wrap(l.text, size, l.weight, wide)
		for _, words := range lines {
			if y > box.Bottom()-c.px(8) {
				return
			}
			c.text(box.X+c.px(20), y, words, size, l.weight, l.role)
			y += math.Round(size * 1.32)
		}
	}
}

// paragraph is a text with its looks.
type paragraph struct {
	text   string
	weight Weight
	role   Role
}

// workOn tells what to work on next: the likely cause with the evidence for it, what else
// it could be, what to feel, and the rung that works on it.
func workOn(sheet book.ProgressSheet) (out []paragraph) {
	put := func(format, text string, w Weight, r Role) {
		if text != "" {
			out = append(out, paragraph{fmt.Sprintf(format, plain(text)), w, r})
		}
	}
	for i, f := range sheet.Causes {
		if i > 0 {
			put("Also likely: %s.", f.Name, Regular, Ink)
			continue
		}
		put("Likely: %s.", f.Name, Bold, Ink)
		put("%s", f.Evidence, Regular, Ink)
		put("It could also be: %s.", f.Else, Regular, Quiet)
		put("Feel: %s", f.Feel, Bold, Ink)
		put("The drill for it: %s.", f.Rung, Regular, Ink)
	}
	put("%s", sheet.Unnamed, Regular, Ink)
	put("Feel: %s", sheet.Feel, Bold, Ink)
	for _, l := range sheet.Next {
		put("%s", l, Regular, Ink)
	}
	return out
}

// weeks draws the sessions on one scale, the newest at the bottom.
func (c *canvas) weeks(r Rect, sheet book.ProgressSheet, since string, hand drills.Hand) {
	y := r.Y + c.heading
	sheet.Trend, sheet.Spread = plain(sheet.Trend), plain(sheet.Spread)
	end := c.text(r.X, y, "Shaft line, session by session", c.heading, Bold, Ink) + c.px(16)
	if c.ruler.Width(since, c.small, Regular) <= r.Right()-end { // whole or not at all
		c.before(r.Right(), y, since, c.small, Regular, Quiet)
	}
	if len(sheet.Sessions) == 0 {
		c.paragraph(r.X, y+c.px(48), r.W, "No session yet.", c.heading, Regular, Quiet)
		return
	}
	dates := math.Round(c.body * 4.6)
	share := max(c.px(190), c.ruler.Width("in line and swung", c.small, Regular))
	a := axis{left: r.X + dates, right: r.Right() - share - c.px(20), hand: hand}
	foot := r.Bottom()
	if sheet.Trend != "" || sheet.Spread != "" {
		inner := r.W - c.px(40)
		size := c.body
		if c.ruler.Width(sheet.Trend, size, Medium) > inner || c.ruler.Width(sheet.Spread, size, Regular) > inner {
			size = c.small
		}
		trend, spread := c.ruler.Wrap(sheet.Trend, size, Medium, inner), c.ruler.Wrap(sheet.Spread, size, Regular, inner)
		row := math.Round(size * 1.32)
		tall := row*float64(len(trend)+len(spread)) + c.px(28)
		foot -= tall + c.px(16)
		box := Rect{r.X, r.Bottom() - tall, r.W, tall}
		c.fill(box, Plate, 4)
		at := c.paragraph(box.X+c.px(20), box.Y+c.px(10)+size, inner, sheet.Trend, size, Medium, Ink)
		c.paragraph(box.X+c.px(20), at, inner, sheet.Spread, size, Regular, Quiet)
	}
	y += c.px(40)
	c.sides(a, y, c.body)
	c.before(r.Right(), y, "in line and swung", c.small, Regular, Quiet)
	top, bottom := y+c.px(16), foot-c.px(30)-c.degreesHeight()
	c.band(a, top, bottom, drills.Band)
	c.foot(a, bottom)
	numbers := Rect{r.X, bottom, r.W, c.degreesHeight()}
	c.degrees(a, numbers)
	from, to := shareBar(c, r, share)
	c.text(from, numbers.Bottom()-math.Round(c.small*0.15), "0", c.small, Regular, Quiet)
	c.before(to, numbers.Bottom()-math.Round(c.small*0.15), "100 %", c.small, Regular, Quiet)
	c.fitted(r.X, numbers.Bottom()+c.small*1.2, r.W, "Mark: the middle rep; bar: the middle 8 of 10. At right, of all drills: what counted, give or take.", c.small, c.px(14), Regular, Quiet)
	rows := int((bottom - top - c.px(10)) / max(c.small*2.2, c.px(34)))
	list := sheet.Sessions
	list = list[max(len(list)-max(rows, 1), 0):]
	row := min((bottom-top-c.px(10))/float64(len(list)), c.px(64))
	for i, s := range list {
		c.session(a, r, top+(float64(i)+0.5)*row, s, i == len(list)-1, share, hand)
	}
}

// shareBar is where the small bar of a session's share begins and ends.
func shareBar(c *canvas, r Rect, share float64) (from, to float64) {
	return r.Right() - share + c.px(94), r.Right()
}

// session draws one session on the scale.
func (c *canvas) session(a axis, r Rect, y float64, s book.SessionLine, newest bool, share float64, hand drills.Hand) {
	weight, role := Regular, Quiet
	if newest {
		weight, role = Bold, Ink
	}
	base := y + math.Round(c.body*CapHeight/2)
	c.text(r.X, base, s.Date, c.body, weight, role)
	if s.Later {
		c.text(r.X, base+math.Round(c.small*1.15), "a day later", c.small, Regular, Quiet)
	}
	l, m := a.at(s.Low), a.at(s.High)
	if l > m {
		l, m = m, l
	}
	thick := c.px(8)
	bar := Rect{math.Round(l), math.Round(y - thick/2), math.Round(m - l), thick}
	if s.Later {
		c.fill(bar, Page, 0)
		c.frame(bar, Quiet, max(2, c.px(2)), 0)
	} else {
		c.fill(bar, Quiet, 0)
	}
	rep := drills.Rep{ShaftLine: drills.Reading{Value: s.Middle, Sigma: 0.1}, Manner: drills.Swung}
	rep.Verdict, _ = drills.Judge(rep.ShaftLine, drills.Band)
	c.mark(a.at(s.Middle), y, c.px(38), rep, hand, onPage())
	left := r.Right() - share
	counted := fmt.Sprintf("%d of %d", s.Counted, s.Of)
	c.before(left+c.px(80), base, counted, c.body, weight, Ink)
	x, end := shareBar(c, r, share)
	w := end - x
	c.fill(Rect{x, math.Round(y) - 1, w, 2}, Edge, 0)
	if s.Of > 0 && s.ShareHigh > 0 {
		c.fill(Rect{math.Round(x + s.ShareLow*w), math.Round(y - c.px(5)), math.Round((s.ShareHigh - s.ShareLow) * w), c.px(10)}, Quiet, 0)
		at := x + float64(s.Counted)/float64(s.Of)*w
		c.fill(Rect{math.Round(at - c.px(3)), math.Round(y - c.px(12)), c.px(6), c.px(24)}, Ink, 0)
	}
}
