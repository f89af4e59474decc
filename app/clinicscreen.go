package app

import (
	"fmt"
	"math"

	"drillbay/app/widget"
	"drillbay/camera/sight"
	"drillbay/drills"
	"drillbay/drills/book"
)

// clinicScreen rotates a group: who steps in and who is next for the mat, who
// needs the coach for the coach.
type clinicScreen struct {
	list   widget.List
	picked int // the number of the player whom the arrows went to, 0: the frame is on who is up
	ending bool
}

func (*clinicScreen) name() string { return "clinic" }

// openClinic opens the group, or the form for one.
func (a *App) openClinic() {
	if _, ok := a.d.Book.Clinic(); ok {
		a.open(&clinicScreen{})
		return
	}
	a.openRoster(false)
}

func (s *clinicScreen) act(a *App, d Do, n int) {
	sheet, _ := a.d.Book.Clinic()
	if s.ending {
		s.end(a, d)
		return
	}
	lines := ordered(sheet.Players)
	s.follow(lines)
	switch d {
	case Back:
		if a.unticked(sheet) {
			a.leavePractice() // it had not begun
			return
		}
		a.back()
	case Up, PageBack:
		s.pick(lines, s.list.Chosen()-1)
	case Down, Next:
		s.pick(lines, s.list.Chosen()+1)
	case Choose:
		s.pick(lines, n)
	case Number:
		a.clinicDo(Number, n)
	case NextPlayer, PageOn:
		a.clinicDo(NextPlayer, 0)
	case More, Less:
		if s.list.Chosen() < len(lines) {
			a.clinicDo(d, lines[s.list.Chosen()].Number)
		}
	case Join:
		a.openRoster(true)
	case Report:
		a.work("Writing the report of the clinic", Job{Do: Clinic})
	case EndGroup:
		s.ending = true
	case Go, Clinic:
		if d == Clinic && a.group == nil {
			a.tell("clinic", "Nobody has stepped in yet.", "Enter begins with the one who is up.")
			return
		}
		switch {
		case a.group == nil:
			a.stepIn()
		case a.unticked(sheet):
			a.openCheck(a.d.Snapshot().Player)
		default:
			a.back() // to the practice that goes on
		}
	}
}

// pick puts the frame on a row; it stays on that player then, wherever the row goes.
func (s *clinicScreen) pick(lines []book.ClinicLine, row int) {
	if s.list.Choose(row); s.list.Chosen() < len(lines) {
		s.picked = lines[s.list.Chosen()].Number
	}
}

// follow keeps the frame on the player who was picked, or on who is up.
func (s *clinicScreen) follow(lines []book.ClinicLine) {
	for i, p := range lines {
		if p.Number == s.picked || s.picked == 0 && p.Up {
			s.list.Choose(i)
		}
	}
}

// unticked reports that the one who is up has stepped in and has the set-up still to tick.
func (a *App) unticked(sheet book.ClinicSheet) bool {
	return a.group != nil && sheet.UpID != "" && a.d.Snapshot().Player.ID == sheet.UpID && a.unchecked(sheet.UpID)
}

// end ends the clinic once it was asked for twice.
func (s *clinicScreen) end(a *App, d Do) {
	switch d {
	case Go, PageOn:
		if a.waits() {
			return
		}
		a.store(a.d.Book.ClinicEnd, func(err error) {
			if err != nil {
				a.tell("clinic", drills.Sentence(err.Error()), "")
				return
			}
			if a.group != nil {
				a.finish()
			}
			a.leave()
			a.stack = a.stack[:1]
		})
	case Back, PageBack:
		s.ending = false
	}
}

// ordered puts those who need the coach on top, then the order of turns.
func ordered(list []book.ClinicLine) (out []book.ClinicLine) {
	for _, p := range list {
		if p.Needs != "" {
			out = append(out, p)
		}
	}
	for _, p := range list {
		if p.Needs == "" {
			out = append(out, p)
		}
	}
	return out
}

