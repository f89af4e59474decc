package app

import (
	"fmt"
	"math"
	"strings"

	"drillbay/app/widget"
	"drillbay/drills/book"
	"drillbay/drills/runner"
)

// drillsScreen is the ladder: its rungs, where the player stands, and how the
// chosen one is done.
type drillsScreen struct {
	list  widget.List
	begun bool
}

func (*drillsScreen) name() string { return "drills" }

// who is the player the ladder is shown for.
func (a *App) who() (book.PlayerLine, bool) {
	snap := a.d.Snapshot()
	players := a.d.Book.Players()
	for _, p := range players {
		if snap.Session != "" && p.Player.ID == snap.Player.ID {
			return p, true
		}
	}
	if snap.Session != "" {
		return book.PlayerLine{Player: snap.Player}, true
	}
	if len(players) > 0 {
		return players[0], true
	}
	return book.PlayerLine{}, false
}

func (s *drillsScreen) act(a *App, d Do, n int) {
	p, ok := a.who()
	rungs := a.d.Book.Rungs(p.Player.ID)
	switch d {
	case Back, PageBack, Up, Down, Next, Choose:
		a.browse(&s.list, d, n)
	case Pencil:
		if i := s.list.Chosen(); i < len(rungs) {
			a.open(newWatchScreen(a, rungs[i].Drill))
		}
	case Go, PageOn:
		if s.list.Chosen() >= len(rungs) {
			return
		}
		r := rungs[s.list.Chosen()]
		a.back()
		a.plan = nil // the player chose otherwise
		if a.d.Snapshot().Session != "" {
			a.d.Order(begins(runner.Change, r.Drill, r.Order))
			return
		}
		if !ok {
			a.newPlayer()
			return
		}
		a.practise(p, r.Drill, r.Order)
	}
}

func (s *drillsScreen) draw(a *App, c *canvas) {
	p, _ := a.who()
	rungs := a.d.Book.Rungs(p.Player.ID)
	c.head("Drills", []string{p.Player.Name, fmt.Sprintf("%d rungs", len(rungs))}, button{do: Pencil, word: "what is watched"}, button{do: Go, word: "practise"}, button{do: Back, word: "back"})
	top := c.headHeight() + c.px(16)
	row := max(math.Round(c.body*2.1), c.px(44))
	view := int((c.Height - top - c.margin) / row)
	s.list.Fit(len(rungs), view)
	if !s.begun {
		s.begun = true
		for i, r := range rungs {
			if r.Here {
				s.list.Choose(i)
			}
		}
	}
	if f := a.d.Book.Faults(); len(f) > 0 {
		// What is wrong with a coach's own files belongs where they would stand.
		y := c.paragraph(c.margin, top+c.body, c.Width-2*c.margin, "Not used: "+f[0].Error(), c.body, Medium, Ink)
		if len(f) > 1 {
			y = c.paragraph(c.margin, y, c.Width-2*c.margin, fmt.Sprintf("And %d more.", len(f)-1), c.body, Regular, Quiet)
		}
		top = y
		s.list.Fit(len(rungs), int((c.Height-top-c.margin)/row))
	}
	left := Rect{c.margin, top, math.Round(c.Width*0.48) - c.margin, c.Height - top - c.margin}
	c.ladder(left, rungs, &s.list, row)
	if s.list.Chosen() >= len(rungs) {
		c.text(left.X, left.Y+c.heading, "No drill files were found.", c.heading, Regular, Quiet)
		return
	}
	r := rungs[s.list.Chosen()]
	x := left.Right() + c.px(40)
	w := c.Width - c.margin - x
	y := c.paragraph(x, top+c.title, w, r.Drill.Name, c.title, Bold, Ink) + c.px(8)
	facts := fmt.Sprintf("Sets of %d", r.Drill.Reps)
	if r.Drill.Reps == 0 {
		facts = "No fixed set"
	}
	if r.Drill.Beat > 0 {
		facts += fmt.Sprintf(", %.0f beats a minute", r.Drill.Beat)
	}
	facts += fmt.Sprintf(", band %.0f° each way", r.Drill.Width())
	if watched := r.Drill.Watched.All(); len(watched) > 0 {
		facts += "; watched: " + watchedWords(watched)
	}
	y = c.paragraph(x, y, w, facts, c.body, Regular, Quiet) + c.px(16)
	// The drawing says most; what little room there is, is its.
	lines := nonEmpty(r.How)
	tall := linesTall(c, lines, c.body, w) + linesTall(c, nonEmpty(r.Cause), c.body, w) + c.body*2.5
	box := Rect{x, y - c.body, w, min(c.Height-c.margin-tall-y+c.body, math.Round(0.42*w+c.small*1.5+c.px(8)))}
	if box.H > c.px(110) {
		a.shownDrill(c, box, r.Drill, p.Player.Hand)
		y = box.Bottom() + math.Round(c.body*1.4)
	}
	for _, l := range lines {
		y = c.paragraph(x, y, w, l, c.body, Regular, Ink) + math.Round(c.body*0.3)
	}
	if r.Cause != "" {
		y = c.paragraph(x, y, w, r.Cause, c.body, Regular, Quiet) + math.Round(c.body*0.3)
	}
	if r.State != "" {
		c.text(x, y, c.ruler.Cut("So far: "+r.State+".", c.body, Bold, w), c.body, Bold, Ink)
	}
}

func nonEmpty(s string) []string {
	if s == "" {
		return nil
	}
	return []string{s}
}

// ladder draws rungs as rows, the chosen one inverted.
func (c *canvas) ladder(r Rect, rungs []book.RungLine, list *widget.List, row float64) {
	from, to := list.Seen()
	y := r.Y
	for i := from; i < to; i++ {
		rung := rungs[i]
		box := Rect{r.X, y, r.W, row - 2}
		role, second, weight := Ink, Quiet, Regular
		if rung.Passed || rung.Here {
			weight = Bold
		}
		if i == list.Chosen() {
			c.fill(box, Ink, 4)
			role, second = Page, Page
		} else if !rung.Passed && !rung.Here {
			role = Quiet
		}
		base := y + math.Round(row/2+c.body*CapHeight/2)
		c.before(box.X+c.px(32), base, fmt.Sprint(rung.Drill.Rung), c.body, Bold, role)
		x, state := box.X+c.px(46), rung.State
		if room := box.Right() - x - c.px(24); c.ruler.Width(rung.Drill.Name, c.body, weight)+c.ruler.Width(state, c.body, Regular) > room {
			if _, count, two := strings.Cut(state, ", "); two {
				state = count // that it is passed, bold letters say too
			}
		}
		right := c.before(box.Right()-c.px(12), base, state, c.body, Regular, second)
		c.fitted(x, base, right-x-c.px(12), rung.Drill.Name, c.body, 0.8*c.small, weight, role)
		c.press(box, Choose, i)
		y += row
	}
	if n := list.Below(); n > 0 {
		c.text(r.X, y+c.small, fmt.Sprintf("%d more below", n), c.small, Regular, Quiet)
	}
}
