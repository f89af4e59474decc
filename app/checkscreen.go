package app

import (
	"math"
	"slices"
	"strings"

	"drillbay/drills"
	"drillbay/drills/runner"
)

// checkScreen is the list that the player ticks before the first rung of a
// session: grip, posture, aim, ball. One key ticks line after line, so that it
// works with a clicker from the mat; the last tick begins.
type checkScreen struct {
	player runner.Player
	ticked []bool
	row    int
}

func (*checkScreen) name() string { return "check" }

func (s *checkScreen) act(a *App, d Do, n int) {
	list := a.d.Book.Check()
	s.fit(len(list))
	switch d {
	case Back, PageBack:
		// One tick back, then where the list came from.
		for i := len(s.ticked) - 1; i >= 0; i-- {
			if s.ticked[i] && d == PageBack {
				s.ticked[i], s.row = false, i
				return
			}
		}
		if a.group != nil {
			a.openBoard()
			return
		}
		a.back()
		a.open(&cautionScreen{})
	case Up:
		s.row = max(s.row-1, 0)
	case Down, Next:
		s.row = min(s.row+1, max(len(list)-1, 0))
	case Choose:
		s.tick(a, n)
	case Number:
		if a.group != nil { // a digit is a player there
			a.clinicDo(Number, n)
			return
		}
		s.tick(a, n-1)
	case NextPlayer:
		if a.group != nil {
			a.clinicDo(NextPlayer, 0)
		}
	case Clinic:
		if a.group != nil {
			a.openBoard()
		}
	case Go, PageOn:
		s.tick(a, s.row)
	}
}

func (s *checkScreen) fit(n int) {
	for len(s.ticked) < n {
		s.ticked = append(s.ticked, false)
	}
}

// tick ticks a line and goes to the next open one; with none left it begins.
func (s *checkScreen) tick(a *App, i int) {
	if i >= 0 && i < len(s.ticked) {
		s.ticked[i] = true
	}
	for k := range s.ticked {
		if at := (max(i, 0) + k) % len(s.ticked); !s.ticked[at] {
			s.row = at
			return
		}
	}
	a.back()
	if a.group != nil {
		a.group.checked[s.player.ID] = true
	}
	a.ready()
}

// ready begins to count reps.
func (a *App) ready() {
	if a.plan != nil {
		a.plan.since = a.now
	}
	a.d.Order(runner.Command{Do: runner.Ready})
}

func (s *checkScreen) draw(a *App, c *canvas) {
	list := a.d.Book.Check()
	s.fit(len(list))
	back, open := "back", ""
	if a.group != nil {
		back = "to the board"
	}
	if s.row < len(list) {
		open, _, _ = strings.Cut(list[s.row], ":")
	}
	c.head("Set-up check", []string{s.player.Name, a.d.Snapshot().Drill.Name}, button{do: Go, word: "tick " + drills.LowerFirst(open)}, button{do: Down, word: "next line"}, button{do: Back, word: back})
	cue := open + "? Enter"
	if a.group != nil && !slices.Contains(s.ticked, true) {
		cue = c.calling(s.player.Name) // in a group, who is meant comes first
	}
	bar := c.bar(cue)
	c.press(Rect{0, bar, c.Width, c.Height - bar}, Go, 0)
	// The open line is read from the mat; the others only have to be found.
	top := c.headHeight() + c.px(12)
	slim := c.px(60)
	tall := bar - c.px(8) - top - slim*float64(len(list)-1)
	y := top
	for i, l := range list {
		h := slim
		if i == s.row {
			h = tall
		}
		r := Rect{c.margin, y, c.Width - 2*c.margin, h - c.px(8)}
		head, text, found := strings.Cut(l, ":")
		if !found {
			head, text = l, ""
		}
		if i == s.row {
			s.drawOpen(c, r, head, drills.UpperFirst(strings.TrimSpace(text)), s.ticked[i], a.bay.Side(s.player.Hand))
		} else {
			role := Quiet
			if s.ticked[i] {
				role = Ink
			}
			x := c.tick(Rect{r.X + c.px(20), r.Y, c.px(32), r.H}, s.ticked[i], role) + c.px(20)
			base := r.Y + math.Round(r.H/2+c.heading*CapHeight/2)
			c.text(x, base, c.ruler.Cut(head, c.heading, Bold, r.Right()-x), c.heading, Bold, role)
		}
		c.press(r, Choose, i)
		y += h
	}
}

// drawOpen draws the line that is to be looked at now.
func (s *checkScreen) drawOpen(c *canvas, r Rect, head, text string, ticked bool, hand drills.Hand) {
	c.fill(r, Plate, 4)
	side := min(r.H-c.px(16), math.Round(r.W*0.3))
	if c.checkDrawing(head, Rect{r.Right() - side - c.px(12), r.Y + (r.H-side)/2, side, side}, hand) {
		r.W -= side + c.px(16)
	}
	x := c.tick(Rect{r.X + c.px(20), r.Y, c.px(72), math.Round(c.mat * 1.5)}, ticked, Ink) + c.px(28)
	w := r.Right() - c.px(20) - x
	size, _ := c.ruler.Fit(head, c.mat, min(c.floor, c.mat), Bold, w)
	y := r.Y + math.Round(c.mat*1.06)
	c.text(x, y, c.ruler.Cut(head, size, Bold, w), size, Bold, Ink)
	y += math.Round(c.mat * 0.3)
	body := math.Round(c.mat * 0.5)
	for body > c.small && float64(len(c.ruler.Wrap(text, body, Regular, w)))*math.Round(body*1.32) > r.Bottom()-c.px(8)-y {
		body--
	}
	c.paragraph(x, y+body, w, text, body, Regular, Ink)
}

// tick draws a box, ticked or open, in the middle of r, and returns its right
// edge.
func (c *canvas) tick(r Rect, on bool, role Role) float64 {
	box := r.W
	at := Rect{r.X, math.Round(r.Y + (r.H-box)/2), box, box}
	c.frame(at, role, max(3, math.Round(box*0.07)), 4)
	if on {
		thick := max(4, math.Round(box*0.12))
		c.line(at.X+box*0.2, at.Y+box*0.55, at.X+box*0.42, at.Y+box*0.78, thick, role)
		c.line(at.X+box*0.42, at.Y+box*0.78, at.X+box*0.82, at.Y+box*0.24, thick, role)
	}
	return at.Right()
}