func (s *clinicScreen) draw(a *App, c *canvas) {
	sheet, ok := a.d.Book.Clinic()
	if !ok {
		// It was ended elsewhere.
		c.head("Clinic", nil, button{do: Back, word: "back"})
		c.text(c.margin, c.headHeight()+c.px(120), "There is no group.", c.title, Bold, Ink)
		return
	}
	c.again(10) // the waits grow
	facts := []string{fmt.Sprintf("%d players", len(sheet.Players)), sheet.Group}
	word := "practise"
	switch {
	case a.unticked(sheet):
		word = "set-up check"
	case a.group != nil:
		word = "go on"
	}
	keys := []button{{do: Go, word: "end it"}, {do: Back, word: "go on"}}
	if !s.ending {
		// The last ones stay where there is little room: how to go on above all.
		keys = []button{{do: NextPlayer, word: "next player"}, {do: More, word: "has come"}, {do: Less, word: "has left"}, {do: Join, word: "join"}, {do: Report, word: "report"}, {do: EndGroup, word: "end"}, {do: Go, word: word}, {do: Back, word: "back"}}
	}
	c.head("Clinic", facts, keys...)
	snap := a.d.Snapshot()
	cue := a.turnCue()
	switch {
	case s.ending:
		cue = "End it? Enter"
	case sheet.Up == "":
		cue = "Nobody is here"
	case cue != "":
	case a.group != nil && snap.Ready && snap.Player.ID == sheet.UpID && snap.Phase != sight.Away:
		cue = c.ofName(sheet.Up, " is up")
	default:
		cue = c.calling(sheet.Up)
	}
	bar := c.bar(cue)
	left := Rect{c.margin, c.headHeight() + c.px(8), c.px(536), bar - c.headHeight() - c.px(8)}
	s.drawTurn(c, left, sheet)
	x := left.Right() + c.px(40)
	s.drawList(c, Rect{x, left.Y, c.Width - c.margin - x, left.H}, sheet)
}

// calling is the cue that calls a player.
func (c *canvas) calling(name string) string { return c.ofName(name, ", step in") }

// ofName is a cue about a player; a long name gives way by its last letters, never the
// words.
func (c *canvas) ofName(name, words string) string {
	size := min(c.floor, c.mat)
	return c.ruler.Cut(name, size, Bold, c.Width-2*c.margin-c.ruler.Width(words, size, Bold)) + words
}

// drawTurn writes who is up and who is next, read from the mat.
func (s *clinicScreen) drawTurn(c *canvas, r Rect, sheet book.ClinicSheet) {
	floor := min(c.floor, c.mat)
	y := r.Y + c.px(28)
	title := "up now"
	if s.ending {
		title = "End the clinic?"
	}
	c.text(r.X, y, title, c.heading, Regular, Quiet)
	put := func(x, size float64, s string, space float64) {
		fit, ok := c.ruler.Fit(s, size, min(floor, size), Bold, r.Right()-x)
		if !ok {
			s = c.ruler.Cut(s, fit, Bold, r.Right()-x)
		}
		y += math.Round(size*CapHeight) + space
		c.text(x, y, s, fit, Bold, Ink)
	}
	rest := r.Bottom() - y
	big := min(math.Round(1.4*c.mat), math.Floor((rest-c.px(60))/(4*0.98)))
	mid := min(c.mat, big)
	gap := math.Round((rest - CapHeight*(big+3*mid)) / 5.4)
	if s.ending {
		c.paragraph(r.X, r.Y+c.px(28)+c.title*2, r.W, "The turns end. Players and reps are kept; a new clinic begins with a list of names.", c.heading, Regular, Quiet)
		end := c.key(r.X, r.Bottom()-c.px(80), c.heading, "Enter", Ink)
		end = c.text(end+c.px(12), r.Bottom()-c.px(53), "end it", c.heading, Regular, Ink) + c.px(40)
		end = c.key(end, r.Bottom()-c.px(80), c.heading, "Esc", Ink)
		c.text(end+c.px(12), r.Bottom()-c.px(53), "go on", c.heading, Regular, Ink)
		return
	}
	if len(sheet.Stations) > 1 {
		s.drawStations(c, Rect{r.X, y, r.W, rest}, sheet)
		return
	}
	put(r.X, big, sheet.Up, gap)
	put(r.X, mid, sheet.UpLine, gap)
	put(r.X, mid, sheet.UpReps, gap)
	y += math.Round(gap * 0.9)
	c.rule(r.X, r.Right(), y)
	x := c.text(r.X, y+c.heading*1.3, "then", c.heading, Regular, Quiet) + c.px(36)
	put(x, mid, said(func() string { return sheet.Then }, "nobody"), gap*0.8)
}

