package app

import (
	"fmt"
	"math"

	"drillbay/drills"
	"drillbay/drills/book"
	"drillbay/drills/runner"
)

// startScreen says who goes on; the rest are lettered rows.
type startScreen struct {
	row    int // 0: go on, then the rows
	asking bool
}

func (*startScreen) name() string { return "start" }

type startRow struct {
	do         Do
	word, what string
}

func (s *startScreen) rows(a *App) []startRow {
	players := a.d.Book.Players()
	progress := "after the first set"
	if len(players) > 0 {
		progress = players[0].Player.Name
		if players[0].Short != "" {
			progress += ", " + players[0].Short
		}
	}
	clinic := "a group, in turn"
	if sheet, ok := a.d.Book.Clinic(); ok {
		clinic = fmt.Sprintf("%s, %d players", sheet.Group, len(sheet.Players))
	}
	drillFiles := fmt.Sprintf("%d on the ladder", len(a.d.Book.Rungs("")))
	if len(a.d.Book.Faults()) > 0 {
		drillFiles += ", a file is left out: press D"
	}
	settings := "screen, sound, looks"
	if !a.setup.Asked {
		settings = "first time: how large the screen is, how far away"
	}
	return []startRow{
		{NewPlayer, "New player", "name, hand, club"},
		{Clinic, "Clinic", clinic},
		{Progress, "Progress", progress},
		{Drills, "Drills", drillFiles},
		{Lens, "Lens", "where the camera stands"},
		{LookBack, "Clip", "from a phone, say"},
		{Keep, "Kept clips", "reps that you kept, to play or to give away"},
		{Settings, "Settings", settings},
	}
}

func (s *startScreen) act(a *App, d Do, n int) {
	if s.asking {
		switch d {
		case Go, PageOn:
			a.view.Quit = true
		case Back, PageBack:
			s.asking = false
		}
		return
	}
	rows := s.rows(a)
	switch d {
	case Go, PageOn:
		if s.row > 0 {
			s.act(a, rows[s.row-1].do, 0)
			return
		}
		players := a.d.Book.Players()
		if len(players) == 0 {
			a.newPlayer()
			return
		}
		a.begin(players[0])
	case Back:
		s.asking = true
	case Up:
		s.row = max(s.row-1, 0)
	case Down, Next:
		s.row = min(s.row+1, len(rows))
	case NewPlayer:
		a.newPlayer()
	case Clinic:
		a.openClinic()
	case Progress:
		a.open(&progressScreen{})
	case Drills:
		a.open(&drillsScreen{})
	case Lens:
		a.open(newLensScreen(a))
	case LookBack:
		a.openClip()
	case Keep:
		a.openKept()
	case Settings:
		a.open(newSettingsScreen(a))
	}
}

// here is the rung to practise.
func here(rungs []book.RungLine) book.RungLine {
	for _, r := range rungs {
		if r.Here {
			return r
		}
	}
	if len(rungs) > 0 {
		return rungs[0]
	}
	return book.RungLine{}
}

// practise begins a session with a drill, or a mixed set, and shows the
// cautions first.
func (a *App) practise(p book.PlayerLine, d runner.Drill, mix []runner.Drill) {
	a.d.Order(a.beginning(p, d, mix))
	a.open(&practiceScreen{})
	a.open(&cautionScreen{})
}

func (a *App) beginning(p book.PlayerLine, d runner.Drill, mix []runner.Drill) runner.Command {
	c := begins(runner.Begin, d, mix)
	c.Player, c.Bay = p.Player, a.bay.Name
	return c
}