// drawStations writes who is where, the camera first, and who comes to it next.
func (s *clinicScreen) drawStations(c *canvas, r Rect, sheet book.ClinicSheet) {
	least := min(c.floor, c.mat)
	rows := float64(len(sheet.Stations)) + 0.5
	size := min(c.mat, math.Floor((r.H-c.heading*1.6*(rows+0.5))/(rows+0.5)))
	size = max(size, c.title)
	y := r.Y
	put := func(label, name, more string) {
		y += math.Round(c.heading * 1.5)
		end := c.text(r.X, y, label, c.heading, Regular, Quiet)
		c.before(max(r.Right(), end), y, more, c.heading, Bold, Ink)
		fit, ok := c.ruler.Fit(name, size, min(least, size), Bold, r.W)
		if !ok {
			name = c.ruler.Cut(name, fit, Bold, r.W)
		}
		y += math.Round(size * 0.92)
		c.text(r.X, y, name, fit, Bold, Ink)
		y += math.Round(size * 0.14)
	}
	for _, l := range sheet.Stations {
		label, more := l.Name, ""
		if l.Camera {
			label, more = l.Name+", the camera", sheet.UpLine+", "+sheet.UpReps
		}
		if sheet.Up == "" {
			more = ""
		}
		put(label, said(func() string { return l.Who }, "nobody"), more)
	}
	y += math.Round(c.heading * 0.5)
	c.rule(r.X, r.Right(), y)
	x := c.text(r.X, y+math.Round(c.heading*1.4), "next at the camera", c.heading, Regular, Quiet) + c.px(20)
	then := said(func() string { return sheet.Then }, "nobody")
	c.text(x, y+math.Round(c.heading*1.4), c.ruler.Cut(then, c.heading, Bold, r.Right()-x), c.heading, Bold, Ink)
}

// drawList is the coach's half: those who need the coach, then the turns.
func (s *clinicScreen) drawList(c *canvas, r Rect, sheet book.ClinicSheet) {
	lines := ordered(sheet.Players)
	cols := struct{ name, rung, left, right, count, waits float64 }{
		r.X + c.px(48), r.X + c.px(236), r.X + c.px(270), r.X + c.px(490), r.X + c.px(556), r.Right(),
	}
	// Long names take of the scale what it can give.
	longest := 0.0
	for _, p := range lines {
		longest = max(longest, c.ruler.Width(p.Name, c.body, Bold)+c.px(21))
	}
	words := c.ruler.Width("inside", c.small, Regular) + c.ruler.Width("outside", c.small, Regular) + c.small
	more := max(min(longest-(cols.rung-cols.name), c.px(100), cols.right-cols.left-words), 0)
	cols.rung, cols.left = cols.rung+more, cols.left+more
	y := r.Y + c.px(26)
	head := func(x float64, s string, role Role) { c.text(x, y, s, c.small, Regular, role) }
	head(cols.name, "player", Quiet)
	c.middle(cols.rung, y, "rung", c.small, Regular, Quiet)
	a := axis{left: cols.left, right: cols.right, hand: drills.Right}
	head(cols.left, "inside", Inside)
	c.before(cols.right, y, "outside", c.small, Regular, Outside)
	c.before(cols.count, y, "in line", c.small, Regular, Quiet)
	c.before(cols.waits, y, "waits", c.small, Regular, Quiet)
	y += c.px(12)
	row := max(math.Round(c.body*2), c.px(42))
	needy := c.needyRow(row)
	view := max(int((r.Bottom()-y-c.px(30)-2*c.px(26)-2*(needy-row))/row), 1)
	s.list.Fit(len(lines), view)
	s.follow(lines)
	from, to := s.list.Seen()
	group := -1
	for i := from; i < to; i++ {
		p := lines[i]
		g := 1
		if p.Needs != "" {
			g = 0
		}
		if g != group {
			group = g
			box := Rect{r.X, y, r.W, c.px(26)}
			if g == 0 {
				c.fill(box, Ink, 0)
				c.text(r.X+c.px(12), y+c.px(19), "Needs you", c.small, Bold, Page)
			} else {
				c.fill(box, Plate, 0)
				c.text(r.X+c.px(12), y+c.px(19), "In turn", c.small, Bold, Ink)
			}
			y += c.px(26)
		}
		tall := row
		if p.Needs != "" {
			tall = needy
		}
		s.drawLine(c, Rect{r.X, y, r.W, tall}, p, a, i == s.list.Chosen(), cols.name, cols.rung, cols.count)
		c.press(Rect{r.X, y, r.W, tall}, Choose, i)
		y += tall
	}
	foot := r.X
	if n := s.list.Below(); n > 0 {
		foot = c.text(r.X, y+c.px(22), fmt.Sprintf("%d more: arrow down", n), c.small, Regular, Quiet) + c.px(24)
	}
	for _, p := range lines {
		if p.Longest && !p.Up && p.Waits != "0 min" {
			said := ", " + p.Waits
			name := c.ruler.Cut(p.Name, c.small, Medium, r.Right()-foot-c.ruler.Width("Waits longest: "+said, c.small, Medium))
			c.text(foot, y+c.px(22), "Waits longest: "+name+said, c.small, Medium, Ink)
			return
		}
	}
}