func (s *startScreen) draw(a *App, c *canvas) {
	keys := []button{{do: FullScreen, word: "full screen"}, {do: Keys, word: "keys"}, {do: Back, word: "leave"}}
	if s.asking {
		keys = []button{{do: Go, word: "leave"}, {do: Back, word: "stay"}}
	}
	c.head("drillbay", nil, keys...)
	left := Rect{c.margin, c.headHeight() + c.px(20), c.px(736), c.Height}
	players := a.d.Book.Players()
	if s.asking {
		s.drawLeave(c, left)
	} else {
		s.drawGo(c, left, players)
	}
	y := left.Y + c.px(232) + c.px(12)
	rows := s.rows(a)
	foot := c.Height - c.px(44)
	row := math.Floor((foot - y) / float64(len(rows)))
	for i, r := range rows {
		mid := y + row/2
		box := Rect{left.X, y + 2, left.W, row - 4}
		end := c.key(left.X, mid-c.keyHeight(c.heading)/2, c.heading, r.do.Cap(), Ink)
		base := mid + math.Round(c.heading*CapHeight/2)
		x := max(left.X+c.px(64), end+c.px(16))
		end = c.text(x, base, r.word, c.heading, Bold, Ink)
		x = max(left.X+c.px(236), end+c.px(20))
		c.fitted(x, base, left.Right()-x, r.what, c.body, c.small, Regular, Quiet)
		c.press(box, r.do, 0)
		if s.row == i+1 {
			c.frame(box.Inset(-c.stroke(3)), Ink, c.stroke(3), 4)
		} else if i < len(rows)-1 {
			c.rule(left.X, left.Right(), y+row)
		}
		y += row
	}
	c.text(c.margin, c.Height-c.px(20), "All of it stays on this laptop. drillbay opens no network connection.", c.small, Regular, Quiet)
	s.drawBay(a, c, Rect{c.px(792), left.Y, c.Width - c.px(792) - c.margin, c.Height - left.Y - c.px(16)})
}

// drawGo draws the one thing most starts want.
func (s *startScreen) drawGo(c *canvas, left Rect, players []book.PlayerLine) {
	box := Rect{left.X, left.Y, left.W, c.px(224)}
	c.fill(box, Ink, 4)
	if s.row == 0 {
		c.frame(box.Inset(-c.stroke(6)), Ink, c.stroke(3), 6)
	}
	c.press(box, Go, 0)
	x, inner := box.X+c.px(24), box.W-c.px(48)
	first, name, line := "Go on with", "", "First set: a rung of the ladder, ten reps."
	if len(players) == 0 {
		first, name, line = "Begin with a", "new player", "A name and the hand are enough. Then ten reps."
	} else {
		name = players[0].Player.Name
		if players[0].Line != "" {
			line = players[0].Line
		}
	}
	c.text(x, box.Y+c.px(42), first, c.heading, Regular, Page)
	size, _ := c.ruler.Fit(name, c.px(105), c.px(60), Bold, inner)
	c.text(x, box.Y+c.px(140), c.ruler.Cut(name, size, Bold, inner), size, Bold, Page)
	size, _ = c.ruler.Fit(line, c.heading, c.small, Regular, inner)
	c.text(x, box.Bottom()-c.px(30), c.ruler.Cut(line, size, Regular, inner), size, Regular, Page)
	w := c.keyWidth("Enter", c.heading)
	c.key(box.Right()-c.px(24)-w, box.Y+c.px(20), c.heading, "Enter", Page)
}

func (s *startScreen) drawLeave(c *canvas, left Rect) {
	box := Rect{left.X, left.Y, left.W, c.px(224)}
	c.fill(box, Ink, 4)
	x := box.X + c.px(24)
	c.text(x, box.Y+c.px(96), "Leave drillbay?", c.px(60), Bold, Page)
	c.text(x, box.Y+c.px(136), "Every rep you were told about is saved.", c.heading, Regular, Page)
	y := box.Bottom() - c.px(58)
	end := c.key(x, y, c.heading, "Enter", Page)
	c.press(Rect{x, y - 4, c.px(200), c.px(48)}, Go, 0)
	end = c.text(end+c.px(12), y+c.px(27), "leave", c.heading, Regular, Page) + c.px(40)
	c.press(Rect{end, y - 4, c.px(200), c.px(48)}, Back, 0)
	end = c.key(end, y, c.heading, "Esc", Page)
	c.text(end+c.px(12), y+c.px(27), "stay", c.heading, Regular, Page)
}

// drawBay draws what the camera sees, what is in use, and the cautions.
func (s *startScreen) drawBay(a *App, c *canvas, r Rect) {
	// The cautions come first: the picture takes what they leave.
	head, lines := a.panel()
	text := c.px(24) + 3*math.Round(c.body*1.5) + c.px(38) + c.px(34) + panelTall(c, lines, c.small, r.W-c.px(60)) + c.px(8)
	tall := max(min(math.Round(r.W*9/16), math.Floor(r.H-text)), c.px(120))
	pic := Rect{r.X, r.Y, r.W, tall}
	y := pic.Bottom()
	if p := a.live(0, liveSmall); p != nil {
		at := c.show(0, p, pic, Rect{})
		word := "live"
		if a.d.Virtual {
			word = "virtual bay, drawn"
		}
		c.tag(at.X+c.px(12), at.Y+c.px(10), word)
	} else {
		c.fill(pic, Plate, 0)
		c.middle(pic.X+pic.W/2, pic.Y+pic.H/2, "no picture yet", c.heading, Regular, Quiet)
	}
	line := func(name, what string) {
		y += math.Round(c.body * 1.5)
		x := max(c.text(r.X, y, name, c.body, Bold, Ink)+math.Round(c.body*0.5), r.X+c.px(92))
		c.fitted(x, y, r.Right()-x, what, c.body, c.small, Regular, Quiet)
	}
	lens := "lens not set: press L"
	if a.bay.Set {
		lens = "lens set"
		if a.bay.Name != "" {
			lens += ", " + a.bay.Name
		}
	}
	line("Bay", lens)
	line("Camera", said(a.d.Camera, "none found"))
	line("Sound", said(a.d.Sound, "none: verdicts are shown only"))
	s.drawPanel(c, Rect{r.X, y + c.px(24), r.W, r.Bottom() - y - c.px(24)}, head, lines)
}

// panel is the session that Enter begins, or, before the first one, the
// cautions.
func (a *App) panel() (head string, lines []string) {
	if players := a.d.Book.Players(); len(players) > 0 {
		lines := a.session(players[0])
		if plan := brief(lines); len(plan) > 0 {
			follow := "Press Enter, then follow the voice."
			if !a.speaks() {
				follow = "Press Enter, then follow the screen."
			}
			return fmt.Sprintf("Today, %.0f minutes", a.setup.Minutes), append(append(plan, nonEmpty(reason(lines))...), follow)
		}
		if sheet := a.d.Book.Progress(players[0].Player.ID); a.d.Virtual && len(sheet.Sessions) > 0 {
			r := here(sheet.Rungs)
			next := []string{fmt.Sprintf("%s: %s", drills.Count(r.Drill.Reps, "rep"), drills.LowerFirst(r.Drill.Name)), plain(sheet.Why)}
			return "Next", append(next, shortCautions()...)
		}
	}
	return "Before the first swing", shortCautions()
}

// panelTall is the height of the lines of a panel.
func panelTall(c *canvas, lines []string, size, width float64) (tall float64) {
	for _, l := range lines {
		tall += float64(len(c.ruler.Wrap(l, size, Regular, width)))*math.Round(size*1.32) + c.px(4)
	}
	return tall
}

func (s *startScreen) drawPanel(c *canvas, r Rect, head string, lines []string) {
	c.fill(r, Plate, 4)
	y := r.Y + c.px(38)
	c.text(r.X+c.px(20), y, head, c.heading, Bold, Ink)
	y += c.px(34)
	size := c.body
	for size > c.small && panelTall(c, lines, size, r.W-c.px(60)) > r.Bottom()-y {
		size--
	}
	for _, l := range lines {
		if y+float64(len(c.ruler.Wrap(l, size, Regular, r.W-c.px(60)))-1)*math.Round(size*1.32) > r.Bottom()-c.px(8) {
			break
		}
		d := math.Round(size * 0.4)
		c.fill(Rect{r.X + c.px(20), y - math.Round(size*0.55), d, d}, Quiet, 0)
		y = c.paragraph(r.X+c.px(40), y, r.W-c.px(60), l, size, Regular, Ink) + c.px(4)
	}
}

func said(f func() string, none string) string {
	if f != nil {
		if s := f(); s != "" {
			return s
		}
	}
	return none
}