// needyRow is the height of a row that also says why a player needs the coach, where a
// usual row is so high.
func (c *canvas) needyRow(row float64) float64 {
	return math.Round(max(row+c.px(14), (c.body*CapHeight/2+c.small*1.6)/0.64))
}

func (s *clinicScreen) drawLine(c *canvas, r Rect, p book.ClinicLine, a axis, chosen bool, name, rung, count float64) {
	mid := r.Y + r.H/2
	if p.Needs != "" {
		mid = r.Y + math.Round(r.H*0.36)
	}
	base := mid + math.Round(c.body*CapHeight/2)
	if p.Number < 10 {
		c.key(r.X, mid-c.keyHeight(c.small)/2, c.small, fmt.Sprint(p.Number), Ink)
	} else {
		c.middle(r.X+c.keyWidth("9", c.small)/2, mid+math.Round(c.small*CapHeight/2), fmt.Sprint(p.Number), c.small, Medium, Ink)
	}
	named, _ := c.ruler.Fit(p.Name, c.body, c.small, Bold, rung-name-c.px(20))
	c.text(name, base, c.ruler.Cut(p.Name, named, Bold, rung-name-c.px(20)), named, Bold, Ink)
	if p.Rung > 0 {
		c.middle(rung, base, fmt.Sprint(p.Rung), c.body, Regular, Ink)
	}
	if p.Needs != "" {
		c.text(name, base+math.Round(c.small*1.25), c.ruler.Cut(p.Needs, c.small, Regular, r.Right()-name-c.px(20)), c.small, Regular, Quiet)
	}
	weight := Regular
	if p.Up {
		weight = Bold
	}
	waits := p.Waits
	switch {
	case p.Up:
		waits = "up"
	case p.Longest && waits != "0 min":
		weight = Bold
	}
	room := r.Right() - count - c.px(12)
	size, _ := c.ruler.Fit(waits, c.body, 0.7*c.small, weight, room)
	c.before(r.Right(), base, c.ruler.Cut(waits, size, weight, room), size, weight, Ink)
	if len(p.Reps) == 0 {
		c.middle((a.left+a.right)/2, base, "no reps yet", c.small, Regular, Quiet)
	} else {
		a.hand = p.Hand
		if p.Hand == drills.Left {
			// The column's sides are those of a right-hander.
			a.hand = drills.Right
		}
		half := c.px(13)
		c.band(a, mid-half, mid+half, drills.Band)
		for _, rep := range p.Reps {
			if degrees(rep) == "" {
				continue
			}
			x := a.at(rep.ShaftLine.Value)
			if rep.Manner == drills.Placed {
				c.frame(Rect{x - c.px(5), mid - c.px(5), c.px(10), c.px(10)}, Ink, max(2, c.px(2)), 0)
				continue
			}
			if rep.Manner == drills.Unsure {
				c.add(Item{Shape: Ring, Role: onPage().of(rep.Verdict), X: x, Y: mid, R: c.px(5), Thick: max(2, c.px(2))})
				continue
			}
			c.disc(x, mid, c.px(5), onPage().of(rep.Verdict))
		}
		c.before(count, base, fmt.Sprintf("%d/%d", p.Counted, p.Of), c.body, Regular, Ink)
	}
	if chosen {
		c.frame(Rect{r.X - 6, r.Y + 1, r.W + 12, r.H - 2}, Ink, c.stroke(3), 4)
		return
	}
	c.rule(r.X, r.Right(), r.Bottom()-1)
}
